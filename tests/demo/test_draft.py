"""The demo garments go together: seams that meet are equally long, measured on the seam line."""

import math

import numpy as np
import pytest
import shapely

from demo import cloak_draft as cloak
from demo import knapsack_draft as knapsack
from demo import smock_draft as smock
from demo import waistcoat_draft as waistcoat
from demo.draft_patterns import SHEETS
from demo.measurements import BODIES, PACKS, SIZES

USABLE_45_MM = 1118.0 - 2 * 13.0  # 45 in cut down to whole mm, less two selvages of half an inch
SAME = 0.01  # mm; seams drawn alike differ by rounding only
CURVED = 0.3  # mm; a curve split or drawn twice may be flattened at other vertices

bodies = pytest.mark.parametrize("body", BODIES.values(), ids=BODIES.keys())
packs = pytest.mark.parametrize("pack", PACKS.values(), ids=PACKS.keys())


@pytest.fixture(scope="module")
def drafted():
    """Return all four patterns as the script draws them now."""
    return {name: draw() for name, draw in SHEETS.items()}


# Waistcoat


@bodies
def test_waistcoat_side_seams_are_equal(body):
    """Front, back and both linings have one and the same side seam."""
    drafts = (waistcoat.back, waistcoat.front_lining, waistcoat.back_lining)
    front = waistcoat.front(body).seam.length_mm("side")

    for draft in drafts:
        assert draft(body).seam.length_mm("side") == pytest.approx(front, abs=SAME)


@bodies
def test_waistcoat_back_shoulder_is_eased_by_5_mm(body):
    """The back shoulder seam is 5 mm longer than the front's, to be eased in."""
    front, back = waistcoat.front(body).seam, waistcoat.back(body).seam

    ease_mm = back.length_mm("shoulder") - front.length_mm("shoulder")

    assert ease_mm == pytest.approx(5.0, abs=SAME)


@bodies
def test_waistcoat_girth_has_80_mm_of_ease_at_the_underarm(body):
    """Twice front and back, centre to side seam at the underarm, is the chest and 80 mm."""
    fronts_and_backs = [draft(body).seam for draft in (waistcoat.front, waistcoat.back)]

    girth = sum(2 * seam.point("side", -0.0001)[0] for seam in fronts_and_backs)

    assert girth == pytest.approx(body.chest_mm + 80.0, abs=0.1)


@bodies
def test_waistcoat_armhole_suits_the_chest(body):
    """An armhole is 0.5 to 0.6 of the chest, roomy enough for a shirt (common practice)."""
    drafts = (waistcoat.front, waistcoat.back)

    armhole = sum(draft(body).seam.length_mm("armhole") for draft in drafts)

    assert 0.5 <= armhole / body.chest_mm <= 0.6


@bodies
def test_waistcoat_facing_and_lining_make_up_the_front(body):
    """The facing joins the lining along one line; together they have the front's hem and edge."""
    front, facing, lining = (
        draft(body).seam
        for draft in (waistcoat.front, waistcoat.front_facing, waistcoat.front_lining)
    )

    assert facing.length_mm("inner") == pytest.approx(lining.length_mm("inner"), abs=SAME)
    for edge in ("hem", "shoulder"):
        both = facing.length_mm(edge) + lining.length_mm(edge)
        assert both == pytest.approx(front.length_mm(edge), abs=CURVED)


@bodies
def test_waistcoat_neck_facing_and_lining_make_up_the_back(body):
    """The back neck facing has the back's neckline and the lining's upper edge."""
    back, facing, lining = (
        draft(body).seam for draft in (waistcoat.back, waistcoat.neck_facing, waistcoat.back_lining)
    )

    assert facing.length_mm("neck") == pytest.approx(back.length_mm("neck"), abs=SAME)
    assert facing.length_mm("inner") == pytest.approx(lining.length_mm("inner"), abs=SAME)
    both = facing.length_mm("shoulder") + lining.length_mm("shoulder")
    assert both == pytest.approx(back.length_mm("shoulder"), abs=SAME)


@bodies
def test_waistcoat_welt_is_as_long_as_the_pocket(body):
    """The welt covers the pocket mouth between its two drill holes."""
    start, end, _ = waistcoat.front(body).holes

    welt = waistcoat.welt(body).seam.length_mm("bottom")

    assert welt == pytest.approx(math.dist(start, end), abs=SAME)


def test_waistcoat_has_as_many_buttons_as_buttonholes(drafted):
    """The shopping list buys one button for each buttonhole that is drawn."""
    pattern = drafted["waistcoat.toml"]
    (button,) = (notion for notion in pattern.notions if notion.name == "button")

    for size in SIZES:
        lines = pattern.piece("front").shape(size).internal_lines
        drawn = sum(line.name.startswith("buttonhole") for line in lines)
        assert button.counts[size] == drawn


# Smock shirt


@bodies
def test_smock_side_seams_are_equal(body):
    """Front and back have one and the same side seam."""
    front, back = smock.front(body).seam, smock.back(body).seam

    assert back.length_mm("side") == pytest.approx(front.length_mm("side"), abs=SAME)


@bodies
def test_smock_sleeve_head_is_gathered_by_60_mm(body):
    """Long and short sleeve heads are 60 mm longer than front, yoke and back armhole together."""
    drafts = (smock.front, smock.yoke, smock.back)
    armhole = sum(draft(body).seam.length_mm("armhole") for draft in drafts)

    for sleeve in (smock.sleeve, smock.short_sleeve):
        head = sleeve(body).seam.length_mm("head")
        assert head - armhole == pytest.approx(60.0, abs=SAME)


@bodies
def test_smock_sleeve_is_not_gathered_below_its_notches(body):
    """Underarm to front notch and underarm to first back notch are as long on sleeve and body."""
    sleeve = dict(_by_edge(smock.sleeve(body).notches))
    front = dict(_by_edge(smock.front(body).notches))
    back = dict(_by_edge(smock.back(body).notches))

    assert min(at for at in sleeve["head"] if at > 0) == front["armhole"][0]
    assert max(at for at in sleeve["head"] if at < 0) == -back["armhole"][0]


@bodies
def test_smock_sleeve_underarm_seams_are_equal(body):
    """The two edges of a sleeve that are sewn together are equally long."""
    for sleeve in (smock.sleeve, smock.short_sleeve):
        seam = sleeve(body).seam
        front, back = seam.length_mm("front underarm"), seam.length_mm("back underarm")
        assert front == pytest.approx(back, abs=SAME)


@bodies
def test_smock_gusset_meets_its_notches(body):
    """Sleeve and body have a notch one gusset side, 100 mm, below the underarm."""
    side = smock.gusset(body).seam.length_mm("right")

    assert side == pytest.approx(100.0)
    for draft, edge in (
        (smock.front, "side"),
        (smock.back, "side"),
        (smock.sleeve, "front underarm"),
        (smock.short_sleeve, "front underarm"),
    ):
        assert (edge, -100.0) in draft(body).notches
    assert ("back underarm", 100.0) in smock.sleeve(body).notches


@bodies
def test_smock_collar_fits_the_neckline(body):
    """Half the collar is as long as front and yoke neckline, 5 to 20 mm easier than the neck."""
    neckline = smock.front(body).seam.length_mm("neck") + smock.yoke(body).seam.length_mm("neck")

    assert smock.collar(body).seam.length_mm("neck") == pytest.approx(neckline, abs=SAME)
    assert 5.0 <= neckline - body.neck_mm / 2 <= 20.0


@bodies
def test_smock_body_is_gathered_into_the_yoke(body):
    """The body is wider than the yoke by 35 hundredths in front and 30 at the back."""
    front, back, yoke = (draft(body).seam for draft in (smock.front, smock.back, smock.yoke))

    assert front.length_mm("top") == pytest.approx(1.35 * yoke.length_mm("front"), abs=SAME)
    assert back.length_mm("top") == pytest.approx(1.30 * yoke.length_mm("back"), abs=SAME)


@bodies
def test_smock_sleeve_reaches_the_wrist(body):
    """Yoke beyond the shoulder bone, sleeve and cuff are 30 mm longer than the arm, to blouse."""
    seam = smock.sleeve(body).seam
    top = max(y for _, y in seam.edge("head").points_mm)
    beyond = 22.0  # mm that the yoke is longer than the shoulder

    assert beyond + top + 60.0 - body.arm_mm == pytest.approx(30.0, abs=0.1)


# Cloak


@bodies
@pytest.mark.parametrize("ring", [cloak.knee_ring, cloak.full_ring], ids=["knee", "full"])
def test_cloak_panel_seams_are_equal(body, ring):
    """Back, side gore and front meet along seams of one length; the facing has the front edge."""
    made = ring(body)
    back, gore, front, facing = (
        draft(body, made).seam for draft in (cloak.back, cloak.side_gore, cloak.front, cloak.facing)
    )

    assert back.length_mm("side") == pytest.approx(gore.length_mm("back seam"), abs=SAME)
    assert front.length_mm("side") == pytest.approx(gore.length_mm("front seam"), abs=SAME)
    edge = facing.length_mm("centre front")
    assert edge == pytest.approx(front.length_mm("centre front"), abs=SAME)


@bodies
def test_cloak_neckline_fits_neck_and_hood(body):
    """Panel necks less two darts of 24 mm are the neck and 40 mm, and so is the pleated hood."""
    ring = cloak.full_ring(body)
    panels = (cloak.back, cloak.side_gore, cloak.front)
    half = sum(panel(body, ring).seam.length_mm("neck") for panel in panels) - 24.0
    side, band = cloak.hood(body).seam, cloak.band(body).seam
    hood = 2 * (side.length_mm("neck") - 30.0) + band.length_mm("bottom")

    assert 2 * half == pytest.approx(body.neck_mm + 40.0, abs=1.0)
    assert hood == pytest.approx(body.neck_mm + 40.0, abs=SAME)


@bodies
def test_cloak_hood_band_follows_the_crown(body):
    """The centre band is as long as the crown edge of a hood side."""
    crown = cloak.hood(body).seam.length_mm("crown")

    assert cloak.band(body).seam.length_mm("right") == pytest.approx(crown, abs=SAME)


@bodies
def test_cloak_hangs_between_calf_and_floor(body):
    """View B ends 50 to 250 mm above the floor, if the nape is at 0.86 of the height."""
    above_floor = 0.86 * body.height_mm - cloak.full_length_mm(body)

    assert 50.0 <= above_floor <= 250.0


def test_cloak_fits_folded_45_in_cloth(drafted):
    """Every piece in every size is at most half the usable width of a 45 in bolt across."""
    for piece in drafted["cloak.toml"].pieces:
        for size in SIZES:
            outline = piece.shape(size).outline_mm
            assert np.ptp(outline[:, 0]) <= USABLE_45_MM / 2, (piece.name, size)


# Knapsack


@packs
def test_knapsack_panels_go_round_the_base(pack):
    """Two panels, and two casing bands, are as long as the seam round the base."""
    seam = knapsack.base(pack).seam
    round_mm = sum(seam.length_mm(name) for name in ("one", "two", "three", "four"))
    panel = knapsack.front_panel(pack).seam.length_mm("bottom")

    # chords are shorter than the arc by up to 0.2 in a thousand when within 0.1 mm of it
    assert 2 * panel == pytest.approx(round_mm, rel=1e-3)
    assert knapsack.back_panel(pack).seam.length_mm("bottom") == pytest.approx(panel)
    assert knapsack.casing(pack).seam.length_mm("right") == pytest.approx(panel)


@packs
def test_knapsack_pocket_fits_its_place(pack):
    """The pocket drawn on the front panel is the pocket piece, foot and width."""
    panel, pocket = knapsack.front_panel(pack), knapsack.pocket(pack)
    (place,) = (points for name, points in panel.lines if name == "pocket")
    left, right = panel.holes

    foot = shapely.length(shapely.linestrings(place))

    assert pocket.seam.length_mm("foot") == pytest.approx(foot, abs=SAME)
    assert pocket.seam.length_mm("mouth") == pytest.approx(math.dist(left, right), abs=SAME)


@packs
def test_knapsack_binding_goes_round_the_flap(pack):
    """Two strips with 20 mm at each end to spare cover the flap's edge."""
    flap = knapsack.flap(pack).seam
    edge = flap.length_mm("left") + flap.length_mm("right")

    strip = knapsack.binding(pack).seam.length_mm("right")

    assert 2 * (strip - 40.0) == pytest.approx(edge, abs=SAME)


def test_knapsack_has_as_many_eyelets_as_holes(drafted):
    """Two casing bands have eight holes, and eight eyelets are bought."""
    pattern = drafted["knapsack.toml"]
    (eyelet,) = (notion for notion in pattern.notions if notion.name == "eyelet")
    casing = pattern.piece("casing")

    for size in SIZES:
        assert 2 * len(casing.shape(size).drill_holes) == eyelet.counts[size] == 8


def _by_edge(notches):
    for name in {name for name, _ in notches}:
        yield name, [distance for edge, distance in notches if edge == name]
