"""What stands on the picture of one marker."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from nesting.draw.marker_scene import marker_scene
from nesting.draw.scene import Area, Arrow, Group, Lines, Text, walk
from nesting.draw.style import SELVAGE
from nesting.draw.words import OPEN_HERE, REMINDER, WITH_NAP, WITHOUT_NAP
from nesting.errors import EmptyMarkerError
from nesting.languages import words_of
from pieces.measures.units import UnitSystem
from pieces.outline.polygon import area_mm2
from tests.nesting.draw.small_markers import (
    BACK_MM2,
    FRONT_MM2,
    POCKET_MM2,
    folded_marker,
    metric_bolt,
    open_marker,
    sixty_pieces,
)
from tests.nesting.drawn import cut_end_mm, cut_line_mm, groups, outline, words


def test_every_piece_is_drawn_to_scale_where_it_lies():
    """Each placement is one piece whose outline has the true area and the true place."""
    scene = marker_scene(open_marker())
    drawn = groups(scene.acts, "piece")
    areas = sorted(area_mm2(outline(piece)) for piece in drawn)
    assert areas == pytest.approx([POCKET_MM2, FRONT_MM2, FRONT_MM2, BACK_MM2])
    # the pocket lies at 350 mm from the cut end
    pocket = min(drawn, key=lambda piece: area_mm2(outline(piece)))
    assert outline(pocket)[:, 0].min() - cut_end_mm(scene) == pytest.approx(350.0)


def lying(piece: Group) -> tuple[str, str]:
    """Return what is told of a piece: what it is, and where its top points."""
    told, _, top = piece.title.rpartition(", top ")
    return told, top


def test_a_piece_tells_where_its_top_points():
    """On plain cloth tops lie along it, to the cut end or away from it."""
    scene = marker_scene(open_marker())
    tops = {lying(piece)[1] for piece in groups(scene.acts, "piece")}
    assert tops <= {"to the cut end", "away from the cut end"}
    assert tops


def test_a_picture_speaks_the_language_it_is_handed():
    """French words and decimal commas; the names of the pattern stay."""
    told = words(marker_scene(open_marker(), words=words_of("fr")).acts)
    assert any(line.startswith("Demandez") and "," in line for line in told)
    assert not any("Ask for" in line for line in told)
    assert any("Front" in line for line in told)


def test_labels_tell_title_size_and_copy():
    """Two fronts are 1 of 2 and 2 of 2, the back is 1 of 1."""
    scene = marker_scene(open_marker())
    told = [lying(piece)[0] for piece in groups(scene.acts, "piece")]
    assert told == [
        "Front M, 1 of 2",
        "Front M, 2 of 2, turned over",
        "Back M, 1 of 1",
        "Pocket M, 1 of 1",
    ]
    written = [" ".join(words(piece.acts)) for piece in groups(scene.acts, "piece")]
    assert "Front" in written[0]
    assert "1 of 2" in written[0]
    assert "2 of 2" in written[1]


def test_turned_over_copy_is_hatched_and_says_so():
    """Only the copy laid printed side down is hatched, and the words stand on it and in the key."""
    scene = marker_scene(open_marker())
    drawn = groups(scene.acts, "piece")
    hatched = [lying(piece)[0] for piece in drawn if groups(piece.acts, "turned over")]
    assert hatched == ["Front M, 2 of 2, turned over"]
    assert any("turned over" in line for line in words(drawn[1].acts))
    assert any(line.startswith("hatched: turned over") for line in words(scene.acts))


def test_hatching_stays_inside_the_piece():
    """No hatching line runs beyond the edge."""
    piece = groups(marker_scene(open_marker()).acts, "piece")[1]
    surface = shapely.Polygon(outline(piece)).buffer(1e-6)
    lines = [act for _, act in walk(tuple(groups(piece.acts, "turned over")))]
    strokes = [stroke for act in lines if isinstance(act, Lines) for stroke in act.lines_mm]
    assert len(strokes) > 5
    assert all(surface.covers(shapely.LineString(stroke)) for stroke in strokes)


def test_shop_cuts_at_the_shop_length():
    """Pieces end at 650 mm and the shop cuts in steps of 10 cm, so the line is at 700 mm."""
    scene = marker_scene(open_marker())
    assert cut_line_mm(scene) - cut_end_mm(scene) == pytest.approx(700.0)
    told = words(scene.acts)
    assert "cut here: 70 cm (27.56 in)" in told
    assert "pieces end at 65 cm (25.59 in)" in told
    assert "Ask for 70 cm (27.56 in) of cloth 100 cm (39.37 in) wide" in told


def test_a_person_who_thinks_in_yards_reads_yards_first():
    """A 45 in bolt cut in eighths: 650 mm lie within 3/4 yd (685.8 mm)."""
    bolt = Bolt(width_mm=1143.0, units=UnitSystem.IMPERIAL)
    told = words(marker_scene(replace(open_marker(), bolt=bolt)).acts)
    assert "cut here: 3/4 yd (68.6 cm)" in told
    assert "Ask for 3/4 yd (68.6 cm) of cloth 45 in (114.3 cm) wide" in told


def test_figures_stand_at_the_head():
    """Width, usable width, nap, spread, utilisation and the bound are all told."""
    told = words(
        marker_scene(open_marker(), heading="Apron for Ada", bounds_mm=(620.0, 600.0)).acts
    )
    assert "Apron for Ada" in told
    assert "view A, size M, shell" in told
    # (2 x 45,000 + 90,000 + 8,000) / (960 x 650) = 188,000 / 624,000 = 30.1 %
    for figure in ("100 cm (39.37 in)", "96 cm (37.8 in)", "without nap", "open, single layer"):
        assert figure in told
    assert "30.1 %" in told
    assert told[told.index("cannot be shorter than") + 1] == "62 cm (24.41 in)"
    assert REMINDER in told


def test_a_bound_that_is_not_known_is_not_told():
    """Without a bound nothing is said of one."""
    assert "cannot be shorter than" not in words(marker_scene(open_marker()).acts)


def test_fold_is_drawn_and_named():
    """Folded cloth shows its fold as two lines, one dashed, with the word; open cloth has none."""
    fold = groups(marker_scene(folded_marker()).acts, "fold")[0]
    lines = [act for act in fold.acts if isinstance(act, Lines)]
    assert [bool(act.pen.dash_mm) for act in lines] == [False, True]
    assert "fold" in words(fold.acts)
    assert not groups(marker_scene(open_marker()).acts, "fold")


def test_piece_on_the_fold_lies_on_it_and_says_so():
    """The half back touches the fold line, is labelled, and has a bracket pointing to the fold."""
    scene = marker_scene(folded_marker())
    back = groups(scene.acts, "piece")[0]
    fold = next(act for act in groups(scene.acts, "fold")[0].acts if isinstance(act, Lines))
    assert lying(back)[0] == "Back M, 1 of 1, on fold"
    assert "on fold" in words(back.acts)
    assert area_mm2(outline(back)) == pytest.approx(BACK_MM2 / 2)
    assert outline(back)[:, 1].min() == pytest.approx(fold.lines_mm[0][0, 1])
    bracket = groups(back.acts, "on fold")[0]
    tips = [act.tip_mm[1] - act.tail_mm[1] for act in bracket.acts if isinstance(act, Arrow)]
    assert len(tips) == 2
    assert max(tips) < 0.0


def test_pair_in_folded_cloth_is_told():
    """One placement through both layers is the first and second of two."""
    front = groups(marker_scene(folded_marker()).acts, "piece")[1]
    assert lying(front)[0] == "Front M, 1 and 2 of 2, pair: both layers"


def test_cloth_opens_out_below_the_fold():
    """The open stretch reaches half the bolt below the fold, and the selvage runs on above."""
    scene = marker_scene(folded_marker())
    fold_y = next(
        act.lines_mm[0][0, 1]
        for act in groups(scene.acts, "fold")[0].acts
        if isinstance(act, Lines)
    )
    pocket = groups(scene.acts, "piece")[2]
    # usable width 960, half of it below the fold
    assert outline(pocket)[:, 1].min() == pytest.approx(fold_y - 480.0)
    opening = next(act for act in groups(scene.acts, "open here")[0].acts if isinstance(act, Lines))
    ends = opening.lines_mm[0]
    assert ends[:, 1].tolist() == pytest.approx([fold_y - 500.0, fold_y + 500.0])
    # cloth begins at the cut end; the fold itself is drawn from there
    cut_end = cut_line_mm(scene) - 800.0
    assert ends[:, 0].tolist() == pytest.approx([cut_end + 620.0] * 2)
    assert OPEN_HERE[Spread.LENGTHWISE] in words(scene.acts)
    assert "both selvages" in words(scene.acts)


def test_nap_is_told_along_the_edge():
    """Napped cloth has arrows to the right, one after each sentence; plain cloth has its words."""
    nap = groups(marker_scene(open_marker(nap=True)).acts, "nap")[0]
    arrows = [act for act in nap.acts if isinstance(act, Arrow)]
    assert words(nap.acts) == [WITH_NAP] * len(arrows)
    assert all(act.tip_mm[0] > act.tail_mm[0] for act in arrows)
    assert words(groups(marker_scene(open_marker()).acts, "nap")[0].acts) == [WITHOUT_NAP]


def test_selvages_are_shaded_and_named():
    """Open cloth has two selvages of 20 mm; cloth without selvage has no such word."""
    scene = marker_scene(open_marker())
    shaded = [
        float(np.ptp(act.outline_mm[:, 1]))
        for layer, act in walk(scene.acts)
        if layer == "cloth" and isinstance(act, Area) and act.fill == SELVAGE
    ]
    assert shaded == pytest.approx([20.0, 20.0])
    named = {
        act.at_mm[1]
        for _, act in walk(scene.acts)
        if isinstance(act, Text) and act.words == "selvage"
    }
    assert max(named) - min(named) == pytest.approx(980.0)  # from middle to middle of the selvages
    bare = replace(open_marker(), bolt=replace(metric_bolt(), selvage_mm=0.0))
    assert "selvage" not in words(marker_scene(bare).acts)


def test_grain_arrow_points_to_the_top():
    """On this marker every arrow points along the bolt."""
    for piece in groups(marker_scene(open_marker()).acts, "piece"):
        arrow = next(act for act in piece.acts if isinstance(act, Arrow))
        assert arrow.tip_mm[0] > arrow.tail_mm[0]
        assert arrow.tip_mm[1] == pytest.approx(arrow.tail_mm[1])


def test_marks_are_drawn_and_explained():
    """Notch, drill hole, dashed line and lettered match point, each with its meaning in the key."""
    scene = marker_scene(open_marker())
    front = groups(scene.acts, "piece")[0]
    for name in ("notches", "drill holes", "internal lines", "match points"):
        assert groups(front.acts, name), name
    dashed = next(act for _, act in walk(tuple(groups(front.acts, "internal lines"))))
    assert isinstance(dashed, Lines)
    assert dashed.pen.dash_mm
    assert words(tuple(groups(front.acts, "match points"))) == ["a"]
    told = words(scene.acts)
    for meaning in ("notch", "drill hole", "mark, do not cut", "a = side at waist"):
        assert meaning in told


def test_notch_points_into_the_piece():
    """The far end of the notch stroke is inside the outline."""
    front = groups(marker_scene(open_marker()).acts, "piece")[0]
    stroke = next(act for _, act in walk(tuple(groups(front.acts, "notches"))))
    assert isinstance(stroke, Lines)
    surface = shapely.Polygon(outline(front))
    assert surface.contains(shapely.Point(stroke.lines_mm[0][1]))
    assert surface.boundary.distance(shapely.Point(stroke.lines_mm[0][0])) < 1e-6


@pytest.mark.slow
@pytest.mark.parametrize("marker", [sixty_pieces(), open_marker(), folded_marker()])
def test_no_label_leaves_its_piece(marker):
    """Every box of label text lies inside the outline of its own piece."""
    scene = marker_scene(marker)
    drawn = groups(scene.acts, "piece")
    assert len(drawn) == len(marker.placements)
    for piece in drawn:
        surface = shapely.Polygon(outline(piece)).buffer(1e-6)
        texts = [act for _, act in walk(tuple(groups(piece.acts, "label")))]
        assert texts, piece.title
        for text in texts:
            assert isinstance(text, Text)
            assert surface.covers(shapely.Polygon(text.box_mm)), (piece.title, text.words)


@pytest.mark.slow
def test_piece_too_small_for_words_has_a_number_and_the_key_tells_it():
    """Every label that is only a number is explained once at the foot, and there are some."""
    scene = marker_scene(sixty_pieces())
    told = words(scene.acts)
    numbered = 0
    for piece in groups(scene.acts, "piece"):
        label = words(tuple(groups(piece.acts, "label")))
        if len(label) == 1 and label[0].isdigit():
            numbered += 1
            kind = lying(piece)[0].removesuffix(", 1 of 1")
            assert told.count(f"{label[0]} = {kind}") == 1
    assert 0 < numbered < 60


@pytest.mark.slow
def test_words_stay_on_the_picture():
    """No line of text runs over the edge of the picture, whatever the marker."""
    for marker in (sixty_pieces(), open_marker(nap=True), folded_marker()):
        scene = marker_scene(marker, bounds_mm=(500.0, 400.0))
        page = shapely.box(0.0, 0.0, scene.width_mm, scene.height_mm)
        for _, act in walk(scene.acts):
            if isinstance(act, Text):
                assert page.covers(shapely.Polygon(act.box_mm)), act.words


def test_an_empty_marker_is_refused():
    """There is nothing to draw where nothing is placed."""
    with pytest.raises(EmptyMarkerError, match="nothing is placed"):
        marker_scene(replace(open_marker(), placements=()))
