"""Drawings by people who mean harm, or by programs gone wrong: refused soon, in one sentence."""

import contextlib
import re
import time
from pathlib import Path

import pytest
from hypothesis import given, settings

from pieces.drawing.svg_file import parse_svg, read_svg
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError, PiecesError
from tests.pieces.drawing.drawings import drawn, svg
from tests.pieces.drawing.inkscape import DRAWN
from tests.strategies import damaged

RECT = '<rect id="outline" width="90" height="90"/>'
BOMB = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "lol">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&c;</text></svg>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>"""


def _nested_uses() -> bytes:
    """Eight layers of eight clones each: 16 million shapes, if they were made."""
    layers = '<rect id="l0" width="9" height="9"/>'
    for i in range(1, 9):
        layers += f'<g id="l{i}">' + f'<use href="#l{i - 1}"/>' * 8 + "</g>"
    return svg(f'<defs>{layers}</defs><use href="#l8"/>')


def _wide_uses() -> bytes:
    """Clones of a group of 3,000 empty groups, 5,000 times."""
    return svg(f'<g id="e">{"<g/>" * 3000}</g>' + '<use href="#e"/>' * 5000)


HOSTILE = {
    "an entity bomb": (BOMB, "entities"),
    "an outside entity": (OUTSIDE, "entities"),
    "a script": (svg(f"{RECT}<script>alert(1)</script>"), "script"),
    "an event": (svg('<rect onload="x()" width="9" height="9"/>'), "script"),
    "a clone from outside": (svg('<use href="https://example.org/a#b"/>'), "nothing is fetched"),
    "a clone of itself": (svg('<g id="a"><use href="#a"/></g>'), "circle"),
    "clones of clones": (_nested_uses(), "clones|shapes"),
    "clones of wide groups": (_wide_uses(), "multiply|shapes"),
    "groups in groups": (svg("<g>" * 5000 + "</g>" * 5000), "64 deep"),
    "a million elements": (svg("<a/>" * 1_000_000), "elements"),
    "a million shapes": (svg('<path d="M0 0"/>' * 150_000), "shapes"),
    "20,000 outlines": (svg('<path id="outline" d="M0 0h9v9z"/>' * 19_999), "pieces"),
    "20,000 groups": (svg('<g id="piece"><path d="M0 0h9v9z"/></g>' * 19_999), "pieces"),
    "5,000 squares side by side": (
        svg("".join(f'<rect x="{20 * i}" width="9" height="9"/>' for i in range(5_000))),
        "pieces",
    ),
    "a million points": (svg(f'<path d="M0 0{"l1 1" * 1_000_000}"/>'), "points"),
    "a million corners": (svg(f'<polygon points="{"1 2 " * 1_000_000}"/>'), "points"),
    "20 MB": (svg(f"{RECT}<!--{'x' * 20_000_000}-->"), "20 MB"),
    "no XML": (b"%PDF-1.4", "not valid XML"),
    "nothing": (b"", "not valid XML"),
    "half a file": (svg(RECT)[:-20], "not valid XML"),
    "another XML": (b"<html/>", "no SVG"),
    "an unknown encoding": (b'<?xml version="1.0" encoding="klingon"?><svg/>', "XML"),
    "no shapes": (svg(""), "no closed line"),
    "a drawing in a drawing": (svg("<svg/>"), "inside it"),
    "moved by style": (svg('<rect style="transform: scale(2)" width="9" height="9"/>'), "style"),
    "sizes beyond all measure": (svg('<rect width="1e30" height="9"/>'), "measure"),
    "scaled beyond all measure": (svg(f'<g transform="scale(1e200)">{RECT}</g>'), "measure"),
    "a page of no size": (svg(RECT, size='width="0mm" height="0mm"'), "page size"),
    "a page of light years": (svg(RECT, size='width="1e9mm" height="5mm"'), "page size"),
    "a box that is none": (svg(RECT, size='viewBox="0 0 0 0"'), "no sensible size"),
    "a box of words": (svg(RECT, size='viewBox="a b c d"'), "not four numbers"),
    "a width that is none": (svg(RECT, size='width="wide"'), "no length"),
    "an outline that crosses": (svg('<path id="outline" d="M0 0L9 9H0L9 0z"/>'), "crosses itself"),
    "two outlines": (svg(f'<g id="piece a">{RECT}{RECT}</g>'), "two outlines|2 outlines"),
    "a piece in a piece": (
        svg(f'<g id="piece a"><g id="piece b">{RECT}</g></g>'),
        "inside another piece",
    ),
    "a fold off the outline": (
        svg(f'{RECT}<path id="fold" d="M40 40V80"/>'),
        "corner of the outline",
    ),
    "a match point without a name": (svg(f'{RECT}<circle id="match" r="1"/>'), "has no name"),
    "two grainlines": (
        svg(RECT + '<path class="grain" d="M40 40V80"/>' * 2),
        "2 grainlines",
    ),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("kind", HOSTILE)
def test_it_is_refused_in_bounded_time(kind: str) -> None:
    """One sentence that says what is wrong; none takes more than a few seconds."""
    data, words = HOSTILE[kind]
    before = time.process_time()

    with pytest.raises(DrawingError) as refusal:
        parse_svg(data)

    assert re.search(words, str(refusal.value)), str(refusal.value)
    assert len(str(refusal.value)) < 400
    assert time.process_time() - before < 20.0


def test_the_sentence_names_the_file(tmp_path: Path) -> None:
    """A missing file, a folder, and a file that is no drawing."""
    (tmp_path / "a.svg").write_text("hello")
    for path in (tmp_path / "a.svg", tmp_path / "b.svg", tmp_path):
        with pytest.raises(DrawingError, match=re.escape(str(path))):
            read_svg(path)


def test_names_cannot_break_the_sheet() -> None:
    """Any letters in names, sizes and cloths are kept as they are."""
    body = f"""<g data-piece="a&quot;]%0A[x" data-size="&lt;M&gt;" data-cut="2 she;%253Bll">
    {RECT.replace('id="outline"', "")}</g>"""

    with pytest.raises(PiecesError, match="cut"):  # "ll" alone is no count
        pattern_of(drawn(body), name="x")
    pattern, _ = pattern_of(drawn(body.replace("she;", "she")), name="x")
    assert pattern.pieces[0].name == 'a"]\n[x'
    assert pattern.pieces[0].cuts[0].cloth == "she;ll"


FINE = DRAWN.read_bytes()
SCRAPS = [b'"', b"<", b">", b"/", b"NaN", b"1e999", b"-", b"M", b"a", b"&", b"\x00", b"\xff", b"z"]


@settings(max_examples=60, deadline=None)
@given(damaged(FINE, SCRAPS))
def test_a_damaged_drawing_is_read_or_refused(data: bytes) -> None:
    """Whatever bytes are changed, left out or put in, nothing but a PiecesError comes of it."""
    with contextlib.suppress(PiecesError):
        pattern_of(parse_svg(data), name="x")
