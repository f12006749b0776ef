"""TOML is bounded in depth before it is parsed, whatever holds the deep place."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pieces.files import toml_text
from pieces.files.toml_text import DEEPEST, parse_toml

DEEP = {
    "a dotted key": ".".join("a" * (DEEPEST + 1)) + " = 1",
    "a dotted key of quoted parts": " . ".join(['"a.b"'] * (DEEPEST + 1)) + " = 1",
    "a table": f"[{'.'.join('a' * (DEEPEST + 1))}]",
    "a table of a list": f"[[{'.'.join('a' * (DEEPEST + 1))}]]",
    "a list": f"a = {'[' * (DEEPEST + 1)}{']' * (DEEPEST + 1)}",
    "a table in braces": "a = " + "{a = " * (DEEPEST + 1) + "1" + "}" * (DEEPEST + 1),
    "behind a string that looks open": "a = '\"'\nb = " + "[" * 99,
    "behind a long string": 'a = """"x""""\nb = ' + "[" * 99,
}
FLAT = {
    "a text": f'a = "{"x." * 99}{"[" * 99}"',
    "a long text": f'a = """\n{"x." * 99}{"[" * 99}\n"""',
    "a text in single quotes": f"a = '{'[' * 99}'",
    "a long text in single quotes": f"a = '''{'[' * 99}'''",
    "a remark": f"a = 1 # {'x.' * 99}{'[' * 99}",
    "many lists": "a = [" + "[1.5, 2.5], " * 99 + "]",
    "the deepest key": ".".join("a" * DEEPEST) + " = 1",
    "a key of dots": f'"{"." * 99}" = 1',
}


@pytest.mark.parametrize("text", DEEP.values(), ids=DEEP)
def test_what_nests_too_deeply_is_never_parsed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    """The parser, which takes memory with the square of the depth, does not see it."""
    monkeypatch.setattr(toml_text, "tomllib", None)

    with pytest.raises(ValueError, match="the list has keys or brackets nested too deeply"):
        parse_toml(text, "the list", error=ValueError)


@pytest.mark.parametrize("text", FLAT.values(), ids=FLAT)
def test_what_only_looks_deep_is_read(text: str) -> None:
    """Dots and brackets in strings and remarks count for nothing."""
    assert parse_toml(text, "the list", error=ValueError) == tomllib.loads(text)


@given(st.text(alphabet="ab\"'\\#[]{}=.,\n 1", max_size=60))
def test_whatever_is_shallow_is_left_to_the_parser(text: str) -> None:
    """Sixty letters never reach the limit unless so many are brackets or dots."""
    try:
        wanted = tomllib.loads(text)
    except ValueError:
        return
    assert parse_toml(text, "the list", error=ValueError) == wanted
