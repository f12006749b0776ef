"""Pictures of what was read: each shape once, with its names and measures; and pages of marks."""

import cv2
import numpy as np
import pytest
import shapely

from nesting.draw import pattern_scene
from nesting.draw.marks_page import mark_pages
from nesting.draw.papers import PAPERS
from nesting.draw.scene import Area, Arrow, Group, Scene, Text, walk
from nesting.errors import DrawError
from pieces.photo.marks import find_marks
from pieces.photo.reading import Photo
from pieces.photo.sheets import PAGES, centred_box, mark_corners_mm
from pieces.sheet.pattern_file import read_pattern
from tests.datasets import CHECKOUT
from tests.nesting.drawn import words


def test_every_shape_is_drawn_with_its_measures() -> None:
    """Each piece of the waistcoat in each size: names, sizes, cut counts, arrows, folds."""
    pattern = read_pattern(CHECKOUT / "demo" / "waistcoat.toml")
    count = sum(len(piece.shapes) for piece in pattern.pieces)

    scene = pattern_scene(pattern)

    tiles = [act for act in scene.acts if isinstance(act, Group) and act.name == "tile"]
    assert len(tiles) == count
    told = words(scene.acts)
    assert sum(one.startswith("size ") for one in told) == count
    assert sum("half, on the fold" in one for one in told) == sum(
        shape.fold_edge_mm is not None for p in pattern.pieces for shape in p.shapes.values()
    )
    arrows = [act for layer, act in walk(scene.acts) if isinstance(act, Arrow) and layer == "piece"]
    assert len(arrows) == count
    assert pattern.name in told


def test_nothing_overlaps_and_nothing_leaves_the_picture() -> None:
    """Tiles stand apart."""
    scene = pattern_scene(read_pattern(CHECKOUT / "demo" / "knapsack.toml"))
    frame = shapely.box(0.0, 0.0, scene.width_mm, scene.height_mm)
    tiles = []
    for act in scene.acts:
        if isinstance(act, Group) and act.name == "tile":
            areas = [one.outline_mm for _, one in walk(act.acts) if isinstance(one, Area)]
            texts = [one.box_mm for _, one in walk(act.acts) if isinstance(one, Text)]
            tiles.append(shapely.union_all([shapely.Polygon(one) for one in (*areas, *texts)]))

    assert len(tiles) > 1
    assert all(frame.covers(tile) for tile in tiles)
    for i, tile in enumerate(tiles):
        assert not any(tile.intersects(other) for other in tiles[:i])


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_printed_marks_are_those_that_are_looked_for(paper: str) -> None:
    """Each page, painted at 4 pixels per mm, is found again with its own number, in its place."""
    scenes = mark_pages(PAPERS[paper])
    assert len(scenes) == PAGES
    for number, scene in enumerate(scenes):
        grey = _painted(scene)

        (page,) = find_marks(Photo(np.dstack([grey] * 3), grey), centred_box(215.9, 297.0))

        assert page.sheet == number
        middle = np.array([scene.width_mm, scene.height_mm]) / 2.0
        true = np.concatenate([mark_corners_mm(place) for place in range(4)]) + middle
        true_px = np.column_stack((true[:, 0], scene.height_mm - true[:, 1])) * 4.0 - 0.5
        order = np.lexsort(true_px.round().T), np.lexsort(page.at_px.round().T)
        assert len(page.at_px) == 16
        assert np.abs(true_px[order[0]] - page.at_px[order[1]]).max() < 1.0


def test_marks_need_paper_of_their_size() -> None:
    """A roll and a large sheet are refused."""
    for name in ("36in", "a3", "a0"):
        with pytest.raises(DrawError, match="a4 or letter"):
            mark_pages(PAPERS[name])


def _painted(scene: Scene) -> np.ndarray:
    """Return the areas of a scene as grey levels, 4 pixels to a mm, top row first."""
    grey = np.full((round(scene.height_mm * 4), round(scene.width_mm * 4)), 255, dtype=np.uint8)
    for _, act in walk(scene.acts):
        if isinstance(act, Area):
            x, y = act.outline_mm.T
            at = np.column_stack((x * 4 - 0.5, (scene.height_mm - y) * 4 - 0.5))
            shade = 0 if act.fill == "#000000" else 255
            cv2.fillPoly(grey, [np.round(at).astype(np.int32)], shade)
    return grey
