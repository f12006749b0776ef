"""The pieces of the smock shirt: a wide body gathered into a yoke, gathered sleeves, gussets."""

from demo.drafting import (
    SEAM_MM,
    Drafted,
    Edge,
    SeamLine,
    as_point,
    chain,
    curve,
    doubled,
    fold,
    length_mm,
    line,
    polar,
    rectangle,
    solved,
)
from demo.measurements import Body
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray

YOKE_DEPTH_MM = 85.0
"""Height of the yoke at centre back."""

FRONT_STRIP_MM = 45.0
"""How far the yoke comes forward over the shoulder."""

GATHER_FRONT = 1.35
GATHER_BACK = 1.30
"""Width of the body above the width of the yoke it is gathered into."""

HEAD_GATHER_MM = 60.0
"""The sleeve head is longer than its armhole by this, gathered between the notches."""

GUSSET_MM = 100.0
"""Finished side of the square underarm gusset."""

CUFF_MM = 60.0
"""Finished height of a cuff."""

HEM_MM = 25.0
SLIT_MM = 200.0
"""Depth of the neck slit."""

SHORT_SLEEVE_MM = 140.0
"""Length of the short sleeve below the underarm."""

_SLOPE_DEG = 17.0
_NOTCH_MM = 85.0  # from the underarm to the armhole notches


def _yoke_neck_back(body: Body) -> Point:
    return body.neck_mm / 6.0 + 6.0, YOKE_DEPTH_MM + 20.0


def _yoke_shoulder(body: Body) -> Point:
    return polar(_yoke_neck_back(body), body.shoulder_mm + 22.0, -_SLOPE_DEG)


def _yoke_front(body: Body) -> tuple[Point, Point]:
    """Return the front edge of the yoke, from the armhole to the neck."""
    up = 90.0 - _SLOPE_DEG
    outer = polar(_yoke_shoulder(body), FRONT_STRIP_MM, up)
    inner = polar(polar(_yoke_neck_back(body), FRONT_STRIP_MM, up), -12.0, -_SLOPE_DEG)
    return outer, inner


def yoke(body: Body) -> Drafted:
    """Draft the half yoke, over the shoulder in one piece, centre back on the fold."""
    corner = (_yoke_shoulder(body)[0] - 6.0, 0.0)
    outer, inner = _yoke_front(body)
    nape = (0.0, YOKE_DEPTH_MM)
    side = _yoke_neck_back(body)
    armhole = chain(
        curve(corner, _yoke_shoulder(body), leave_deg=88.0, arrive_deg=78.0),
        line(_yoke_shoulder(body), outer),
    )
    neck = chain(
        curve(inner, side, leave_deg=262.0, arrive_deg=243.0),
        curve(side, nape, leave_deg=243.0, arrive_deg=180.0, pull=(0.42, 0.46)),
    )
    seam = SeamLine(
        (
            Edge("back", line((0.0, 0.0), corner)),
            Edge("armhole", armhole),
            Edge("front", line(outer, inner)),
            Edge("neck", neck),
            fold(nape, (0.0, 0.0)),
        )
    )
    return Drafted(
        seam=seam,
        grain=((35.0, 12.0), (35.0, YOKE_DEPTH_MM - 12.0)),
        notches=(
            *doubled("back", 0.45 * corner[0]),
            ("front", 60.0),
            ("armhole", -FRONT_STRIP_MM),
            ("neck", FRONT_STRIP_MM),
        ),
        match={"centre back at yoke": (0.0, 0.0)},
        lines=(("shoulder", line(side, _yoke_shoulder(body))),),
    )


def _underarm(body: Body) -> Point:
    return 0.34 * body.chest_mm, body.back_waist_mm - body.chest_mm / 8.0 - 128.0


def _side(body: Body) -> FloatArray:
    """Return the side seam from hem to underarm, the same on front and back."""
    x, y = _underarm(body)
    return line((x + 18.0, _hem_y(body) + 14.0), (x, y))


def _hem_y(body: Body) -> float:
    return -0.21 * body.height_mm


def _hem(body: Body) -> FloatArray:
    foot = as_point(_side(body)[0])
    return curve((0.0, _hem_y(body)), foot, leave_deg=0.0, arrive_deg=6.0)


def _side_marks(body: Body) -> tuple[tuple[str, float], ...]:
    return ("side", -GUSSET_MM), ("side", -body.back_waist_mm / 2.0 - 60.0)


def _body_armhole(body: Body, corner: Point, arrive_deg: float) -> FloatArray:
    return curve(_underarm(body), corner, leave_deg=156.0, arrive_deg=arrive_deg, pull=(0.32, 0.5))


def _at_waist(body: Body) -> Point:
    foot, top = _side(body)
    share = float(foot[1] / (foot[1] - top[1]))
    return float(foot[0] + share * (top[0] - foot[0])), 0.0


def back(body: Body) -> Drafted:
    """Draft the half back, gathered into the yoke, centre back on the fold."""
    top = body.back_waist_mm - YOKE_DEPTH_MM
    corner = (GATHER_BACK * yoke(body).seam.length_mm("back"), top)
    seam = SeamLine(
        (
            Edge("hem", _hem(body), HEM_MM),
            Edge("side", _side(body)),
            Edge("armhole", _body_armhole(body, corner, 88.0)),
            Edge("top", line(corner, (0.0, top))),
            fold((0.0, top), (0.0, _hem_y(body))),
        )
    )
    return Drafted(
        seam=seam,
        grain=((60.0, _hem_y(body) + 60.0), (60.0, top - 60.0)),
        notches=(
            *_side_marks(body),
            *doubled("armhole", _NOTCH_MM),
            *doubled("top", -0.45 * corner[0]),
        ),
        match={"side at waist": _at_waist(body), "centre back at yoke": (0.0, top)},
        lines=(("gather", line((corner[0] - 40.0, top - 5.0), (30.0, top - 5.0))),),
    )


def front(body: Body) -> Drafted:
    """Draft the half front with its neck slit, centre front on the fold."""
    neck = (_yoke_front(body)[1][0], body.back_waist_mm - 32.0)
    along = GATHER_FRONT * yoke(body).seam.length_mm("front")
    corner = polar(neck, along, -9.0)
    low = (0.0, body.back_waist_mm - body.neck_mm / 6.0 + 5.0)
    slit_end = (0.0, low[1] - SLIT_MM)
    neckline = curve(neck, low, leave_deg=238.0, arrive_deg=180.0, pull=(0.3, 0.42))
    seam = SeamLine(
        (
            Edge("hem", _hem(body), HEM_MM),
            Edge("side", _side(body)),
            Edge("armhole", _body_armhole(body, corner, 81.0)),
            Edge("top", line(corner, neck)),
            Edge("neck", neckline),
            fold(low, (0.0, _hem_y(body))),
        )
    )
    below = (neck[0], neck[1] - 5.0)
    return Drafted(
        seam=seam,
        grain=((60.0, _hem_y(body) + 60.0), (60.0, low[1] - 60.0)),
        notches=(*_side_marks(body), ("armhole", _NOTCH_MM), ("top", 0.6 * along)),
        match={
            "side at waist": _at_waist(body),
            "armhole at front notch": seam.point("armhole", _NOTCH_MM),
        },
        holes=(slit_end,),
        lines=(
            ("gather", line(polar(below, along - 40.0, -9.0), polar(below, 30.0, -9.0))),
            ("neck slit", line(low, slit_end)),
        ),
    )


def armhole_mm(body: Body) -> float:
    """Return the length of one armhole along the seam: front, yoke and back, mm."""
    return sum(draft(body).seam.length_mm("armhole") for draft in (front, yoke, back))


def _cap_mm(body: Body) -> float:
    return 0.32 * armhole_mm(body)


def _head(wide_mm: float, cap_mm: float, underarm_y: float) -> FloatArray:
    """Return a sleeve head from the front underarm, on the right, over the top to the back."""
    half, top = wide_mm / 2.0, (0.0, underarm_y + cap_mm)
    front_turn = (0.50 * half, underarm_y + 0.50 * cap_mm)
    back_turn = (-0.54 * half, underarm_y + 0.53 * cap_mm)
    return chain(
        curve((half, underarm_y), front_turn, leave_deg=176.0, arrive_deg=128.0),
        curve(front_turn, top, leave_deg=128.0, arrive_deg=180.0),
        curve(top, back_turn, leave_deg=180.0, arrive_deg=229.0),
        curve(back_turn, (-half, underarm_y), leave_deg=229.0, arrive_deg=188.0),
    )


def _head_width_mm(body: Body) -> float:
    """Return the width of the sleeve whose head has the wanted length."""
    cap = _cap_mm(body)
    wanted = armhole_mm(body) + HEAD_GATHER_MM
    return solved(lambda wide: length_mm(_head(wide, cap, 0.0)), wanted, low=200.0, high=800.0)


def cuff_mm(body: Body) -> float:
    """Return the finished length of a cuff, with 25 mm to overlap, mm."""
    return body.wrist_mm + 70.0


def sleeve(body: Body) -> Drafted:
    """Draft the long sleeve, gathered at its head and into its cuff."""
    seam_mm = body.arm_mm - 22.0 - CUFF_MM + 30.0 - _cap_mm(body)
    wide = 1.5 * (cuff_mm(body) - 25.0)
    split_x = -0.27 * wide
    slit = ("wrist slit", line((split_x, 0.0), (split_x, 90.0)))
    gather = ("gather", line((wide / 2.0 - 20.0, 6.0), (20.0 - wide / 2.0, 6.0)))
    return _sleeve(body, seam_mm, hem_wide_mm=wide, hem_mm=SEAM_MM, lines=(slit, gather))


def short_sleeve(body: Body) -> Drafted:
    """Draft the short sleeve of view B, hemmed above the elbow."""
    return _sleeve(
        body,
        SHORT_SLEEVE_MM,
        hem_wide_mm=_head_width_mm(body) - 30.0,
        hem_mm=HEM_MM,
        lines=(),
    )


def _sleeve(
    body: Body,
    seam_mm: float,
    *,
    hem_wide_mm: float,
    hem_mm: float,
    lines: tuple[tuple[str, FloatArray], ...],
) -> Drafted:
    half, foot = _head_width_mm(body) / 2.0, hem_wide_mm / 2.0
    seam = SeamLine(
        (
            Edge("hem", line((-foot, 0.0), (foot, 0.0)), hem_mm),
            Edge("front underarm", line((foot, 0.0), (half, seam_mm))),
            Edge("head", _head(2.0 * half, _cap_mm(body), seam_mm)),
            Edge("back underarm", line((-half, seam_mm), (-foot, 0.0))),
        )
    )
    front_mm = front(body).seam.length_mm("armhole") + FRONT_STRIP_MM
    return Drafted(
        seam=seam,
        grain=((0.0, 20.0), (0.0, seam_mm + 0.6 * _cap_mm(body))),
        notches=(
            ("front underarm", -GUSSET_MM),
            ("head", _NOTCH_MM),
            ("head", front_mm + HEAD_GATHER_MM / 2.0),
            *doubled("head", -_NOTCH_MM),
            ("back underarm", GUSSET_MM),
        ),
        match={"armhole at front notch": seam.point("head", _NOTCH_MM)},
        lines=lines,
    )


def gusset(body: Body) -> Drafted:
    """Draft the square underarm gusset, the same in every size."""
    del body
    return Drafted(
        seam=rectangle(GUSSET_MM, GUSSET_MM),
        grain=((GUSSET_MM / 2.0, 15.0), (GUSSET_MM / 2.0, GUSSET_MM - 15.0)),
    )


def neckline_mm(body: Body) -> float:
    """Return half the neckline along the seam, from the slit to centre back, mm."""
    return front(body).seam.length_mm("neck") + yoke(body).seam.length_mm("neck")


def collar(body: Body) -> Drafted:
    """Draft the half collar, centre back on the fold, its points turned a little outward."""
    wanted = neckline_mm(body)

    def neck(reach: float) -> FloatArray:
        return curve((0.0, 0.0), (reach, 9.0), leave_deg=0.0, arrive_deg=6.0)

    reach = solved(lambda x: length_mm(neck(x)), wanted, low=0.5 * wanted, high=wanted)
    tip = (reach + 16.0, 94.0)
    seam = SeamLine(
        (
            Edge("neck", neck(reach)),
            Edge("front end", line((reach, 9.0), tip)),
            Edge("outer", curve(tip, (0.0, 76.0), leave_deg=187.0, arrive_deg=180.0)),
            fold((0.0, 76.0), (0.0, 0.0)),
        )
    )
    shoulder = yoke(body).seam.length_mm("neck") - FRONT_STRIP_MM
    return Drafted(
        seam=seam,
        grain=((28.0, 8.0), (28.0, 68.0)),
        notches=(("neck", shoulder),),
    )


def cuff(body: Body) -> Drafted:
    """Draft the cuff, folded along its middle."""
    long = cuff_mm(body)
    return Drafted(
        seam=rectangle(long, 2.0 * CUFF_MM),
        grain=((long / 2.0, 15.0), (long / 2.0, 2.0 * CUFF_MM - 15.0)),
        notches=(("bottom", 25.0), ("right", CUFF_MM), ("left", CUFF_MM)),
        lines=(
            ("fold line", line((0.0, CUFF_MM), (long, CUFF_MM))),
            ("buttonhole", line((long - 18.0, CUFF_MM / 2.0), (long - 4.0, CUFF_MM / 2.0))),
        ),
    )


def placket(body: Body) -> Drafted:
    """Draft the facing of the neck slit, pointed at its foot."""
    del body
    half, top, foot = 35.0, 0.0, -SLIT_MM - 25.0
    corners = ((-half, top), (-half, foot), (0.0, foot - 22.0), (half, foot), (half, top))
    names = ("left", "foot, left", "foot, right", "right")
    sides = zip(names, corners, corners[1:], strict=False)
    seam = SeamLine(
        (
            *(Edge(name, line(start, end), 10.0) for name, start, end in sides),
            Edge("neck", line(corners[-1], corners[0])),
        )
    )
    return Drafted(
        seam=seam,
        grain=((18.0, foot + 30.0), (18.0, -30.0)),
        notches=(("neck", half),),
        holes=((0.0, -SLIT_MM),),
        lines=(("neck slit", line((0.0, 0.0), (0.0, -SLIT_MM))),),
    )
