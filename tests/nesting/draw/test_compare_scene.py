"""Several markers in one picture."""

import pytest
import shapely

from nesting.draw.compare_scene import compare_scene
from nesting.draw.scene import Area, Text, walk
from nesting.errors import DrawError
from pieces.outline.polygon import area_mm2
from tests.nesting.draw.small_markers import BACK_MM2, folded_marker, open_marker, sixty_pieces
from tests.nesting.drawn import groups, outline, words

ENTRIES = (("open", open_marker(), 600.0), ("folded", folded_marker(), None))


def test_each_marker_stands_there_with_heading_and_length():
    """Both headings, both shop lengths and the difference of 10 cm are written."""
    told = words(compare_scene(ENTRIES).acts)
    assert told.count("open") == 2  # once at its bar, once over its marker
    assert told.count("folded") == 2
    assert "70 cm (27.56 in), the least" in told
    assert "80 cm (31.5 in), 10 cm (3.94 in) more" in told
    assert "cut here: 70 cm (27.56 in)" in told
    assert "cut here: 80 cm (31.5 in)" in told
    assert any(line.endswith("cannot be shorter than 60 cm (23.62 in)") for line in told)


def test_all_markers_have_one_scale():
    """The back has the same area in both, halved on the fold."""
    markers = groups(compare_scene(ENTRIES).acts, "marker")
    areas = [
        [area_mm2(outline(p)) for p in groups((marker,), "piece") if p.title.startswith("Back")]
        for marker in markers
    ]
    assert areas == [[pytest.approx(BACK_MM2)], [pytest.approx(BACK_MM2 / 2)]]


def test_bars_are_as_long_as_the_lengths():
    """Bars of 70 and 80 cm are as 7 to 8."""
    head = groups(compare_scene(ENTRIES).acts, "head")[0]
    bars = [
        float(act.outline_mm[1, 0] - act.outline_mm[0, 0])
        for act in head.acts
        if isinstance(act, Area)
    ]
    assert bars[1] / bars[0] == pytest.approx(8.0 / 7.0)


def test_markers_do_not_overlap():
    """The boxes around the pieces of any two markers are apart."""
    entries = [
        (str(n), marker, None) for n, marker in enumerate((open_marker(), folded_marker()) * 2)
    ]
    boxes = []
    for marker in groups(compare_scene(entries).acts, "marker"):
        points = [shapely.Polygon(outline(piece)) for piece in groups((marker,), "piece")]
        boxes.append(shapely.box(*shapely.union_all(points).bounds))
    assert len(boxes) == 4
    assert shapely.union_all(boxes).area == pytest.approx(sum(box.area for box in boxes))


@pytest.mark.slow
def test_one_number_means_one_kind_of_piece_in_all_markers():
    """Numbers of small pieces go on from one marker to the next."""
    told = words(compare_scene([("a", sixty_pieces(), None), ("b", sixty_pieces(), None)]).acts)
    entries = [line.split(" = ") for line in told if " = " in line]
    assert entries
    assert len({number for number, _ in entries}) == len(entries) == len({k for _, k in entries})


def test_words_stay_on_the_picture():
    """No line of text runs over the edge, even with long headings."""
    scene = compare_scene([("a very long heading " * 6, m, b) for _, m, b in ENTRIES])
    page = shapely.box(0.0, 0.0, scene.width_mm, scene.height_mm)
    for _, act in walk(scene.acts):
        if isinstance(act, Text):
            assert page.covers(shapely.Polygon(act.box_mm)), act.words


def test_nothing_to_compare_is_refused():
    """An empty list has no picture."""
    with pytest.raises(DrawError, match="at least one"):
        compare_scene([])
