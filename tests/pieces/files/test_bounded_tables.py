"""Every reader of tables has a stated bound on names and counts, and every refusal is short."""

import pytest

from nesting.cli.asking import only_one
from nesting.cli.options import OptionError
from nesting.errors import MarkerFileError
from nesting.marker.marker_file import format_marker, parse_marker
from pieces.errors import MOST_LISTED, PatternFileError, PiecesError
from pieces.files.bounded_tables import (
    LONGEST_NAME,
    LONGEST_REMARK,
    MOST_NAMED,
    refuse_too_much,
)
from pieces.sheet.pattern_file import parse_pattern
from pieces.sheet.pattern_sheet import MOST_SIZES
from tests.nesting.cli.sheets import GOOD
from tests.nesting.draw.small_markers import open_marker

LONGEST_SENTENCE = 1_500
"""Letters: a dozen names of sixty, twice, and the words between."""


def sheet_of(sizes: int) -> str:
    """Return the tote in so many sizes."""
    names = [f"s{number}" for number in range(sizes)]
    head, body = GOOD.split("[pieces.body.sizes.one]")
    body, strap = body.split("[pieces.strap.sizes.one]")
    shape, between = body.split("\n\n")
    return "\n".join(
        [
            head.replace('["one"]', str(names).replace("'", '"')),
            *(f"[pieces.body.sizes.{name}]{shape}" for name in names),
            between,
            *(f"[pieces.strap.sizes.{name}]{strap}" for name in names),
        ]
    )


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("Tote of the [bold]prompter", "x" * (LONGEST_NAME + 1), "has 201 letters; 200 are the"),
        ('title = "Body"', f'title = "{"x" * 100_000}"', "of title has 100,000 letters"),
        ("[views.A]", f"[views.{'x' * 100_000}]", "has 100,000 letters"),
        ("[views.A]", f'[views.A]\nabout = "{"x" * 10_001}"', "10,000 are the limit"),
        ('["body", "strap"]', str(["body"] * 2001).replace("'", '"'), "pieces has 2,001 entries"),
        ("[views.A]", "[matching]" + "".join(f"\nm{n} = 1" for n in range(2000)), "2,001 entries"),
    ],
)
def test_a_sheet_with_too_long_a_name_or_too_many_is_refused(old: str, new: str, told: str) -> None:
    """With the number, the limit and the way out, in a sentence of a length to be read."""
    with pytest.raises(PatternFileError) as refusal:
        parse_pattern(GOOD.replace(old, new, 1))

    assert told in str(refusal.value)
    assert len(str(refusal.value)) < LONGEST_SENTENCE


def test_names_and_remarks_of_the_longest_are_read() -> None:
    """The limits themselves are allowed."""
    name, remark = "x" * LONGEST_NAME, "y" * LONGEST_REMARK
    sheet = GOOD.replace("Tote of the [bold]prompter", name)

    pattern = parse_pattern(sheet.replace("[views.A]", f'[views.A]\nabout = "{remark}"'))

    assert (pattern.name, pattern.views[0].about) == (name, remark)
    refuse_too_much({"many": ["x"] * MOST_NAMED, "points": [[1.0, 2.0]] * 9_999}, error=ValueError)


def test_sizes_are_bounded() -> None:
    """As many as any chart has, and no more."""
    assert len(parse_pattern(sheet_of(MOST_SIZES)).sizes) == MOST_SIZES
    with pytest.raises(PatternFileError, match="has 201 sizes; 200 are the limit"):
        parse_pattern(sheet_of(MOST_SIZES + 1))


@pytest.mark.slow
def test_vertices_are_bounded_together() -> None:
    """Three outlines that are each allowed."""
    points = "[[0, 0], " * 1 + "[1.0, 1.0], " * 99_999 + "]"
    sheet = GOOD.replace("[[0, 0], [40, 0], [40, 50], [0, 50]]", points)
    sheet = sheet.replace("[[0, 0], [10, 0], [10, 60], [0, 60]]", points)
    third = sheet.split("[pieces.strap]")[1].replace("strap", "third")

    with pytest.raises(PatternFileError, match="300,000 vertices together; 200,000 are the limit"):
        parse_pattern(f"{sheet}[pieces.third]{third}")


def test_refusals_list_a_dozen_names() -> None:
    """Whatever asks for one of many: the rest is a number."""
    pattern = parse_pattern(sheet_of(MOST_SIZES))
    told = []
    for ask in (
        lambda: pattern.size("x" * 200),
        lambda: pattern.pieces[0].shape("x" * 200),
        lambda: only_one("--size", "sizes", pattern, pattern.sizes),
    ):
        with pytest.raises((PiecesError, OptionError)) as refusal:
            ask()
        told.append(str(refusal.value))

    for sentence in told:
        assert f"and {MOST_SIZES - MOST_LISTED} more" in sentence
        assert len(sentence) < LONGEST_SENTENCE


def test_an_unknown_key_is_told_of_shortly() -> None:
    """A key of two hundred letters among those that are known."""
    with pytest.raises(PatternFileError) as refusal:
        parse_pattern(GOOD.replace("[views.A]", f"[views.A]\n{'k' * LONGEST_NAME} = 1"))

    assert "..." in str(refusal.value)
    assert len(str(refusal.value)) < 200


@pytest.mark.parametrize("letters", [601, 100_000])
def test_a_marker_with_too_long_a_name_is_refused(letters: int) -> None:
    """Drawing it took minutes."""
    marker = open_marker()
    text = format_marker(marker).replace(f'"{marker.pattern}"', f'"{"n" * letters}"', 1)

    with pytest.raises(MarkerFileError, match=f"has {letters:,} letters; 600 are the limit"):
        parse_marker(text)
