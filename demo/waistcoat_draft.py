"""The pieces of the waistcoat, drafted from its block."""

from dataclasses import replace

from demo.drafting import (
    Drafted,
    Edge,
    SeamLine,
    as_point,
    doubled,
    fold,
    line,
    polar,
    rectangle,
    split,
)
from demo.measurements import Body
from demo.waistcoat_block import (
    BACK_SLOPE_DEG,
    BELOW_WAIST_MM,
    FACING_HEM_MM,
    FACING_SHOULDER_MM,
    FRONT_SLOPE_DEG,
    Block,
)
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray


def _front_dart(block: Block) -> tuple[tuple[str, FloatArray], ...]:
    x = 0.45 * block.underarm[0]
    tip, foot = (x, block.underarm[1] - 45.0), (x, -26.0)
    return (
        ("dart, front leg", line(tip, (x - 8.0, 0.0), foot)),
        ("dart, side leg", line(tip, (x + 8.0, 0.0), foot)),
    )


def _back_dart(block: Block) -> tuple[tuple[str, FloatArray], ...]:
    x = 0.42 * block.underarm[0]
    tip, foot = (x, block.underarm[1] - 20.0), (x, -BELOW_WAIST_MM + 10.0)
    return (
        ("dart, centre leg", line(tip, (x - 8.0, 0.0), foot)),
        ("dart, side leg", line(tip, (x + 8.0, 0.0), foot)),
    )


def _pocket(block: Block) -> tuple[Point, Point]:
    x = 0.29 * block.underarm[0]
    start = (x, -34.0)
    return start, polar(start, _welt_mm(block.body), 5.0)


def _welt_mm(body: Body) -> float:
    return body.chest_mm / 20.0 + 60.0


def button_count(body: Body) -> int:
    """Return the number of buttons: six on the longer fronts, else five."""
    return 6 if body.back_waist_mm > 430.0 else 5


def _side_marks() -> tuple[tuple[str, float], ...]:
    return ("side", 40.0), ("side", -70.0)


def front(body: Body) -> Drafted:
    """Draft the front: V neck, pointed hem, waist dart, welt pocket, buttonholes."""
    block = Block(body)
    seam = SeamLine(
        (
            Edge("hem", block.front_hem),
            Edge("side", block.side),
            Edge("armhole", block.front_armhole),
            Edge("shoulder", line(block.shoulder_front, block.neck_front)),
            Edge("neck", block.lapel),
            Edge("front edge", block.front_edge),
        )
    )
    top = block.underarm[1] - 40.0
    count = button_count(body)
    heights = [top + (-58.0 - top) * i / (count - 1) for i in range(count)]
    pocket = _pocket(block)
    return Drafted(
        seam=seam,
        grain=((0.72 * block.underarm[0], -30.0), (0.72 * block.underarm[0], block.underarm[1])),
        notches=(*_side_marks(), ("armhole", 95.0), ("shoulder", 50.0), ("front edge", 0.0)),
        match={
            "side at waist": block.waist,
            "centre front at waist": (0.0, 0.0),
            "pocket, front end": pocket[0],
        },
        holes=(*pocket, (0.45 * block.underarm[0], block.underarm[1] - 45.0)),
        lines=(
            *_front_dart(block),
            ("welt pocket", line(*pocket)),
            ("centre front", line((0.0, top + 20.0), (0.0, -88.0))),
            *(
                (f"buttonhole {i}", line((-2.0, y), (16.0, y)))
                for i, y in enumerate(heights, start=1)
            ),
        ),
    )


def front_facing(body: Body) -> Drafted:
    """Draft the front facing, from the shoulder down to the point."""
    block = Block(body)
    hem, _ = split(block.front_hem, FACING_HEM_MM)
    top = polar(block.neck_front, FACING_SHOULDER_MM, -FRONT_SLOPE_DEG)
    seam = SeamLine(
        (
            Edge("hem", hem),
            Edge("inner", block.facing_line),
            Edge("shoulder", line(top, block.neck_front)),
            Edge("neck", block.lapel),
            Edge("front edge", block.front_edge),
        )
    )
    return Drafted(
        seam=seam,
        grain=((22.0, -50.0), (22.0, block.underarm[1] - 30.0)),
        notches=(("front edge", 0.0), ("inner", 120.0), ("inner", -150.0)),
        lines=(("centre front", line((0.0, block.underarm[1] - 20.0), (0.0, -88.0))),),
    )


def front_lining(body: Body) -> Drafted:
    """Draft the front lining: the front without its facing."""
    block = Block(body)
    _, hem = split(block.front_hem, FACING_HEM_MM)
    top = polar(block.neck_front, FACING_SHOULDER_MM, -FRONT_SLOPE_DEG)
    seam = SeamLine(
        (
            Edge("hem", hem),
            Edge("side", block.side),
            Edge("armhole", block.front_armhole),
            Edge("shoulder", line(block.shoulder_front, top)),
            Edge("inner", block.facing_line[::-1]),
        )
    )
    x = 0.72 * block.underarm[0]
    return Drafted(
        seam=seam,
        grain=((x, -30.0), (x, block.underarm[1])),
        notches=(*_side_marks(), ("armhole", 95.0), ("inner", 150.0), ("inner", -120.0)),
        lines=_front_dart(block),
    )


def back(body: Body) -> Drafted:
    """Draft the half back, centre back on the fold."""
    block = Block(body)
    hem = block.back_hem
    seam = SeamLine(
        (
            Edge("hem", hem),
            Edge("side", block.side),
            Edge("armhole", block.back_armhole),
            Edge("shoulder", line(block.shoulder_back, block.neck_back)),
            Edge("neck", block.back_neck),
            fold((0.0, body.back_waist_mm), (0.0, float(hem[0][1]))),
        )
    )
    return Drafted(
        seam=seam,
        grain=((45.0, 20.0), (45.0, body.back_waist_mm - 120.0)),
        notches=(*_side_marks(), *doubled("armhole", 90.0), ("shoulder", 52.0)),
        match={
            "side at waist": block.waist,
            "centre back at neck": (0.0, body.back_waist_mm),
        },
        holes=((0.42 * block.underarm[0], block.underarm[1] - 20.0),),
        lines=_back_dart(block),
    )


def belted_back(body: Body) -> Drafted:
    """Draft the half back of view B: the back with the place of the belt drawn in."""
    plain = back(body)
    x = 0.42 * Block(body).underarm[0]
    places = tuple(
        (f"belt, {where} edge", line((x - 8.0, y), (x - 60.0, y)))
        for where, y in (("upper", 17.0), ("lower", -17.0))
    )
    return replace(plain, lines=(*plain.lines, *places))


def back_lining(body: Body) -> Drafted:
    """Draft the half back lining: the back without its neck facing."""
    block = Block(body)
    top = polar(block.neck_back, FACING_SHOULDER_MM, -BACK_SLOPE_DEG)
    low = block.neck_facing_line[0]
    seam = SeamLine(
        (
            Edge("hem", block.back_hem),
            Edge("side", block.side),
            Edge("armhole", block.back_armhole),
            Edge("shoulder", line(block.shoulder_back, top)),
            Edge("inner", block.neck_facing_line[::-1]),
            fold((0.0, float(low[1])), (0.0, float(block.back_hem[0][1]))),
        )
    )
    return Drafted(
        seam=seam,
        grain=((45.0, 20.0), (45.0, body.back_waist_mm - 120.0)),
        notches=(*_side_marks(), *doubled("armhole", 90.0), ("inner", 40.0)),
        lines=_back_dart(block),
    )


def neck_facing(body: Body) -> Drafted:
    """Draft the half back neck facing, centre back on the fold."""
    block = Block(body)
    inner = block.neck_facing_line
    top = as_point(inner[-1])
    seam = SeamLine(
        (
            Edge("inner", inner),
            Edge("shoulder", line(top, block.neck_back)),
            Edge("neck", block.back_neck),
            fold((0.0, body.back_waist_mm), (0.0, float(inner[0][1]))),
        )
    )
    y = body.back_waist_mm
    return Drafted(
        seam=seam,
        grain=((18.0, y - 44.0), (18.0, y - 6.0)),
        notches=(("inner", -40.0), ("neck", 40.0)),
    )


def welt(body: Body) -> Drafted:
    """Draft the pocket welt, folded along its middle to a finished height of 24 mm."""
    wide = _welt_mm(body)
    return Drafted(
        seam=rectangle(wide, 48.0),
        grain=((wide / 2.0, 4.0), (wide / 2.0, 44.0)),
        notches=(("right", 24.0), ("left", 24.0)),
        match={"pocket, front end": (0.0, 0.0)},
        lines=(("fold line", line((0.0, 24.0), (wide, 24.0))),),
    )


def belt(body: Body) -> Drafted:
    """Draft one half of the back belt, narrowed to 24 mm to pass the buckle."""
    long = body.waist_mm / 8.0 + 125.0
    outline = (
        (0.0, 0.0), (36.0, 0.0), (30.0, long - 70.0), (30.0, long - 12.0),
        (18.0, long), (6.0, long - 12.0), (6.0, long - 70.0), (0.0, 0.0),
    )  # fmt: skip
    names = ("end", "long side", "neck side", "tip, one side", "tip, other side", "far", "back")
    seam = SeamLine(
        tuple(
            Edge(name, line(start, end), 10.0)
            for name, start, end in zip(names, outline, outline[1:], strict=False)
        )
    )
    return Drafted(
        seam=seam,
        grain=((18.0, 15.0), (18.0, long - 25.0)),
        notches=(("end", 18.0),),
    )
