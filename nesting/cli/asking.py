"""From what was typed to the requests of the public functions."""

import contextlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from nesting.cli.fits_options import FitsTyped
from nesting.cli.options import (
    ClothTyped,
    CompareTyped,
    LayTyped,
    OptionError,
    PatternTyped,
    SearchTyped,
    read_option,
)
from nesting.cloth.bolt import Bolt
from nesting.cloth.bolt_text import BoltFactError, BoltText
from nesting.cloth.lay_rules import LayRules
from nesting.lay import LayRequest, SearchOptions
from nesting.marker.cut_list import Selection
from pieces.errors import PatternError, cut_short, listed
from pieces.finding import Severity
from pieces.measures.parse import parse_length_mm
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import read_pattern
from pieces.sheet.piece_checks import check_pattern

MOST_NOTES = 5
_OPTION_OF = {"flaws": "flaw"}


@dataclass(frozen=True)
class WhatToCut:
    """What to cut: read, checked and chosen, with what the person should hear about it."""

    pattern: Pattern
    selections: tuple[Selection, ...]
    cloth: str
    notes: tuple[str, ...]


def chosen(typed: PatternTyped) -> WhatToCut:
    """Read and check the pattern sheet, and settle view, size and cloth.

    Raises
    ------
    PiecesError
        If the sheet cannot be used.
    OptionError
        If a view or size must be chosen and was not.
    """
    pattern = read_pattern(typed.pattern)
    view = typed.view or only_one("--view", "views", pattern, [view.name for view in pattern.views])
    size = typed.size or only_one("--size", "sizes", pattern, pattern.sizes)
    return chosen_for(typed, pattern, (Selection(view, size, typed.garments),))


def chosen_for(
    typed: PatternTyped, pattern: Pattern, selections: tuple[Selection, ...]
) -> WhatToCut:
    """Check a pattern that was read, for garments known already, and settle the cloth.

    Raises
    ------
    PiecesError
        If the sheet cannot be used, or has not what is asked for.
    """
    cloth, notes = cloth_of(pattern, typed.pattern, typed.cloth)
    for one in selections:
        pattern.view(one.view), pattern.size(one.size)
    return WhatToCut(pattern, selections, cloth, tuple(notes))


def cloth_of(pattern: Pattern, path: Path, typed: str | None) -> tuple[str, list[str]]:
    """Return the cloth that is asked about, the first unless typed, and notes on the pattern.

    Raises
    ------
    PiecesError
        If the pattern cannot be used, or has no such cloth.
    """
    notes = checked_notes(pattern, path)
    if typed is None and len(pattern.cloths) > 1:
        names = listed(cloth.name for cloth in pattern.cloths)
        notes.append(f"cloth {pattern.cloths[0].name}, the first of {names}; --cloth chooses")
    return pattern.cloth(typed or pattern.cloths[0].name).name, notes


def checked_notes(pattern: Pattern, path: Path) -> list[str]:
    """Return the warnings about a pattern, the first few of them; refuse one with errors."""
    findings = check_pattern(pattern)
    errors = [one.sentence for one in findings if one.severity is Severity.ERROR]
    if errors:
        more = f" (and {len(errors) - 1} more like it)" if errors[1:] else ""
        raise PatternError(f"{path}: {errors[0]}{more}")
    notes = [one.sentence for one in findings]
    if len(notes) > MOST_NOTES:
        notes[MOST_NOTES:] = [f"and {len(notes) - MOST_NOTES} more about this pattern"]
    return notes


def only_one(option: str, what: str, pattern: Pattern, names: Sequence[str]) -> str:
    """Return the one name there is, or refuse to choose among several.

    Raises
    ------
    OptionError
        With the option that chooses, and the names.
    """
    if len(names) == 1:
        return names[0]
    raise OptionError(
        f'{option}: "{cut_short(pattern.name)}" has several {what}; choose one of {listed(names)}'
    )


def rules_of(typed: ClothTyped) -> LayRules:
    """Return how the cloth is spread, how far a grainline may lean, and the gap to leave."""
    gap_mm = read_option("--gap", partial(parse_length_mm, allow_zero=True), typed.gap or "0mm")
    return LayRules(spread=typed.spread, tilt_deg=typed.tilt, gap_mm=gap_mm)


def search_of(typed: SearchTyped) -> SearchOptions:
    """Return how long to search: standard effort if neither effort nor seconds is typed."""
    effort = typed.effort.value if typed.effort is not None else None
    if effort is None and typed.seconds is None:
        effort = "standard"
    return SearchOptions(effort, typed.seconds, typed.seed, typed.workers)


def lay_on(bolt: Bolt, choice: WhatToCut, typed: LayTyped | CompareTyped | FitsTyped) -> LayRequest:
    """Return the lay of what was chosen on one bolt."""
    return LayRequest(
        pattern=choice.pattern,
        selections=choice.selections,
        cloth=choice.cloth,
        bolt=bolt,
        rules=rules_of(typed),
        search=search_of(typed),
    )


def bolts_of(
    typed: ClothTyped, widths: Sequence[str], prices: Sequence[str], naps: Sequence[bool]
) -> tuple[Bolt, ...]:
    """Return a bolt for each width and nap, in their order; the first width sets the units.

    Raises
    ------
    OptionError
        If a fact of the cloth cannot be read, or there are neither one price nor one per width.
    BoltError
        If the selvages leave no cloth, or the cloth contradicts itself in another way.
    """
    if len(prices) not in (0, 1, len(widths)):
        raise OptionError(
            f"--price: {len(prices)} prices for {len(widths)} widths; "
            "give one for all, or one for each"
        )
    priced: list[str | None] = [*prices] or [None]
    if len(priced) == 1:
        priced = priced * len(widths)
    told = told_of_cloth(typed)
    with naming_options():
        units = replace(told, width=widths[0]).units()
        return tuple(
            replace(told, width=width, price=price, nap=nap).bolt(units=units)
            for width, price in zip(widths, priced, strict=True)
            for nap in naps
        )


def told_of_cloth(typed: ClothTyped) -> BoltText:
    """Return what the options tell of every bolt that is asked about."""
    told = {
        name: getattr(typed, name)
        for name in (
            *("selvage", "step", "repeat_along", "repeat_across", "uneven", "cut_on_repeat"),
            *("shrink_along", "shrink_across", "end_allowance", "length_left"),
        )
    }
    return BoltText(**told, flaws=tuple(typed.flaw or ()))


@contextlib.contextmanager
def naming_options() -> Iterator[None]:
    """Put the name of the option before a fact of the cloth that cannot be read.

    Raises
    ------
    OptionError
        In place of a :class:`BoltFactError`.
    """
    try:
        yield
    except BoltFactError as problem:
        option = _OPTION_OF.get(problem.fact, problem.fact.replace("_", "-"))
        raise OptionError(f"--{option}: {problem.problem}") from problem
