"""Drawings in SVG become pieces: by our convention, from an editor, from matplotlib, by a map."""

import io
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon

from pieces.drawing.mapping_file import parse_mapping
from pieces.drawing.svg_file import parse_svg, read_svg
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import DrawingError
from pieces.outline.polygon import area_mm2
from pieces.sheet.pattern_file import read_pattern
from tests.pieces.drawing.drawings import drawn, extent, svg
from tests.pieces.drawing.inkscape import DRAWN, draw_apron, find_inkscape
from tests.places import DEMO

FRONT = """
<g id="piece-front" data-size="M" data-cut="2 shell pair; 1 lining">
  <path id="outline" d="M10 10h100v200h-100z"/>
  <line class="grainline" x1="50" y1="180" x2="50" y2="40"/>
  <g class="notch"><circle cx="110" cy="60" r="1"/><path d="M5 100H15"/></g>
  <circle data-role="match point" data-name="side" cx="100" cy="100" r="1"/>
  <circle id="drill-2" cx="60" cy="100" r="1"/>
  <path id="line pocket" d="M30 100h30v40h-30z"/>
  <path class="fold" d="M10 210.4V10"/>
</g>
"""


def test_marks_of_a_piece_are_read_with_y_up() -> None:
    """The page is 400 mm tall, so y = 10 on the page is 390 mm."""
    (piece,) = drawn(FRONT).shapes
    shape = piece.shape

    assert (piece.name, piece.size) == ("front", "M")
    assert extent(shape) == [100, 200]
    assert shape.grainline.tail_mm == (50, 220)
    assert shape.grainline.head_mm == (50, 360)
    assert [mark.at_mm for mark in shape.notches] == [(110, 340), (10, 300)]
    assert [(mark.name, mark.at_mm) for mark in shape.match_points] == [("side", (100, 300))]
    assert [mark.at_mm for mark in shape.drill_holes] == [(60, 300)]
    assert [line.name for line in shape.internal_lines] == ["pocket"]
    assert len(shape.internal_lines[0].points_mm) == 5  # closed: the first point again


def test_a_fold_line_snaps_to_the_corner_it_nearly_meets() -> None:
    """It was drawn 0.4 mm too long."""
    (piece,) = drawn(FRONT).shapes

    assert piece.shape.fold_edge_mm == ((10, 190), (10, 390))


def test_cut_counts_of_a_drawing_reach_the_pattern() -> None:
    """Without the fold line, since a half piece cannot be a pair."""
    body = FRONT.replace('<path class="fold" d="M10 210.4V10"/>', "")
    pattern, notes = pattern_of(drawn(body), name="Tunic")

    cuts = [(cut.cloth, cut.count, cut.pair) for cut in pattern.piece("front").cuts]
    assert cuts == [("shell", 2, True), ("lining", 1, False)]
    assert (pattern.name, pattern.sizes, notes) == ("Tunic", ("M",), ())


@pytest.mark.parametrize(
    ("size", "wide_mm"),
    [
        ('width="500mm" height="400mm" viewBox="0 0 500 400"', 100.0),
        ('width="5in" height="4in" viewBox="0 0 500 400"', 25.4),
        ('width="1000mm" height="800mm" viewBox="0 0 500 400"', 200.0),
        ('width="480px" height="384"', 100 * 25.4 / 96),
        ('viewBox="0 0 500 400"', 100 * 25.4 / 96),
        ("", 100 * 25.4 / 96),
        ('width="50cm" viewBox="0 0 500 400"', 100.0),
        ('height="40cm" viewBox="0 0 500 400"', 100.0),
        ('width="100%" height="100%" viewBox="0 0 500 400"', 100 * 25.4 / 96),
        # the page is wider than the box, so the smaller scale holds
        ('width="900mm" height="400mm" viewBox="0 0 500 400"', 100.0),
        ('width="900mm" height="400mm" viewBox="0 0 500 400" preserveAspectRatio="none"', 180.0),
    ],
)
def test_the_page_says_how_large_a_unit_is(size: str, wide_mm: float) -> None:
    """A rectangle 100 units wide, on pages of all kinds."""
    (piece,) = drawn('<rect width="100" height="50"/>', size=size).shapes

    assert extent(piece.shape)[0] == pytest.approx(wide_mm)


def test_a_drawing_without_a_size_says_what_was_assumed() -> None:
    """And a person may say better."""
    body = svg('<rect width="100" height="50"/>', size='viewBox="0 0 500 400"')

    assert "1 px" in " ".join(parse_svg(body).notes)
    assert extent(parse_svg(body, unit_mm=10.0).shapes[0].shape) == [1000, 500]


@pytest.mark.parametrize(
    ("body", "area"),
    [
        ('<rect x="5" y="5" width="60" height="40"/>', 2400.0),
        ('<rect width="60" height="40" rx="10"/>', 2400.0 - 100.0 * (4.0 - np.pi)),
        ('<circle cx="100" cy="100" r="50"/>', np.pi * 2500.0),
        ('<ellipse cx="100" cy="100" rx="50" ry="30"/>', np.pi * 1500.0),
        ('<polygon points="0,0 60,0 60,40"/>', 1200.0),
        ('<polyline points="0,0 60,0 60,40 0,0"/>', 1200.0),
        ('<g transform="scale(2)"><g transform="rotate(30)">'
         '<rect width="60" height="40"/></g></g>', 9600.0),
        ('<defs><rect id="r" width="60" height="40"/></defs>'
         '<use xlink:href="#r" x="9" transform="scale(1 2)"/>', 4800.0),
    ],
)  # fmt: skip
def test_every_shape_is_read(body: str, area: float) -> None:
    """Areas by the formulas of school; curves may lose what lies within 0.1 mm of them."""
    (piece,) = drawn(body).shapes
    found = area_mm2(piece.shape.outline_mm)

    assert area - 0.1 * 2.0 * np.pi * 50.0 <= found <= area + 1e-6


def test_marks_find_their_outline_without_groups() -> None:
    """Two outlines side by side, a grainline in each; the second lies turned over."""
    body = """
    <rect id="outline front" width="100" height="200"/>
    <rect id="outline back, size M" x="200" width="100" height="200"/>
    <path class="grain" d="M250 20V180" style="marker-start:url(#x)"/>
    <path class="grain" d="M50 180V20"/>
    """
    front, back = drawn(body).shapes

    assert (front.name, back.name, back.size) == ("front", "back", "M")
    assert front.shape.grainline.angle_deg == 90
    assert back.shape.grainline.angle_deg == 90  # its arrow head is drawn at its start


def test_without_any_names_outermost_lines_are_pieces() -> None:
    """And the reader says so."""
    drawing = drawn('<rect width="90" height="90"/><circle cx="40" cy="40" r="9"/>')

    (piece,) = drawing.shapes
    assert len(piece.shape.internal_lines) == 1
    assert "outermost" in drawing.notes[0]
    assert len(piece.assumed) == 2  # neither name nor grainline


def test_hidden_and_ignored_things_are_left_out() -> None:
    """Hidden layers hold guides and older versions."""
    body = """
    <rect id="outline a" width="90" height="90"/>
    <g style="display: none"><rect id="outline b" x="100" width="90" height="90"/></g>
    <g id="ignore"><rect id="outline c" x="200" width="90" height="90"/></g>
    <image href="https://example.org/photo.png" width="9" height="9"/>
    """
    drawing = drawn(body)

    assert [piece.name for piece in drawing.shapes] == ["a"]
    assert drawing.notes == ("what is hidden is left out", "pictures are left out")


def test_a_map_tells_what_a_drawing_does_not() -> None:
    """Names of an editor's own making get their meaning, and the sheet its head."""
    mapping = """
    name = "Bag"
    [drawing]
    unit = "cm"
    roles = { "Layer 2" = "notch" }
    outlines = { "path7" = { piece = "body", size = "L" } }
    [cloths.canvas]
    about = "Firm."
    [pieces.body]
    title = "Body of the bag"
    cut.canvas = 2
    """
    body = """
    <path id="path7" d="M0 0H20V30H0z"/>
    <g inkscape:label="Layer 2"><circle cx="20" cy="10" r=".1"/></g>
    """
    pattern, _ = pattern_of(
        parse_svg(svg(body), mapping=parse_mapping(mapping)),
        name="x",
        mapping=parse_mapping(mapping),
    )

    piece = pattern.piece("body")
    assert (pattern.name, pattern.sizes, piece.title) == ("Bag", ("L",), "Body of the bag")
    assert (piece.cuts[0].cloth, piece.cuts[0].count) == ("canvas", 2)
    assert extent(piece.shape("L")) == [200, 300]
    assert len(piece.shape("L").notches) == 1


@pytest.mark.parametrize(
    "mapping",
    [
        "[drawing",
        "[drawing]\nunit = 3",
        '[drawing]\nunit = "ell"',
        '[drawing]\nroles = { a = "sleeve" }',
        "[drawing]\nlayer = 3",
        '[drawing.outlines]\n"p" = { size = "M" }',
    ],
)
def test_a_wrong_map_is_refused(mapping: str) -> None:
    """With one sentence, which says that it is the mapping."""
    with pytest.raises(DrawingError, match="mapping"):
        parse_mapping(mapping)


def test_a_map_of_a_piece_that_is_not_drawn_is_refused() -> None:
    """It would be left out in silence."""
    mapping = parse_mapping('[pieces.frnt]\ntitle = "Front"')

    with pytest.raises(DrawingError, match='"frnt", which is not drawn; drawn are "front"'):
        pattern_of(drawn(FRONT), name="x", mapping=mapping)


def test_one_drawing_for_all_sizes_serves_each() -> None:
    """A strap without a size belongs to every size."""
    body = FRONT.replace('<path class="fold" d="M10 210.4V10"/>', "")
    body += '<g id="piece strap"><rect x="200" width="40" height="300"/></g>'
    body += '<g id="piece-front" data-size="L"><rect x="300" width="150" height="300"/></g>'

    pattern, _ = pattern_of(drawn(body), name="x")

    assert pattern.sizes == ("M", "L")
    assert pattern.piece("strap").shape("M") == pattern.piece("strap").shape("L")


def test_a_drawing_made_by_an_editor_is_read() -> None:
    """Layers with labels, a moved and a turned group, shapes made into paths; sizes by hand.

    The apron is 200 mm wide and 300 tall. Its group was moved by 10 px right and 5 px down. The
    strap of 60 by 200 mm was turned a quarter, so its arrow points to the right of the page.
    """
    apron, strap = read_svg(DRAWN).shapes

    assert (apron.name, apron.size, strap.name, strap.size) == ("apron front", "M", "strap", "M")
    assert extent(apron.shape) == pytest.approx([200.0, 300.0], abs=1e-4)
    left, low = apron.shape.outline_mm.min(axis=0)
    assert left == pytest.approx(50.0 + 10 * 25.4 / 96, abs=1e-4)
    assert low == pytest.approx(400.0 - 350.0 - 5 * 25.4 / 96, abs=1e-4)
    assert apron.shape.fold_edge_mm is not None
    assert [mark.name for mark in apron.shape.match_points] == ["side at waist"]
    assert [len(apron.shape.notches), len(apron.shape.drill_holes)] == [1, 1]
    assert [line.name for line in apron.shape.internal_lines] == ["pocket"]
    assert extent(strap.shape) == pytest.approx([200.0, 60.0], abs=1e-4)
    assert strap.shape.grainline.angle_deg == pytest.approx(0.0, abs=1e-6)
    assert strap.facts == (("cut", "2 shell"),)


@pytest.mark.skipif(find_inkscape() is None, reason="Inkscape is not installed")
def test_the_editor_still_draws_the_same(tmp_path: Path) -> None:
    """The drawing kept with the tests is what the editor makes of the seed."""
    program = find_inkscape()
    assert program is not None
    draw_apron(program, tmp_path / "out.svg")

    fresh, kept = read_svg(tmp_path / "out.svg"), read_svg(DRAWN)
    assert [one.name for one in fresh.shapes] == [one.name for one in kept.shapes]
    for one, other in zip(fresh.shapes, kept.shapes, strict=True):
        assert np.allclose(one.shape.outline_mm, other.shape.outline_mm, atol=0.01)


def test_what_matplotlib_saves_is_read() -> None:
    """A triangle of 100 by 80 mm and a hole in it, on axes of 1 mm a unit, named by gid."""
    figure = Figure(figsize=(200 / 25.4, 160 / 25.4))
    axes = figure.add_axes((0, 0, 1, 1), xlim=(0, 200), ylim=(0, 160))
    axes.add_patch(Polygon([[20, 20], [120, 20], [120, 100]])).set_gid("outline front")
    axes.add_patch(Circle((100, 50), 4)).set_gid("drill-hole")
    axes.plot([90, 90], [30, 60])[0].set_gid("grainline")
    axes.text(100, 30, "Cut: 2 shell")
    file = io.BytesIO()
    with mpl.rc_context({"svg.fonttype": "none"}):
        figure.savefig(file, format="svg")

    (piece,) = parse_svg(file.getvalue()).shapes

    expected = np.array([[20, 20], [120, 20], [120, 100]])
    assert np.allclose(piece.shape.outline_mm, expected, atol=0.001)
    assert np.allclose(piece.shape.drill_holes[0].at_mm, (100, 50), atol=0.001)
    assert piece.shape.grainline.angle_deg == pytest.approx(90.0)
    assert piece.facts == (("cut", "2 shell"),)


def test_the_demo_pattern_need_not_be_drawn_to_be_read() -> None:
    """The picture of a piece at its own place keeps its place: data-origin undoes the page."""
    pattern = read_pattern(DEMO / "knapsack.toml")
    outline = pattern.piece("flap").shape("M").outline_mm
    path = "M" + " ".join(f"{x},{-y}" for x, y in outline.tolist()) + "z"
    body = f'<g id="piece flap" transform="translate(300 200)" data-origin="0,0"><path d="{path}"/>'

    (piece,) = drawn(f"{body}</g>").shapes

    assert np.allclose(piece.shape.outline_mm, outline, atol=1e-9)
