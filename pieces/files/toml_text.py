"""TOML from strangers: refused before parsing if it nests beyond all use."""

import re
import tomllib
from typing import Any

DEEPEST = 32
"""Parts of a dotted key, and brackets within brackets: a pattern sheet needs eight."""

# Bare words, strings of both kinds, and what may stand between the parts of a dotted key. All
# repeats are possessive: a text is read once, whatever it holds.
_STRING = r'"(?:[^"\\\n]|\\.)*+"?+|' r"'[^'\n]*+'?+"
_PART = rf"(?:[\w-]++|{_STRING})"
_TOKEN = re.compile(
    r'(?P<long>"""(?:[^"\\]|\\.|"(?!""))*+(?:"{3,5}+|\Z)|'
    r"'''(?:[^']|'(?!''))*+(?:'{3,5}+|\Z))|"
    r"(?P<comment>\#[^\n]*+)|"
    rf"(?P<key>{_PART}(?:[ \t]*+\.[ \t]*+{_PART})*+)|"
    r"(?P<opened>[\[{])|(?P<closed>[\]}])",
    re.DOTALL,
)
_STRINGS = re.compile(_STRING, re.DOTALL)


def parse_toml(text: str, what: str, *, error: type[Exception]) -> dict[str, Any]:
    """Return the tables of a TOML text.

    The parser of the standard library takes memory with the square of the parts of a dotted key,
    and calls itself for each bracket, so both are bounded before it sees the text.

    Parameters
    ----------
    text
        TOML.
    what
        What it should be, for the sentence: ``"the sheet"``.
    error
        Raised with the sentence.

    Raises
    ------
    Exception
        An ``error`` if it is no TOML, or nests deeper than :data:`DEEPEST`.
    """
    if _nests_too_deeply(text):
        raise error(
            f"{what} has keys or brackets nested too deeply to be read; {DEEPEST} levels are the "
            "limit, write fewer within each other"
        )
    try:
        return tomllib.loads(text)
    except RecursionError:  # deep keys within deep brackets; the bound makes it all but impossible
        raise error(f"{what} has brackets nested too deeply to be read; write fewer") from None
    except ValueError as problem:  # TOML syntax, and numbers of thousands of digits
        raise error(_syntax_words(problem, what)) from problem


def _nests_too_deeply(text: str) -> bool:
    """Tell whether a key has too many parts, or a bracket stands within too many."""
    depth = 0
    for token in _TOKEN.finditer(text):
        kind = token.lastgroup
        if kind == "opened":
            depth += 1
            if depth > DEEPEST:
                return True
        elif kind == "closed":
            depth = max(0, depth - 1)
        elif kind == "key":
            key = token[0]
            if key.count(".") >= DEEPEST and _STRINGS.sub("", key).count(".") >= DEEPEST:
                return True
    return False


def _syntax_words(problem: ValueError, what: str) -> str:
    place = re.search(r"\(at line (\d+), column (\d+)\)", str(problem))
    message = re.sub(r"\s*\(at [^)]*\)$", "", str(problem))
    message = message[:1].lower() + message[1:]
    twice = re.search(r"^cannot declare \((.*?),?\) twice$", message)
    if twice is not None:
        table = ".".join(re.findall(r"'(.*?)'", twice[1]))
        message = f"the table [{table}] stands twice"
    if "int_max_str_digits" in message:
        return f"{what} holds a number of thousands of digits; shorten it"
    if "at end of document" in str(problem):
        return f"the end of {what} is not valid TOML: {message}"
    if place is None:
        return f"{what} is not valid TOML: {message}"
    return f"line {place[1]}, column {place[2]} is not valid TOML: {message}"
