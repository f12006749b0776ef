"""Files written from a scene: PNG, PDF and SVG."""

import re
import struct
import subprocess
import sys
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from nesting.draw import draw_compare, draw_marker, marker_scene, save_scene
from nesting.draw.scene import Group, Scene, Text
from nesting.draw.writers.matplotlib_writer import pdf_scale
from nesting.errors import DrawError
from pieces.outline.polygon import area_mm2
from tests.nesting.draw.small_markers import (
    BACK_MM2,
    FRONT_MM2,
    POCKET_MM2,
    folded_marker,
    open_marker,
    sixty_pieces,
)

SVG = "{http://www.w3.org/2000/svg}"


def png_size(path):
    """Return width and height from the header of a PNG file."""
    data = path.read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    return struct.unpack(">II", data[16:24])


def path_points(element):
    """Return the vertices of a closed path made of straight lines."""
    numbers = re.findall(r"-?\d+(?:\.\d+)?", element.get("d"))
    return np.array(numbers, dtype=float).reshape(-1, 2)


def test_svg_is_true_to_scale(tmp_path):
    """Piece paths have the true areas in mm2, and the drawing is as large as its view box in mm."""
    draw_marker(open_marker(), tmp_path / "m.svg")
    root = ET.parse(tmp_path / "m.svg").getroot()
    pieces = [g for g in root.iter(f"{SVG}g") if g.get("class") == "piece"]
    areas = sorted(area_mm2(path_points(piece.find(f"{SVG}path"))) for piece in pieces)
    assert areas == pytest.approx([POCKET_MM2, FRONT_MM2, FRONT_MM2, BACK_MM2], abs=1.0)
    _, _, width, height = root.get("viewBox").split()
    assert (root.get("width"), root.get("height")) == (f"{width}mm", f"{height}mm")


def test_svg_stands_upright(tmp_path):
    """The heading, high in the scene, has a small y in the file."""
    scene = marker_scene(open_marker())
    save_scene(scene, tmp_path / "m.svg")
    root = ET.parse(tmp_path / "m.svg").getroot()
    heading = next(text for text in root.iter(f"{SVG}text") if text.text == "Apron")
    assert float(heading.get("y")) < 0.1 * scene.height_mm


def test_svg_can_be_read_aloud_and_does_nothing(tmp_path):
    """It has title and description, and neither scripts nor anything fetched from elsewhere."""
    draw_marker(open_marker(name='<b>&"quoted"</b>'), tmp_path / "m.svg")
    text = (tmp_path / "m.svg").read_text(encoding="utf-8")
    root = ET.fromstring(text)
    assert root.find(f"{SVG}title").text.startswith('<b>&"quoted"</b>: view A')
    assert "4 pieces laid" in root.find(f"{SVG}desc").text
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags == {"svg", "title", "desc", "rect", "g", "path", "text"}
    assert "href" not in text
    assert "url(" not in text


def test_svg_takes_any_words(tmp_path):
    """Characters that XML forbids do not spoil the file."""
    odd = "bell\x07 and \ud800 and \uffff"
    scene = Scene(100.0, 50.0, (Text(odd, (1.0, 1.0), 5.0, "#000000"),), odd, odd)
    save_scene(scene, tmp_path / "m.svg")
    assert ET.parse(tmp_path / "m.svg").getroot().find(f"{SVG}title").text.startswith("bell")


def test_png_takes_words_its_typeface_lacks(tmp_path):
    """A pattern named in another script, with dollar signs, is drawn without a warning."""
    draw_marker(open_marker(name="\u6f22 $x_1$ \u0416"), tmp_path / "m.png")
    assert png_size(tmp_path / "m.png")[0] > 1000


@pytest.mark.slow
@pytest.mark.parametrize(
    ("marker", "most"), [(open_marker(), 3600), (folded_marker(), 3600), (sixty_pieces(), 6000)]
)
def test_png_is_large_enough_to_read_and_not_larger(tmp_path, marker, most):
    """The longer side has 1600 to 3600 pixels, 6000 for tiny words; proportions are kept."""
    scene = marker_scene(marker)
    save_scene(scene, tmp_path / "m.png")
    width, height = png_size(tmp_path / "m.png")
    assert 1599 <= max(width, height) <= most
    assert width / height == pytest.approx(scene.width_mm / scene.height_mm, rel=0.002)


def test_a_png_with_small_words_has_more_pixels(tmp_path):
    """Words of 20 mm on 6000 mm need 14 pixels: 6000 / 20 * 14 = 4200 for the whole side."""
    words = Text("b", (1.0, 1.0), 20.0, "#000000")
    save_scene(Scene(6000.0, 300.0, (Group("x", (words,)),), "t", "d"), tmp_path / "m.png")
    assert png_size(tmp_path / "m.png")[0] == pytest.approx(4200, abs=1)


def test_png_paints_the_cloth_where_the_scene_has_it(tmp_path):
    """The pixel in the middle of a plain red square is red, the one outside is paper."""
    from matplotlib.image import imread

    from nesting.draw.scene import Area, rectangle

    square = Area(rectangle(100.0, 200.0, 300.0, 400.0), fill="#FF0000")
    save_scene(Scene(1000.0, 500.0, (Group("x", (square,)),), "t", "d"), tmp_path / "m.png")
    pixels = imread(tmp_path / "m.png")
    high, wide = pixels.shape[:2]

    def colour(x, y):
        return pixels[int((1 - y / 500.0) * high), int(x / 1000.0 * wide), :3].tolist()

    assert colour(200.0, 300.0) == [1.0, 0.0, 0.0]
    assert colour(110.0, 390.0) == [1.0, 0.0, 0.0]
    assert colour(90.0, 300.0) == [1.0, 1.0, 1.0]


def test_pdf_has_a_round_scale(tmp_path):
    """The page is the scene divided by a whole number, in points of 1/72 in, at most A3 large."""
    scene = marker_scene(open_marker())
    save_scene(scene, tmp_path / "m.pdf")
    data = (tmp_path / "m.pdf").read_bytes()
    assert data.startswith(b"%PDF")
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+) ?\]", data)
    points = [float(side) for side in box.groups()]
    wanted = [side / pdf_scale(scene) / 25.4 * 72 for side in (scene.width_mm, scene.height_mm)]
    assert points == pytest.approx(wanted, abs=0.01)
    assert max(points) <= 420 / 25.4 * 72


@pytest.mark.parametrize("ending", [".png", ".svg", ".pdf"])
def test_same_marker_gives_the_same_bytes(tmp_path, ending):
    """Two files of one marker are equal to the last byte."""
    for name in ("a", "b"):
        draw_marker(folded_marker(), tmp_path / f"{name}{ending}", lower_bound_mm=600.0)
    assert (tmp_path / f"a{ending}").read_bytes() == (tmp_path / f"b{ending}").read_bytes()


def test_endings_in_capitals_are_known(tmp_path):
    """M.SVG is an SVG file."""
    draw_compare([("open", open_marker(), None)], tmp_path / "M.SVG")
    assert ET.parse(tmp_path / "M.SVG").getroot().tag == f"{SVG}svg"


@pytest.mark.parametrize("name", ["m.jpg", "m", "m.svg.txt"])
def test_unknown_ending_is_refused(tmp_path, name):
    """The refusal lists the endings that are known, and no file appears."""
    with pytest.raises(DrawError, match=r"\.png, \.svg, \.pdf"):
        draw_marker(open_marker(), tmp_path / name)
    assert not list(tmp_path.iterdir())


def test_missing_folder_is_refused(tmp_path):
    """The refusal names the file and the way out."""
    with pytest.raises(DrawError, match="choose a folder that exists"):
        draw_marker(open_marker(), tmp_path / "nowhere" / "m.svg")


def test_importing_draw_is_light():
    """Neither matplotlib nor the engine is loaded until a picture asks for it."""
    code = (
        "import sys, nesting.draw; "
        "heavy = {'matplotlib', 'numba', 'nesting.engine'} & set(sys.modules); "
        "sys.exit(str(heavy) if heavy else 0)"
    )
    result = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False
    )
    assert result.returncode == 0, result.stderr
