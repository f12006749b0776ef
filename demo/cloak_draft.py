"""The pieces of the hooded cloak: six panels cut from rings round one centre, and a hood.

A ring is the part of a circle between the neck and the hem. The back is a sector of it on the
fold, the side gores and the fronts are sectors beside it. Every panel is kept narrow enough for
half the width of a 45 in bolt, and the rest of the draft follows from that.
"""

import math
from dataclasses import dataclass

from demo.drafting import (
    SEAM_MM,
    Drafted,
    Edge,
    SeamLine,
    arc,
    as_point,
    chain,
    curve,
    doubled,
    length_mm,
    line,
    polar,
    rectangle,
    solved,
)
from demo.measurements import Body
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray

HEM_MM = 30.0
NECK_EASE_MM = 40.0
"""The finished neckline is wider than the neck by this."""

SHAPING_MM = 12.0
"""Taken off the neck end of each of the four panel seams, twice, to round the shoulder."""

SHAPED_OVER_MM = 180.0
"""Distance down the seam over which that is taken off."""

DART_MM = 24.0
"""Width of the shoulder dart in each side gore, at the neck seam."""

DART_LONG_MM = 120.0
FACING_MM = 95.0
BAND_MM = 110.0
"""Finished width of the hood centre band."""

PLEAT_MM = 30.0
"""Taken up by the pleat at each side of the hood's neck."""

_CLASP_DOWN_MM = 12.0


@dataclass(frozen=True)
class Ring:
    """The ring that the panels are cut from, about the centre (0, 0), the hem downwards.

    Parameters
    ----------
    neck_mm
        Radius at the neck seam.
    long_mm
        From neck seam to finished hem.
    half_deg
        Angle of the half back, and of a front.
    gore_deg
        Angle of a side gore.
    """

    neck_mm: float
    long_mm: float
    half_deg: float
    gore_deg: float

    @property
    def hem_mm(self) -> float:
        """Radius at the finished hem."""
        return self.neck_mm + self.long_mm


def full_length_mm(body: Body) -> float:
    """Return the finished length of view B, from the neck to below the calf, mm."""
    return 0.77 * body.height_mm


def knee_length_mm(body: Body) -> float:
    """Return the finished length of view A, from the neck to the knee, mm."""
    return 0.53 * body.height_mm


def widest_panel_mm(body: Body) -> float:
    """Return how wide half the back is at the hem of view B, on the seam line, mm."""
    return 465.0 + (body.chest_mm - 840.0) / 8.0


def full_ring(body: Body) -> Ring:
    """Return the ring of view B, its neck radius chosen so that the neckline fits."""
    long, wide = full_length_mm(body), widest_panel_mm(body)

    def ring(neck_mm: float) -> Ring:
        hem = neck_mm + long
        half = math.degrees(math.asin(wide / hem))
        gore = 2.0 * math.degrees(math.asin((wide - SEAM_MM) / 2.0 / hem))
        return Ring(neck_mm, long, half, gore)

    wanted = finished_neck_mm(body) + 8.0 * SHAPING_MM + 2.0 * DART_MM

    def neckline(neck_mm: float) -> float:
        made = ring(neck_mm)
        return 2.0 * math.radians(2.0 * made.half_deg + made.gore_deg) * neck_mm

    return ring(solved(neckline, wanted, low=100.0, high=900.0))


def knee_ring(body: Body) -> Ring:
    """Return the ring of view A: that of view B, cut off at the knee."""
    full = full_ring(body)
    return Ring(full.neck_mm, knee_length_mm(body), full.half_deg, full.gore_deg)


def finished_neck_mm(body: Body) -> float:
    """Return the whole finished neckline, mm."""
    return body.neck_mm + NECK_EASE_MM


def _seam(ring: Ring, direction_deg: float, inward: float) -> FloatArray:
    """Return a panel seam from hem to neck, shaped at the shoulder.

    ``inward`` is +1 if the panel lies anticlockwise of the seam, -1 if clockwise.
    """
    out = direction_deg + 180.0  # the way a traveller to the neck is heading
    foot = polar((0.0, 0.0), ring.hem_mm, direction_deg)
    bend = polar((0.0, 0.0), ring.neck_mm + SHAPED_OVER_MM, direction_deg)
    turn_deg = inward * math.degrees(SHAPING_MM / ring.neck_mm)
    neck = polar((0.0, 0.0), ring.neck_mm, direction_deg + turn_deg)
    shaped = curve(bend, neck, leave_deg=out, arrive_deg=out - inward * 10.0)
    return chain(line(foot, bend), shaped)


def _neck(ring: Ring, start: Point, end: Point) -> FloatArray:
    start_deg, end_deg = (math.degrees(math.atan2(y, x)) for x, y in (start, end))
    return arc((0.0, 0.0), ring.neck_mm, start_deg=start_deg, end_deg=end_deg)


def _half_panel(ring: Ring, centre: str, centre_allowance_mm: float) -> SeamLine:
    """Return a sector whose straight centre edge runs down from the neck at x = 0."""
    hem = arc((0.0, 0.0), ring.hem_mm, start_deg=-90.0, end_deg=-90.0 + ring.half_deg)
    side = _seam(ring, -90.0 + ring.half_deg, -1.0)
    hem[0], hem[-1] = (0.0, -ring.hem_mm), side[0]
    neck = _neck(ring, as_point(side[-1]), (0.0, -ring.neck_mm))
    neck[0], neck[-1] = side[-1], (0.0, -ring.neck_mm)
    straight = line((0.0, -ring.neck_mm), (0.0, -ring.hem_mm))
    return SeamLine(
        (
            Edge("hem", hem, HEM_MM),
            Edge("side", side),
            Edge("neck", neck),
            Edge(centre, straight, centre_allowance_mm),
        )
    )


def _hip(seam: SeamLine, ring: Ring, body: Body) -> Point:
    return seam.point("side", ring.long_mm - _hip_mm(body))


def _hip_mm(body: Body) -> float:
    """Return how far below the neck seam the hip lies, mm."""
    return body.back_waist_mm + 200.0


def back(body: Body, ring: Ring) -> Drafted:
    """Draft the half back, centre back on the fold."""
    seam = _half_panel(ring, "fold", 0.0)
    top = -ring.neck_mm
    return Drafted(
        seam=seam,
        grain=((70.0, 120.0 - ring.hem_mm), (70.0, top - 80.0)),
        notches=(*doubled("side", -260.0), ("side", 300.0)),
        match={
            "back seam at hip": _hip(seam, ring, body),
            "centre back at neck": (0.0, top),
        },
    )


def front(body: Body, ring: Ring) -> Drafted:
    """Draft the front, centre front straight and on the grain."""
    seam = _half_panel(ring, "centre front", SEAM_MM)
    top, facing_foot = -ring.neck_mm, (FACING_MM, 60.0 - ring.hem_mm)
    return Drafted(
        seam=seam,
        grain=((130.0, 120.0 - ring.hem_mm), (130.0, top - 80.0)),
        notches=(("side", -220.0), *_opening("side"), ("centre front", 80.0)),
        match={
            "front seam at hip": _hip(seam, ring, body),
            "centre front at hip": (0.0, top - _hip_mm(body)),
        },
        holes=((15.0, top - _CLASP_DOWN_MM),),
        lines=(("edge of the facing", line((FACING_MM, top - 30.0), facing_foot)),),
    )


def _opening(name: str) -> tuple[tuple[str, float], tuple[str, float]]:
    """Return the notches between which the front seam stays open for the hand."""
    return (name, -380.0), (name, -600.0)


def side_gore(body: Body, ring: Ring) -> Drafted:
    """Draft the side gore, its middle on the grain, with a shoulder dart."""
    low, high = -90.0 - ring.gore_deg / 2.0, -90.0 + ring.gore_deg / 2.0
    hem = arc((0.0, 0.0), ring.hem_mm, start_deg=low, end_deg=high)
    front_seam, back_seam = _seam(ring, high, -1.0), _seam(ring, low, 1.0)
    hem[0], hem[-1] = back_seam[0], front_seam[0]
    neck = _neck(ring, as_point(front_seam[-1]), as_point(back_seam[-1]))
    neck[0], neck[-1] = front_seam[-1], back_seam[-1]
    seam = SeamLine(
        (
            Edge("hem", hem, HEM_MM),
            Edge("front seam", front_seam),
            Edge("neck", neck),
            Edge("back seam", back_seam[::-1]),
        )
    )
    half_deg = math.degrees(DART_MM / 2.0 / ring.neck_mm)
    tip = (0.0, -ring.neck_mm - DART_LONG_MM)
    legs = [polar((0.0, 0.0), ring.neck_mm, -90.0 + turn) for turn in (-half_deg, half_deg)]
    middle = seam.length_mm("neck") / 2.0
    hip = ring.long_mm - _hip_mm(body)
    return Drafted(
        seam=seam,
        grain=((0.0, 120.0 - ring.hem_mm), (0.0, tip[1] - 60.0)),
        notches=(
            ("front seam", -220.0),
            *_opening("front seam"),
            ("neck", middle - DART_MM / 2.0),
            ("neck", middle + DART_MM / 2.0),
            *doubled("back seam", 260.0),
            ("back seam", -300.0),
        ),
        match={
            "front seam at hip": seam.point("front seam", hip),
            "back seam at hip": seam.point("back seam", seam.length_mm("back seam") - hip),
        },
        holes=(tip,),
        lines=(("dart, back leg", line(legs[0], tip)), ("dart, front leg", line(legs[1], tip))),
    )


def facing(body: Body, ring: Ring) -> Drafted:
    """Draft the front facing: the strip of the front beside centre front."""
    del body
    foot = (FACING_MM, -math.sqrt(ring.hem_mm**2 - FACING_MM**2))
    top = (FACING_MM, -math.sqrt(ring.neck_mm**2 - FACING_MM**2))
    foot_deg, top_deg = (math.degrees(math.atan2(y, x)) for x, y in (foot, top))
    hem = arc((0.0, 0.0), ring.hem_mm, start_deg=-90.0, end_deg=foot_deg)
    neck = arc((0.0, 0.0), ring.neck_mm, start_deg=top_deg, end_deg=-90.0)
    hem[0], hem[-1] = (0.0, -ring.hem_mm), foot
    neck[0], neck[-1] = top, (0.0, -ring.neck_mm)
    seam = SeamLine(
        (
            Edge("hem", hem, HEM_MM),
            Edge("inner", line(foot, top)),
            Edge("neck", neck),
            Edge("centre front", line((0.0, -ring.neck_mm), (0.0, -ring.hem_mm))),
        )
    )
    middle = FACING_MM / 2.0
    return Drafted(
        seam=seam,
        grain=((middle, 120.0 - ring.hem_mm), (middle, -ring.neck_mm - 80.0)),
        notches=(("centre front", 80.0),),
        holes=((15.0, -ring.neck_mm - _CLASP_DOWN_MM),),
    )


def hood_neck_mm(body: Body) -> float:
    """Return the neck seam of one hood side, its pleat not yet folded, mm."""
    return (finished_neck_mm(body) - BAND_MM) / 2.0 + PLEAT_MM


def hood(body: Body) -> Drafted:
    """Draft one side of the hood; the face edge is on the left and on the grain."""
    high, deep = 0.62 * body.head_mm + 20.0, 0.43 * body.head_mm

    def neckline(reach: float) -> FloatArray:
        return curve((0.0, 0.0), (reach, 24.0), leave_deg=2.0, arrive_deg=18.0)

    wanted = hood_neck_mm(body)
    reach = solved(lambda x: length_mm(neckline(x)), wanted, low=0.5 * wanted, high=wanted)
    nape, behind, face = (reach, 24.0), (deep, 0.52 * high), (0.0, high - 6.0)
    crown = chain(
        curve(nape, behind, leave_deg=72.0, arrive_deg=90.0),
        curve(behind, (0.40 * deep, high), leave_deg=90.0, arrive_deg=178.0, pull=(0.42, 0.40)),
        curve((0.40 * deep, high), face, leave_deg=178.0, arrive_deg=184.0),
    )
    seam = SeamLine(
        (
            Edge("neck", neckline(reach)),
            Edge("crown", crown),
            Edge("face", line(face, (0.0, 0.0)), HEM_MM),
        )
    )
    x, y = seam.point("neck", 0.45 * wanted)
    return Drafted(
        seam=seam,
        grain=((40.0, 50.0), (40.0, high - 60.0)),
        notches=(
            ("neck", 0.45 * wanted),
            ("neck", 0.45 * wanted + PLEAT_MM),
            ("crown", 150.0),
            ("crown", -150.0),
        ),
        match={"centre of the face edge": (0.0, 0.5 * high)},
        lines=(("pleat", line((x, y), (x, y + 45.0))),),
    )


def band(body: Body) -> Drafted:
    """Draft the hood centre band, from the neck over the crown to the face."""
    long = hood(body).seam.length_mm("crown")
    return Drafted(
        seam=rectangle(BAND_MM, long, top=HEM_MM),
        grain=((BAND_MM / 2.0, 60.0), (BAND_MM / 2.0, long - 60.0)),
        notches=(
            ("bottom", BAND_MM / 2.0),
            ("right", 150.0),
            ("right", -150.0),
            ("left", 150.0),
            ("left", -150.0),
        ),
        match={"centre back at neck": (BAND_MM / 2.0, 0.0)},
    )
