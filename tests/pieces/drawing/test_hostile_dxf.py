"""DXF files by people who mean harm, or by programs gone wrong: refused soon, in one sentence."""

import contextlib
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from hypothesis import given, settings

from pieces.drawing.dxf_file import parse_dxf, read_dxf
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError, PiecesError
from tests.pieces.drawing.test_dxf_read import SQUARE, dxf, front, on, text_of
from tests.strategies import damaged


def _insert_loop() -> bytes:
    document = ezdxf.new("R2000", units=4)
    for name, other in (("A", "B"), ("B", "A")):
        document.blocks.new(name).add_blockref(other, (1, 1))
    document.modelspace().add_blockref("A", (0, 0))
    return text_of(document)


def _insert_bomb() -> bytes:
    """Three layers of 80 inserts each: 512,000 entities, if they were made."""
    document = ezdxf.new("R2000", units=4)
    document.blocks.new("B0").add_line((0, 0), (1, 1))
    for i in range(1, 4):
        block = document.blocks.new(f"B{i}")
        for _ in range(80):
            block.add_blockref(f"B{i - 1}", (0, 0))
    document.modelspace().add_blockref("B3", (0, 0))
    return text_of(document)


def _long_line() -> bytes:
    head = "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"
    head += "0\nSECTION\n2\nENTITIES\n"
    kind = "0\nLWPOLYLINE\n5\nA1\n100\nAcDbEntity\n8\n1\n100\nAcDbPolyline\n"
    points = "".join(f"10\n{i}\n20\n{i % 2}\n" for i in range(100_001))
    line = f"{kind}90\n100001\n70\n1\n{points}"
    return f"{head}{line}0\nENDSEC\n0\nEOF\n".encode()


def _far_away(block: Any) -> None:
    block.add_lwpolyline([(0, 0), (1e300, 0), (0, 1e300)], close=True, dxfattribs=on("1"))


def _huge_circle(block: Any) -> None:
    block.add_circle((0, 0), 9e8, dxfattribs=on("1"))


def _crossing(block: Any) -> None:
    block.add_lwpolyline([(0, 0), (9, 9), (9, 0), (0, 9)], close=True, dxfattribs=on("1"))


def _two_outlines(block: Any) -> None:
    for _ in range(2):
        block.add_lwpolyline(SQUARE, close=True, dxfattribs=on("1"))


def _wrong_quantity(block: Any) -> None:
    front(block)
    block.add_line((0, 40), (40, 40), dxfattribs=on("6"))


DRAWN: dict[str, tuple[Callable[[Any], None], str]] = {
    "an outline out of all measure": (_far_away, "measure"),
    "a circle as large as a country": (_huge_circle, "points|measure|lines"),
    "an outline that crosses itself": (_crossing, "crosses itself"),
    "two outlines in a block": (_two_outlines, "2 outlines"),
    "a mirror line off the outline": (_wrong_quantity, "corner of the outline"),
}
RAW: dict[str, tuple[Callable[[], bytes], str]] = {
    "nothing": (lambda: b"", "no DXF"),
    "another kind of file": (lambda: b"%PDF-1.4 hello", "no DXF"),
    "zeros": (lambda: bytes(10_000), "no DXF|closed line|unit"),
    "binary": (lambda: b"AutoCAD Binary DXF\r\n\x1a\x00", "binary"),
    "more than 20 MB": (lambda: b"0\n" * 11_000_000, "20 MB"),
    "a million lines and more": (lambda: b"0\n" * 1_000_001, "a million lines"),
    "a line of 100,001 points": (_long_line, "points; 100,000 are the limit"),
    "an insert loop": (_insert_loop, "circle"),
    "an insert bomb": (_insert_bomb, "multiply|shapes"),
}


@pytest.mark.parametrize("kind", DRAWN)
def test_a_wrong_drawing_is_refused(kind: str) -> None:
    """One sentence that says what is wrong."""
    draw, words = DRAWN[kind]
    _refused(dxf(draw), words)


@pytest.mark.slow
@pytest.mark.parametrize("kind", RAW)
def test_a_hostile_file_is_refused(kind: str) -> None:
    """In bounded time."""
    make, words = RAW[kind]
    _refused(make(), words)


def _refused(data: bytes, words: str) -> None:
    before = time.process_time()
    with pytest.raises(DrawingError) as refusal:
        parse_dxf(data)
    assert re.search(words, str(refusal.value)), str(refusal.value)
    assert len(str(refusal.value)) < 400
    assert time.process_time() - before < 30.0


def test_half_a_file_is_mended_or_refused() -> None:
    """Never read as something else: what is left has an outline that is whole, or none."""
    data = dxf(front)
    for share in (0.3, 0.6, 0.9, 0.97):
        with contextlib.suppress(DrawingError):
            (piece,) = parse_dxf(data[: int(len(data) * share)]).shapes
            assert piece.shape.outline_mm.tolist() == [list(corner) for corner in SQUARE]


def test_a_number_that_is_none_is_not_mended(capsys: pytest.CaptureFixture[str]) -> None:
    """A library would read 8u as 8; a piece would be cut wrong, so the file is refused."""
    data = dxf(front).replace(b"\n200.0\n", b"\n2u0.0\n")

    with pytest.raises(DrawingError, match="damaged"):
        parse_dxf(data)
    assert capsys.readouterr().err == ""


def test_the_sentence_names_the_file(tmp_path: Path) -> None:
    """A missing file, and a file that is no drawing."""
    (tmp_path / "a.dxf").write_text("hello")
    for path in (tmp_path / "a.dxf", tmp_path / "b.dxf", tmp_path):
        with pytest.raises(DrawingError, match=re.escape(str(path))):
            read_dxf(path)


def test_unequal_sides_are_refused() -> None:
    """Two right and one left cannot be said in a cut count; nothing is rounded."""

    def draw(block: Any) -> None:
        block.add_polyline2d(SQUARE, close=True, dxfattribs=on("1"))
        block.add_text("Quantity: 2,1", dxfattribs={"layer": "1", "insert": (9, 9)})

    with pytest.raises(DrawingError, match="2,1 cuts more on one side"):
        pattern_of(parse_dxf(dxf(draw)), name="x")


def test_an_unknown_dialect_is_refused() -> None:
    """With the ones there are."""
    with pytest.raises(DrawingError, match="standard or shifted"):
        parse_dxf(dxf(front), dialect="klingon")


FINE = dxf(front)
SCRAPS = [b"\n", b"0\n", b"1e999", b"nan", b"-1", b"INSERT", b"ENDSEC", b"\xff", b"\x00", b"FRONT"]


@settings(max_examples=40, deadline=None)
@given(damaged(FINE, SCRAPS))
def test_a_damaged_drawing_is_read_or_refused(data: bytes) -> None:
    """Whatever bytes are changed, left out or put in, nothing but a PiecesError comes of it."""
    with contextlib.suppress(PiecesError):
        pattern_of(parse_dxf(data), name="x")
