"""Whether a marker is what was asked: the garments of the pattern, on the cloth that was told.

The cut list of the marker is the maker's work as well, so it is compared with the pattern sheet:
what each view takes, how often, in which size, on which grain, in what shape.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass

from nesting.checks.asked import Asked
from nesting.checks.asked_pieces import Wanted, wanted_of, wanted_pieces
from nesting.checks.asked_shapes import shape_findings
from nesting.checks.laid_pieces import error, words
from nesting.checks.own_places import is_own_mirror_image
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.marker import Marker
from pieces.finding import Finding
from pieces.marks import MatchWay
from pieces.pattern import Pattern

_ROUNDED = 1e-6
_MOST_GARMENTS = 10_000


def asked_findings(marker: Marker, asked: Asked) -> Iterator[Finding]:
    """Yield where a marker is not what was asked.

    Codes: ``other-bolt``, ``other-rules``, ``other-garments``, ``other-cut-list``,
    ``other-grain``, ``other-outline``, ``other-marks``, ``other-matching``.
    """
    yield from _facts(marker, asked)
    yield from _garments(marker, asked)
    pattern = asked.pattern
    selections = marker.selections if asked.selections is None else asked.selections
    cloth = marker.cloth if asked.cloth is None else asked.cloth
    if pattern is None:
        return
    unknown = _unknown(pattern, selections, cloth)
    if unknown:
        yield error("other-garments", f'the pattern "{pattern.name}" {unknown}')
        return
    wanted = wanted_pieces(pattern, selections, cloth)
    found: dict[tuple[str, str], list[CutItem]] = {key: [] for key in wanted}
    for item in marker.items:
        match = wanted_of(item, wanted.values())
        if match is None:
            label = f"{item.title} {item.size}"
            sentence = f'{label} ("{item.key}") is cut, and these garments have no such piece'
            yield error("other-cut-list", sentence, label)
            continue
        found[match.key].append(item)
        yield from _rules(match, item)
        yield from shape_findings(match, item)
    for key, one in wanted.items():
        yield from _counts(one, found[key], is_part=asked.is_part)
    yield from _matching(marker, pattern)


def _facts(marker: Marker, asked: Asked) -> Iterator[Finding]:
    """Compare the cloth and the way of laying with what was told of them."""
    for name, value in asked.bolt_facts.items():
        if not _same(getattr(marker.bolt, name), value):
            yield error("other-bolt", _differs(marker, name, getattr(marker.bolt, name), value))
    for name, value in asked.rule_facts.items():
        if not _same(getattr(marker.rules, name), value):
            yield error("other-rules", _differs(marker, name, getattr(marker.rules, name), value))


def _differs(marker: Marker, name: str, found: object, asked: object) -> str:
    told = name.removesuffix("_mm").removesuffix("_deg").replace("_", " ")
    values = [
        words(marker, one) if name.endswith("_mm") and isinstance(one, float) else f"{one}"
        for one in (found, asked)
    ]
    return f"{told}: the marker has {values[0]}, and {values[1]} was asked"


def _same(found: object, asked: object) -> bool:
    """Tell whether two facts are one, numbers to a millionth."""
    if isinstance(found, float) and isinstance(asked, float):
        return math.isclose(found, asked, rel_tol=1e-12, abs_tol=_ROUNDED)
    if isinstance(found, tuple) and isinstance(asked, tuple):
        return len(found) == len(asked) and all(map(_same, found, asked))
    if is_dataclass(found) and type(found) is type(asked):
        return all(
            _same(getattr(found, one.name), getattr(asked, one.name)) for one in fields(found)
        )
    return found == asked


def _garments(marker: Marker, asked: Asked) -> Iterator[Finding]:
    """Compare the names in the head of the marker with what was asked."""
    if asked.pattern is not None and marker.pattern != asked.pattern.name:
        sentence = f'the marker is of "{marker.pattern}", and the pattern is "{asked.pattern.name}"'
        yield error("other-garments", sentence)
    if asked.cloth is not None and marker.cloth != asked.cloth:
        sentence = f'the marker is cut from "{marker.cloth}", and "{asked.cloth}" was asked'
        yield error("other-garments", sentence)
    if asked.selections is not None and marker.selections != asked.selections:
        told = _told(marker.selections), _told(asked.selections)
        yield error("other-garments", f"the marker is for {told[0]}, and {told[1]} was asked")


def _told(selections: Sequence[Selection]) -> str:
    return ", ".join(f"{one.garments} of view {one.view} in {one.size}" for one in selections)


def _unknown(pattern: Pattern, selections: Sequence[Selection], cloth: str) -> str:
    """Return what the garments name that the pattern does not have, or nothing."""
    if cloth not in {one.name for one in pattern.cloths}:
        return f'has no cloth "{cloth}"'
    for one in selections:
        if one.view not in {view.name for view in pattern.views}:
            return f'has no view "{one.view}"'
        if one.size not in pattern.sizes:
            return f'has no size "{one.size}"'
    if sum(one.garments for one in selections) > _MOST_GARMENTS:
        return f"is asked for more than {_MOST_GARMENTS:,} times"
    return ""


def _rules(one: Wanted, item: CutItem) -> Iterator[Finding]:
    """Compare title, grain and direction with the sheet."""
    if item.title != one.piece.title:
        sentence = f'{one.label} is called "{item.title}" in the marker'
        yield error("other-cut-list", sentence, one.label)
    if (item.grain, item.one_way) != (one.piece.grain, one.piece.one_way):
        found, asked = (
            f"{grain}{' and one-way' if one_way else ''}"
            for grain, one_way in (
                (item.grain, item.one_way),
                (one.piece.grain, one.piece.one_way),
            )
        )
        sentence = f"{one.label} is {found} in the marker, and the sheet says {asked}"
        yield error("other-grain", sentence, one.label)


def _counts(one: Wanted, items: Sequence[CutItem], *, is_part: bool) -> Iterator[Finding]:
    """Compare how many are cut, how many of them mirrored, and for which garments."""
    as_drawn = sum(item.as_drawn for item in items)
    turned_over = sum(item.turned_over for item in items)
    garments = {garment for item in items for garment in item.garments}
    total, wanted = as_drawn + turned_over, one.as_drawn + one.turned_over
    if total > wanted or (total < wanted and not is_part):
        sentence = f"{one.label}: {total} on the cut list, and these garments take {wanted}"
        yield error("other-cut-list", sentence, one.label)
    elif garments != one.garments and not (is_part and garments < one.garments):
        sentence = f"{one.label} is cut for other garments than those that take it"
        yield error("other-cut-list", sentence, one.label)
    is_mirrored_wrong = turned_over != one.turned_over and not is_part
    if is_part:
        is_mirrored_wrong = turned_over > one.turned_over or as_drawn > one.as_drawn
    if total <= wanted and items and is_mirrored_wrong and not is_own_mirror_image(items[0].shape):
        yield error(
            "other-cut-list",
            f"{one.label}: {as_drawn} as drawn and {turned_over} turned over on the cut list, and "
            f"these garments take {one.as_drawn} and {one.turned_over}",
            one.label,
        )


def _matching(marker: Marker, pattern: Pattern) -> Iterator[Finding]:
    """Compare how match points meet with the sheet; those it does not name meet along."""
    for name in sorted({*marker.matching, *pattern.matching}):
        found, asked = (
            table.get(name, MatchWay.ALONG) for table in (marker.matching, pattern.matching)
        )
        if found is not asked:
            sentence = f'"{name}" is matched {found} in the marker, and the sheet says {asked}'
            yield error("other-matching", sentence)
