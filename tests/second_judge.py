"""A second judge of a marker file, in some hundred lines that nobody else uses.

It reads the JSON alone, opens every layer out onto the open cloth by its own sums, and says in
words what is wrong. It imports nothing of ours and is written for nothing but the tests, so that a
fault would have to be made three times to go unseen. Lengths are mm; x runs along the cloth.
"""

import json
import math
from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np
import shapely
from shapely.affinity import affine_transform

SLACK_MM = 0.02
TOPS_DEG = {"lengthwise": 0.0, "crosswise": 90.0, "bias": 45.0, "free": 0.0}
QUARTERS = {"lengthwise": (0, 180), "crosswise": (0, 180)}

Sheet = dict[str, Any]


class Cut(NamedTuple):
    """One piece as it is cut from open cloth: of a half on a fold, the whole."""

    name: str
    item: Sheet
    outline: shapely.Polygon
    arrow_deg: float
    turned_over: bool
    layer: int


def width_of(bolt: Sheet) -> float:
    """Return the washed width between the selvages."""
    return float((bolt["width_mm"] - 2 * bolt["selvage_mm"]) * (1 - bolt["shrink_across"]))


def opened(sheet: Sheet, at: Sheet) -> list[Cut]:
    """Return each piece that is cut at a placement."""
    item = next(one for one in sheet["items"] if one["key"] == at["item"])
    run, width = sheet["stretches"][at["stretch"]], width_of(sheet["bolt"])
    spread = run["spread"]
    on_fold = spread in ("lengthwise", "double") and item["half"] is not None
    shape = item["half"] if on_fold else item["shape"]
    angle, side = math.radians(at["turn_deg"]), -1.0 if at["flipped"] else 1.0
    cos, sin = math.cos(angle), math.sin(angle)
    where = [side * cos, -sin, side * sin, cos, at["x_mm"], at["y_mm"]]
    outline = affine_transform(shapely.Polygon(shape["outline_mm"]), where)
    ends = affine_transform(shapely.LineString(shape["grainline_mm"]), where).coords
    along, across = np.subtract(ends[1], ends[0])
    high = shapely.box(*outline.bounds).centroid.y > width / 4
    end = 2 * run["start_mm"] + run["length_mm"]
    # where the point (x, y) of the table lies on open cloth, for each layer: factors, then moves
    maps: dict[str, list[tuple[float, float, float, float]]] = {
        "open": [(1, 1, 0, 0)],
        "lengthwise": [(1, 1, 0, width / 2), (1, -1, 0, width / 2)],
        "double": [(1, 1, 0, width / 4), (1, -1, 0, width / 4 + (width if high else 0))],
        "crosswise": [(1, 1, 0, 0), (-1, 1, end, 0)],
        "turned": [(1, 1, 0, 0), (1, -1, run["length_mm"] / 2, width)],
    }
    name = f"{at['item']} no. {at['number']}"
    cuts = [
        Cut(
            name,
            item,
            affine_transform(outline, [sx, 0, 0, sy, dx, dy]),
            math.degrees(math.atan2(sy * across, sx * along)),
            at["flipped"] != (sx * sy < 0),
            layer,
        )
        for layer, (sx, sy, dx, dy) in enumerate(maps[spread])
    ]
    if on_fold:
        both = shapely.union_all([cut.outline.buffer(SLACK_MM, join_style="mitre") for cut in cuts])
        whole = both.buffer(-SLACK_MM, join_style="mitre")
        return [cuts[0]._replace(outline=whole, turned_over=False)]
    return cuts


def faults(text: str) -> list[str]:
    """Return what is wrong with a marker file, in words."""
    sheet = json.loads(text)
    cuts = [cut for at in sheet["placements"] for cut in opened(sheet, at)]
    return [
        *(told for cut in cuts for told in place_faults(sheet, cut)),
        *count_faults(sheet, cuts),
        *near_faults(sheet, cuts),
        *bought_faults(sheet),
    ]


def place_faults(sheet: Sheet, cut: Cut) -> Iterator[str]:
    """Yield what is wrong with one piece by itself: its area, its place and its direction."""
    bolt, item = sheet["bolt"], cut.item
    area = shapely.Polygon(item["shape"]["outline_mm"]).area
    if abs(cut.outline.area - area) > 0.002 * area + 1.0:
        yield f"{cut.name}: {cut.outline.area:.0f} mm2 of {area:.0f} are cut"
    cloth = shapely.box(0, 0, sheet["length_mm"], width_of(bolt))
    if not cloth.buffer(SLACK_MM, join_style="mitre").covers(cut.outline):
        yield f"{cut.name} leaves the cloth"
    shares = 1 - bolt["shrink_along"], 1 - bolt["shrink_across"]
    for flaw in bolt["flaws"]:
        low = flaw["at_mm"] * shares[0], (flaw["across_mm"] - bolt["selvage_mm"]) * shares[1]
        size = flaw["long_mm"] * shares[0], flaw["wide_mm"] * shares[1]
        stain = shapely.box(*low, low[0] + size[0], low[1] + size[1])
        if not stain.intersection(cut.outline).buffer(-SLACK_MM / 2).is_empty:
            yield f"{cut.name} lies on a flaw"
    seen_deg = -cut.arrow_deg if cut.turned_over else cut.arrow_deg
    repeat = bolt["repeat"]
    keeps = bolt["nap"] or item["one_way"] or (repeat is not None and not repeat["even"])
    ways = (0,) if keeps else QUARTERS.get(item["grain"], (0, 90, 180, 270))
    off_deg = min(abs((seen_deg - TOPS_DEG[item["grain"]] - way + 180) % 360 - 180) for way in ways)
    lean_deg = 0.12 if item["half"] else 0.02  # a half lies by its fold edge, not by its arrow
    if off_deg > sheet["rules"]["tilt_deg"] + lean_deg:
        yield f"{cut.name} points {off_deg:.2f} degrees off"


def count_faults(sheet: Sheet, cuts: list[Cut]) -> Iterator[str]:
    """Yield each item that is not cut as often, or as often turned over, as it should be."""
    if not cuts:
        yield "nothing is cut"
    for item in sheet["items"]:
        mine = [cut.turned_over for cut in cuts if cut.item is item]
        ring = shapely.Polygon(item["shape"]["outline_mm"])
        over = affine_transform(ring, [1, 0, 0, -1, 0, ring.bounds[1] + ring.bounds[3]])
        is_mirror = ring.symmetric_difference(over).buffer(-0.03).is_empty
        wanted = item["as_drawn"] + item["turned_over"]
        if len(mine) != wanted:
            yield f"{item['key']}: {len(mine)} cut, {wanted} wanted"
        elif sum(mine) != item["turned_over"] and not is_mirror:
            yield f"{item['key']}: {sum(mine)} turned over, {item['turned_over']} wanted"


def near_faults(sheet: Sheet, cuts: list[Cut]) -> Iterator[str]:
    """Yield each two pieces that share cloth, or in one layer lie nearer than the gap."""
    gap = sheet["rules"]["gap_mm"]
    for number, one in enumerate(cuts):
        for other in cuts[:number]:
            if not one.outline.intersection(other.outline).buffer(-SLACK_MM / 2).is_empty:
                yield f"{one.name} lies on {other.name}"
            elif one.layer == other.layer and one.outline.distance(other.outline) < gap - SLACK_MM:
                yield f"{one.name} lies too near to {other.name}"


def bought_faults(sheet: Sheet) -> Iterator[str]:
    """Yield what is wrong with the shop length: too little, more than a step too much, no step."""
    bolt, shop = sheet["bolt"], sheet["bought"]["shop_length_mm"]
    least = (sheet["length_mm"] + bolt["end_allowance_mm"]) / (1 - bolt["shrink_along"])
    if bolt["repeat"] is not None and not bolt["cut_on_repeat"]:
        least += bolt["repeat"]["along_mm"] or 0.0
    step, left = bolt["shop_step_mm"] or 0, bolt["length_left_mm"]
    if not least - SLACK_MM <= shop <= least + step + SLACK_MM:
        yield f"{shop:.1f} mm are asked for, and {least:.1f} are taken"
    if step and abs(shop / step - round(shop / step)) > 1e-6 and shop != left:
        yield f"{shop:.1f} mm are no whole steps of {step:.1f}"
    if left is not None and least > left + SLACK_MM:
        yield f"{least:.1f} mm are taken, and {left:.1f} are left"
