"""Whether the pieces of a marker agree on the repeat of the cloth, worked out from where they lie.

Every match point is taken to its place on the cloth, both layers of a fold each by itself. Points
of one name within one garment must lie at one phase of the repeat. A piece whose top points the
other way shows an even design mirrored: its phases count backwards from an axis of the repeat.
Where along the cloth that axis lies is for the person to choose, and it is one place for the whole
lay; across, it is taken to be the middle of the cloth.

Left and right: a name that one piece has alone is a seam in which its two copies meet, so they
agree with each other. A name on several pieces says that these meet, left with left and right with
right; a piece opened out meets both.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.checks.laid_pieces import LaidPiece, error, words
from nesting.checks.own_rules import (
    cloth_width_mm,
    comes_out,
    off_repeat_mm,
    off_top_deg,
    washed_repeat_mm,
)
from nesting.checks.plies import Layer
from nesting.cloth.bolt import Bolt
from nesting.cloth.repeat import Axis, GivenUp
from nesting.marker.marker import Marker
from pieces.finding import Finding, Severity
from pieces.grainline import Grain
from pieces.marks import MatchWay

MATCH_TOLERANCE_MM = 0.5
"""How far a match may be off: no more than a seam hides (common practice)."""

_WAYS = {
    Axis.ALONG: {MatchWay.ALONG, MatchWay.BOTH},
    Axis.ACROSS: {MatchWay.ACROSS, MatchWay.BOTH},
}


@dataclass(frozen=True)
class _Seen:
    """A match point of one piece as cut: where it lies, and how the design runs on it."""

    at_mm: float
    turned: bool
    sides: frozenset[str]
    item: str
    label: str


@dataclass(frozen=True, kw_only=True)
class Match:
    """Points of one name within one garment, on one axis.

    Parameters
    ----------
    axis, repeat_mm
        The direction, and the repeat in the coordinates of the marker, mm.
    garment, point
        Number of the garment (0 if it is not told), and the name.
    items
        Keys of the cut items that carry it.
    at_mm
        Where the first of them lies that is not turned top to bottom: along, from the cut end;
        across, from the middle of the cloth.
    mirror_mm
        Where an axis of the design lies about which turned pieces match, as ``at_mm``; None if no
        piece is turned top to bottom, so that any place of the design will do.
    off_mm
        How far the worst of them is off.
    labels
        The two pieces of which that is true.
    """

    axis: Axis
    repeat_mm: float
    garment: int
    point: str
    items: frozenset[str]
    at_mm: float
    mirror_mm: float | None
    off_mm: float
    labels: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether a seam hides what it is off."""
        return self.off_mm <= MATCH_TOLERANCE_MM


def match_findings(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Finding]:
    """Yield what does not agree on the repeat, and what was never to agree.

    Codes: ``repeat-not-matched``, ``wrong-garment``; ``match-given-up`` is a warning.
    """
    if marker.bolt.repeat is None:
        return
    yield from _garments(marker, laid)
    washed = " once washed" if marker.bolt.shrink_along or marker.bolt.shrink_across else ""
    for match in matches_on(marker, laid):
        if not match.holds:
            yield error(
                "repeat-not-matched",
                f'"{match.point}" of {" and ".join(match.labels)} is {match.off_mm:.1f} mm off '
                f"the match {match.axis} the cloth, on a repeat of "
                f"{words(marker, match.repeat_mm)}{washed}",
                *match.labels,
            )
    for one in marker.given_up:
        yield _given_up(marker, one)


def _given_up(marker: Marker, one: GivenUp) -> Finding:
    item = next((item for item in marker.items if item.key == one.item), None)
    label = one.item if item is None else f"{item.title} {item.size}"
    sentence = f'"{one.point}" of {label} is not matched {one.axis} the cloth: {one.why}'
    return Finding("match-given-up", Severity.WARNING, sentence, (label,))


def _garments(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Finding]:
    """Compare for whom each piece is cut with the cut list, if the marker tells it."""
    if not any(one.placement.garment for one in laid):
        return
    counts: dict[str, Counter[int]] = defaultdict(Counter)
    for one in laid:
        counts[one.item.key][one.placement.garment] += sum(
            comes_out(one.item, one.placement, one.spread)
        )
    for item in marker.items:
        label, count = f"{item.title} {item.size}", counts[item.key]
        share = (item.as_drawn + item.turned_over) // len(item.garments)
        for garment in sorted({*item.garments, *count}):
            wanted = share if garment in item.garments else 0
            if count[garment] != wanted:
                yield error(
                    "wrong-garment",
                    f"{label}: {count[garment]} laid for garment {garment}, which takes {wanted}",
                    label,
                )


def matches_on(marker: Marker, laid: Sequence[LaidPiece]) -> Iterator[Match]:
    """Yield each name that pieces of one garment share on an axis of the repeat."""
    for axis in Axis:
        repeat_mm = washed_repeat_mm(marker.bolt, axis)
        if repeat_mm is not None:
            yield from _on_axis(marker, laid, axis, repeat_mm)


def _on_axis(
    marker: Marker, laid: Sequence[LaidPiece], axis: Axis, repeat_mm: float
) -> Iterator[Match]:
    # Twice the place of the axis of the design: along, the first mirrored match settles it.
    twice_axis_mm = None if axis is Axis.ALONG else 0.0
    for (garment, _, name), seen in _named(marker, laid, axis).items():
        if len(seen) < 2:
            continue
        if twice_axis_mm is None:
            twice_axis_mm = _mirrored_sum_mm(seen, marker.bolt)
        off_mm, worst = _worst(seen, repeat_mm, twice_axis_mm, bolt=marker.bolt)
        yield Match(
            axis=axis,
            repeat_mm=repeat_mm,
            garment=garment,
            point=name,
            items=frozenset(one.item for one in seen),
            at_mm=next((one.at_mm for one in seen if not one.turned), seen[0].at_mm),
            mirror_mm=_mirror_mm(seen, twice_axis_mm),
            off_mm=off_mm,
            labels=tuple(dict.fromkeys(one.label for one in worst)),
        )


def _mirror_mm(seen: list[_Seen], twice_axis_mm: float | None) -> float | None:
    if twice_axis_mm is None or not any(one.turned for one in seen):
        return None
    return twice_axis_mm / 2.0


def _named(
    marker: Marker, laid: Sequence[LaidPiece], axis: Axis
) -> dict[tuple[int, Grain, str], list[_Seen]]:
    """Return the points to be matched on an axis by garment, grain and name."""
    given_up = {(one.item, one.point) for one in marker.given_up if one.axis is axis}
    named: dict[tuple[int, Grain, str], list[_Seen]] = {}
    for one in laid:
        for name in dict.fromkeys(one.shape.point_names):
            wanted = marker.matching.get(name, MatchWay.ALONG) in _WAYS[axis]
            if wanted and (one.item.key, name) not in given_up:
                key = (one.placement.garment, one.item.grain, name)
                named.setdefault(key, []).extend(_seen(one, name, axis, marker.bolt))
    return named


def _seen(one: LaidPiece, name: str, axis: Axis, bolt: Bolt) -> list[_Seen]:
    """Return a match point of one placement, once for each piece cut; nothing if images differ.

    Across, places are told from the middle of the cloth. Along, two layers that show the same
    place of the design, the same way up, are seen once.
    """
    if one.item.grain not in (Grain.LENGTHWISE, Grain.CROSSWISE):
        return []
    places = one.shape.points_mm[[own == name for own in one.shape.point_names]]
    column, zero_mm = (0, 0.0) if axis is Axis.ALONG else (1, cloth_width_mm(bolt) / 2.0)
    pieces = [one.layers] if one.is_on_fold else [(layer,) for layer in one.layers]
    seen: list[_Seen] = []
    for layers in pieces:
        images = np.concatenate([layer.on_cloth(places)[:, column] for layer in layers])
        at_mm = _one_place([float(image) - zero_mm for image in images])
        if at_mm is not None:
            sides = _sides(one, layers[0], axis)
            seen.append(_Seen(at_mm, _is_turned(one, layers[0]), sides, one.item.key, one.label))
    same = len(seen) == 2 and (seen[0].at_mm, seen[0].turned) == (seen[1].at_mm, seen[1].turned)
    return seen[:1] if axis is Axis.ALONG and same else seen


def _sides(one: LaidPiece, layer: Layer, axis: Axis) -> frozenset[str]:
    """Return on which side of the garment a piece cut from one layer is.

    A piece opened out is on both, and along the cloth the sides need not be told apart.
    """
    if axis is Axis.ALONG or one.is_on_fold or one.item.half is not None:
        return frozenset(("left", "right"))
    return frozenset(("right" if one.placement.flipped is not layer.is_mirrored else "left",))


def _one_place(places: list[float]) -> float | None:
    """Return where all images of a point lie on an axis, or None if they differ."""
    return places[0] if np.ptp(places) <= MATCH_TOLERANCE_MM else None


def _is_turned(one: LaidPiece, layer: Layer) -> bool:
    """Tell whether the top of a piece points away from where it points on napped cloth."""
    turned_over = one.placement.flipped is not layer.is_mirrored and not one.is_on_fold
    lies_deg = layer.direction_deg(one.shape.arrow_deg)
    return off_top_deg(lies_deg, one.item.grain, turned_over=turned_over) > 90.0


def _mirrored_sum_mm(seen: list[_Seen], bolt: Bolt) -> float | None:
    """Return the sum of an upright and a turned place of one name, if there are both."""
    if bolt.repeat is None or not bolt.repeat.even:
        return None
    upright = next((one.at_mm for one in seen if not one.turned), None)
    turned = next((one.at_mm for one in seen if one.turned), None)
    return None if upright is None or turned is None else upright + turned


def _worst(
    seen: list[_Seen], repeat_mm: float, twice_axis_mm: float | None, *, bolt: Bolt
) -> tuple[float, list[_Seen]]:
    """Return how far the worst of a name is off, with the pair of pieces it is."""
    mirrored = bolt.repeat is not None and bolt.repeat.even
    groups = [seen]
    if len({one.item for one in seen}) > 1:
        groups = [[one for one in seen if side in one.sides] for side in ("left", "right")]
    worst: tuple[float, list[_Seen]] = (0.0, [])
    for group in groups:
        for one in group[1:]:
            places = [group[0].at_mm, one.at_mm]
            if mirrored and twice_axis_mm is not None:
                turned = (group[0].turned, one.turned)
                places = [
                    twice_axis_mm - at if is_turned else at
                    for at, is_turned in zip(places, turned, strict=True)
                ]
            off_mm = off_repeat_mm(places[1] - places[0], repeat_mm)
            worst = max(worst, (off_mm, [group[0], one]), key=lambda found: found[0])
    return worst
