"""The pieces of the knapsack: a round base, two panels, a rounded flap, pocket and straps."""

import math

import numpy as np

from demo.drafting import Drafted, Edge, SeamLine, arc, chain, curve, line, rectangle
from demo.measurements import Pack
from pieces.outline.polygon import FloatArray

STRAP_MM = 40.0
"""Finished width of the shoulder straps."""

CASING_MM = 30.0
"""Finished height of the band that holds eyelets and cord."""

EYELETS = 8
BINDING_MM = 40.0
"""Cut width of the bias binding round the flap; nothing is added to it."""

POCKET_HEM_MM = 35.0
POCKET_CORNER_MM = 35.0
"""Radius of the pocket's lower corners."""

_ROUND = (0.45, 0.45)


def round_mm(pack: Pack) -> float:
    """Return the seam round the base, mm."""
    return math.pi * pack.base_mm


def half_round_mm(pack: Pack) -> float:
    """Return the width of a panel: half the way round the base, mm."""
    return round_mm(pack) / 2.0


def pocket_size_mm(pack: Pack) -> tuple[float, float]:
    """Return the finished width and height of the pocket, mm."""
    return 0.62 * half_round_mm(pack), 0.45 * pack.height_mm


def flap_size_mm(pack: Pack) -> tuple[float, float]:
    """Return the width of the flap at the seam and its length down from there, mm."""
    return 0.82 * pack.base_mm, 0.9 * pack.base_mm + 0.28 * pack.height_mm


def base(pack: Pack) -> Drafted:
    """Draft the round base, in four quarters, the grain along the back-to-front diameter."""
    radius = pack.base_mm / 2.0
    quarters = tuple(
        Edge(name, arc((0.0, 0.0), radius, start_deg=start, end_deg=start + 90.0))
        for name, start in (("one", 0.0), ("two", 90.0), ("three", 180.0), ("four", 270.0))
    )
    return Drafted(
        seam=SeamLine(quarters),
        grain=((0.0, -0.6 * radius), (0.0, 0.6 * radius)),
        notches=(("one", 0.0), ("two", 0.0), ("three", 0.0), ("four", 0.0)),
    )


def _panel(pack: Pack) -> SeamLine:
    return rectangle(half_round_mm(pack), pack.height_mm)


def _panel_notches(pack: Pack) -> tuple[tuple[str, float], ...]:
    middle = half_round_mm(pack) / 2.0
    high = 0.6 * pack.height_mm
    return ("bottom", middle), ("top", middle), ("right", high), ("left", -high)


def _rounded_foot(wide_mm: float, high_mm: float, corner_mm: float) -> FloatArray:
    """Return a U with rounded corners from its upper left end to its upper right, from (0, 0)."""
    left, right = (corner_mm, corner_mm), (wide_mm - corner_mm, corner_mm)
    return np.concatenate(
        (
            line((0.0, high_mm)),
            arc(left, corner_mm, start_deg=180.0, end_deg=270.0),
            arc(right, corner_mm, start_deg=270.0, end_deg=360.0),
            line((wide_mm, high_mm)),
        )
    )


def front_panel(pack: Pack) -> Drafted:
    """Draft the front panel with the place of the pocket."""
    wide, high = half_round_mm(pack), pack.height_mm
    pocket_wide, pocket_high = pocket_size_mm(pack)
    left, low = (wide - pocket_wide) / 2.0, 0.14 * high
    mouth = low + pocket_high
    place = _rounded_foot(pocket_wide, pocket_high, POCKET_CORNER_MM) + line((left, low))
    return Drafted(
        seam=_panel(pack),
        grain=((26.0, 40.0), (26.0, high - 40.0)),
        notches=_panel_notches(pack),
        match={
            "side at mid-height": (0.0, high / 2.0),
            "centre of the pocket mouth": (wide / 2.0, mouth),
        },
        holes=((left, mouth), (left + pocket_wide, mouth)),
        lines=(("pocket", place),),
    )


def back_panel(pack: Pack) -> Drafted:
    """Draft the back panel with the places of the straps, the tabs and the flap."""
    wide, high = half_round_mm(pack), pack.height_mm
    flap_wide, _ = flap_size_mm(pack)
    middle, strap_y, flap_y = wide / 2.0, high - 45.0, high - 30.0
    inner, outer = middle - 12.0 - STRAP_MM, middle + 12.0
    flap_ends = ((middle - flap_wide / 2.0, flap_y), (middle + flap_wide / 2.0, flap_y))
    return Drafted(
        seam=_panel(pack),
        grain=((26.0, 40.0), (26.0, high - 60.0)),
        notches=(
            *_panel_notches(pack),
            ("bottom", 45.0),
            ("bottom", -45.0),
        ),
        match={
            "side at mid-height": (wide, high / 2.0),
            "centre of the flap": (middle, flap_y),
        },
        holes=flap_ends,
        lines=(
            ("flap", line(*flap_ends)),
            ("left strap", line((inner, strap_y), (inner + STRAP_MM, strap_y))),
            ("right strap", line((outer, strap_y), (outer + STRAP_MM, strap_y))),
        ),
    )


def flap(pack: Pack) -> Drafted:
    """Draft the flap as it lies over the front: sewn on at the top, rounded at the foot."""
    wide, long = flap_size_mm(pack)
    half, spread = wide / 2.0, 0.58 * wide
    shoulder = 0.45 * long
    side = curve((spread, shoulder), (half, long), leave_deg=90.0, arrive_deg=100.0)
    foot_right = curve((0.0, 0.0), (spread, shoulder), leave_deg=0.0, arrive_deg=90.0, pull=_ROUND)
    seam = SeamLine(
        (
            Edge("right", chain(foot_right, side), 0.0),
            Edge("top", line((half, long), (-half, long))),
            Edge("left", chain(foot_right, side)[::-1] * (-1.0, 1.0), 0.0),
        )
    )
    return Drafted(
        seam=seam,
        grain=((0.0, 60.0), (0.0, long - 30.0)),
        notches=(("top", half),),
        match={"centre of the flap": (0.0, long)},
        holes=((0.0, 35.0),),
        lines=(("motif", line((-45.0, 0.4 * long), (0.0, 0.65 * long), (45.0, 0.4 * long))),),
    )


def flap_edge_mm(pack: Pack) -> float:
    """Return the edge of the flap that is bound, from seam to seam, mm."""
    seam = flap(pack).seam
    return seam.length_mm("right") + seam.length_mm("left")


def binding(pack: Pack) -> Drafted:
    """Draft half the bias binding of the flap, with 20 mm to join and to turn in at each end."""
    long = flap_edge_mm(pack) / 2.0 + 40.0
    seam = rectangle(BINDING_MM, long, bottom=0.0, right=0.0, top=0.0, left=0.0)
    middle = BINDING_MM / 2.0
    return Drafted(
        seam=seam,
        grain=((middle, 40.0), (middle, long - 40.0)),
        lines=(("fold line", line((middle, 0.0), (middle, long))),),
    )


def pocket(pack: Pack) -> Drafted:
    """Draft the pocket: rounded at the foot, with a hem of 35 mm at its mouth."""
    wide, high = pocket_size_mm(pack)
    seam = SeamLine(
        (
            Edge("foot", _rounded_foot(wide, high, POCKET_CORNER_MM)),
            Edge("mouth", line((wide, high), (0.0, high)), POCKET_HEM_MM),
        )
    )
    return Drafted(
        seam=seam,
        grain=((wide / 2.0, 25.0), (wide / 2.0, high - 20.0)),
        notches=(("foot", 2.0), ("foot", -2.0)),
        match={"centre of the pocket mouth": (wide / 2.0, high)},
        lines=(("fold of the mouth", line((0.0, high), (wide, high))),),
    )


def strap(pack: Pack) -> Drafted:
    """Draft a shoulder strap, folded lengthwise."""
    return _folded_strap(pack.strap_mm, grain_from_end_mm=40.0)


def tab(pack: Pack) -> Drafted:
    """Draft the tab that holds a buckle at the foot of the back, folded lengthwise."""
    del pack
    return _folded_strap(110.0, grain_from_end_mm=15.0)


def _folded_strap(long_mm: float, *, grain_from_end_mm: float) -> Drafted:
    wide = 2.0 * STRAP_MM
    tail, head = grain_from_end_mm, long_mm - grain_from_end_mm
    return Drafted(
        seam=rectangle(wide, long_mm),
        grain=((0.25 * wide, tail), (0.25 * wide, head)),
        notches=(("bottom", wide / 2.0), ("top", wide / 2.0)),
        lines=(("fold line", line((wide / 2.0, 0.0), (wide / 2.0, long_mm))),),
    )


def casing(pack: Pack) -> Drafted:
    """Draft half the casing band, folded lengthwise, with its eyelets marked."""
    long = half_round_mm(pack)
    eyelets = tuple(
        (1.5 * CASING_MM, long * (i + 0.5) / (EYELETS / 2)) for i in range(EYELETS // 2)
    )
    return Drafted(
        seam=rectangle(2.0 * CASING_MM, long),
        grain=((0.5 * CASING_MM, 30.0), (0.5 * CASING_MM, long - 30.0)),
        notches=(("right", long / 2.0), ("left", long / 2.0)),
        holes=eyelets,
        lines=(("fold line", line((CASING_MM, 0.0), (CASING_MM, long))),),
    )
