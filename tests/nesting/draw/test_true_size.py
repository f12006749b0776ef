"""True size: pages of the right size, squares that measure right, and no line left out."""

import re
import shutil
import subprocess
import zlib
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image

from nesting.draw import draw_true_size
from nesting.draw.papers import MARGIN_MM, OVERLAP_MM, PAPERS, grid_for
from nesting.draw.scene import Area, Lines, Scene, walk
from nesting.draw.true_size import true_size_pages
from nesting.errors import DrawError
from nesting.marker.marker import Marker
from nesting.marker.placement import lying_shape
from tests.nesting.draw.markers import waistcoat_marker

POINTS_PER_MM = 72.0 / 25.4


@pytest.fixture(scope="module")
def marker() -> Marker:
    """Return the invented waistcoat laid open."""
    return waistcoat_marker()


# ISO 216: A4 210 x 297, A3 297 x 420, A0 841 x 1189 mm; ANSI Letter: 8 1/2 x 11 in
@pytest.mark.slow
@pytest.mark.parametrize(
    ("paper", "points"),
    [
        ("a4", (297.0 * POINTS_PER_MM, 210.0 * POINTS_PER_MM)),
        ("a3", (420.0 * POINTS_PER_MM, 297.0 * POINTS_PER_MM)),
        ("a0", (1189.0 * POINTS_PER_MM, 841.0 * POINTS_PER_MM)),
        ("letter", (792.0, 612.0)),
    ],
)
def test_pages_have_the_published_size(
    marker: Marker, paper: str, points: tuple[float, float], tmp_path: Path
) -> None:
    """The page boxes of the PDF are those of ISO 216 and Letter, to a hundredth of a point."""
    count = draw_true_size(marker, tmp_path / "true.pdf", paper=paper)

    boxes = re.findall(rb"/MediaBox \[ ([^\]]+)\]", (tmp_path / "true.pdf").read_bytes())
    assert len(boxes) == count >= 2
    for box in boxes:
        assert [float(value) for value in box.split()] == pytest.approx([0, 0, *points], abs=0.01)


@pytest.mark.slow
def test_the_squares_measure_100_mm_and_4_inches_in_the_file(
    marker: Marker, tmp_path: Path
) -> None:
    """In the first page's own numbers: 100 mm is 283.465 points, 4 in is 288."""
    draw_true_size(marker, tmp_path / "true.pdf", paper="a4")
    streams = re.findall(
        rb"stream\r?\n(.*?)\r?\nendstream", (tmp_path / "true.pdf").read_bytes(), re.S
    )
    texts = [zlib.decompress(stream) for stream in streams if stream[:1] == b"x"]
    cover = next(text for text in texts if b" m\n" in text)
    corners = re.findall(rb"([\d.]+) ([\d.]+) m\n([\d.]+) [\d.]+ l\n", cover)
    sides = [round(float(right) - float(left), 2) for left, _, right in corners]

    assert round(100.0 * POINTS_PER_MM, 2) in sides
    assert 288.0 in sides


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler) is not installed")
def test_the_square_measures_100_mm_when_rasterised(marker: Marker, tmp_path: Path) -> None:
    """At 254 dots an inch a pixel is 0.1 mm: the inner square's sides lie 1000 pixels apart."""
    draw_true_size(marker, tmp_path / "true.pdf", paper="a4")
    command = ["pdftoppm", "-r", "254", "-gray", "-f", "1", "-l", "1", "true.pdf", "cover"]
    subprocess.run(command, cwd=tmp_path, check=True)
    [picture] = tmp_path.glob("cover*.pgm")
    dark = np.asarray(Image.open(picture)) < 128
    # a row through the middle of the squares crosses left sides, the inner right and the outer
    row = next(r for r in range(len(dark)) if dark[r, 100:1130].mean() > 0.9)
    crossed = np.flatnonzero(dark[row + 300, :1200])
    sides = [group.mean() for group in np.split(crossed, np.flatnonzero(np.diff(crossed) > 3) + 1)]

    assert sides[1] - sides[0] == pytest.approx(1000.0, abs=2.0)
    assert sides[2] - sides[0] == pytest.approx(1016.0, abs=2.0)


def drawn(scene: Scene) -> shapely.MultiLineString:
    """Return every line of a page, mm of paper."""
    lines = [line for _, act in walk(scene.acts) if isinstance(act, Lines) for line in act.lines_mm]
    return shapely.MultiLineString([shapely.LineString(line) for line in lines])


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "36in"])
def test_the_pages_joined_show_every_outline(marker: Marker, paper: str) -> None:
    """Laid side by side by their names, the pages leave no part of any outline out."""
    grid = grid_for(PAPERS[paper], (0.0, 0.0), (marker.length_mm, marker.bolt.width_mm))
    places = {page.name: page for page in grid.pages}
    joined = []
    for scene in true_size_pages(marker, PAPERS[paper])[1:]:
        page = places[scene.title.split(":")[0]]
        moved = shapely.transform(
            drawn(scene), lambda xy, p=page: xy - MARGIN_MM + np.array([p.x_mm, p.y_mm])
        )
        joined.append(moved)
    shown = shapely.union_all(joined).buffer(0.01)

    for at in marker.placements:
        item = marker.item_by_key[at.item]
        shape = lying_shape(item, at, marker.stretches[at.stretch].spread)
        edge = shapely.LinearRing(shape.outline_mm)
        assert shapely.difference(edge, shown).length < 0.1


def test_neighbouring_pages_overlap_by_what_is_glued() -> None:
    """Windows of A4 are 277 mm wide and begin 262 mm apart: 15 mm to glue."""
    grid = grid_for(PAPERS["a4"], (0.0, 0.0), (900.0, 150.0))
    first, second = grid.pages[:2]

    assert first.x_mm + grid.window_mm[0] - second.x_mm == pytest.approx(OVERLAP_MM)
    assert grid.rows == 1


def test_pages_carry_no_fill(marker: Marker) -> None:
    """Only the map on the cover is tinted; on the pages it would use up ink."""
    for scene in true_size_pages(marker, PAPERS["a4"])[1:]:
        assert all(act.fill is None for _, act in walk(scene.acts) if isinstance(act, Area))


@pytest.mark.parametrize(
    ("name", "paper", "words"),
    [("true.pdf", "a9", "is not known"), ("true.png", "a4", "ending in .pdf")],
)
def test_other_papers_and_endings_are_refused(
    marker: Marker, name: str, paper: str, words: str, tmp_path: Path
) -> None:
    """The sentence says what to give instead, and nothing is written."""
    with pytest.raises(DrawError, match=words):
        draw_true_size(marker, tmp_path / name, paper=paper)
    assert not list(tmp_path.iterdir())


def test_too_many_pages_are_refused() -> None:
    """Half a kilometre on A4 would be 1909 x 8 pages."""
    with pytest.raises(DrawError, match="more than 2000"):
        grid_for(PAPERS["a4"], (0.0, 0.0), (500_000.0, 1400.0))
