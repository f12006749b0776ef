"""From what was typed to the requests of the public functions."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from nesting.cli.cloth_options import RealClothTyped
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
from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cloth.flaw import parse_flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Repeat
from nesting.cloth.shrinkage import parse_shrinkage
from nesting.lay import LayRequest, SearchOptions
from nesting.marker.cut_list import Selection
from pieces.errors import PatternError
from pieces.finding import Severity
from pieces.measures.parse import parse_length_mm, typed_system
from pieces.measures.price import Price, parse_price
from pieces.measures.units import UnitSystem
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import read_pattern
from pieces.sheet.piece_checks import check_pattern

MOST_NOTES = 5


@dataclass(frozen=True)
class Choice:
    """What to cut: read, checked and chosen, with what the person should hear about it."""

    pattern: Pattern
    selections: tuple[Selection, ...]
    cloth: str
    notes: tuple[str, ...]


def chosen(typed: PatternTyped) -> Choice:
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
    return chosen_for(typed, (Selection(view, size, typed.garments),))


def chosen_for(typed: PatternTyped, selections: tuple[Selection, ...]) -> Choice:
    """Read and check the pattern sheet for garments known already, and settle the cloth.

    Raises
    ------
    PiecesError
        If the sheet cannot be used, or has not what is asked for.
    """
    pattern = read_pattern(typed.pattern)
    notes = checked_notes(pattern, typed.pattern)
    if typed.cloth is None and len(pattern.cloths) > 1:
        names = ", ".join(cloth.name for cloth in pattern.cloths)
        notes.append(f"cloth {pattern.cloths[0].name}, the first of {names}; --cloth chooses")
    cloth = typed.cloth or pattern.cloths[0].name
    pattern.cloth(cloth)
    for one in selections:
        pattern.view(one.view), pattern.size(one.size)
    return Choice(pattern, selections, cloth, tuple(notes))


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
    listed = ", ".join(names)
    raise OptionError(f'{option}: "{pattern.name}" has several {what}; choose one of {listed}')


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


def lay_on(bolt: Bolt, choice: Choice, typed: LayTyped | CompareTyped | FitsTyped) -> LayRequest:
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
        If a length or price cannot be read, or there are neither one price nor one per width.
    BoltError
        If the selvages leave no cloth, or the cloth contradicts itself in another way.
    """
    if len(prices) not in (0, 1, len(widths)):
        raise OptionError(
            f"--price: {len(prices)} prices for {len(widths)} widths; "
            "give one for all, or one for each"
        )
    units = read_option("--width", typed_system, widths[0])
    selvage_mm = read_option(
        "--selvage", partial(parse_length_mm, allow_zero=True), typed.selvage or "0mm"
    )
    step_mm: float | None = EIGHTH_YARD_MM if units is UnitSystem.IMPERIAL else TEN_CM_MM
    if typed.step is not None:
        step_mm = read_option("--step", _step_mm, typed.step)
    real = _real_cloth(typed)
    widths_mm = [read_option("--width", parse_length_mm, width) for width in widths]
    priced: list[Price | None] = [read_option("--price", parse_price, price) for price in prices]
    priced = priced or [None]
    if len(priced) == 1:
        priced = priced * len(widths)
    return tuple(
        Bolt(
            width_mm=width_mm,
            selvage_mm=selvage_mm,
            nap=nap,
            price=price,
            shop_step_mm=step_mm,
            units=units,
            **real,
        )
        for width_mm, price in zip(widths_mm, priced, strict=True)
        for nap in naps
    )


def _step_mm(text: str) -> float | None:
    return None if text.strip().lower() == "exact" else parse_length_mm(text)


def _real_cloth(typed: RealClothTyped) -> dict[str, Any]:
    """Return the fields of a bolt that tell of its design, flaws, washing and ends."""

    def length_mm(name: str, text: str | None, *, allow_zero: bool = False) -> float | None:
        if text is None:
            return None
        return read_option(name, partial(parse_length_mm, allow_zero=allow_zero), text)

    return {
        "repeat": _repeat(typed),
        "start_on_repeat": typed.start_on_repeat,
        "flaws": tuple(read_option("--flaw", parse_flaw, text) for text in typed.flaw or ()),
        "shrink_along": read_option("--shrink-along", parse_shrinkage, typed.shrink_along or "0%"),
        "shrink_across": read_option(
            "--shrink-across", parse_shrinkage, typed.shrink_across or "0%"
        ),
        "end_allowance_mm": length_mm(
            "--end-allowance", typed.end_allowance or "0mm", allow_zero=True
        ),
        "length_left_mm": length_mm("--length-left", typed.length_left),
    }


def _repeat(typed: RealClothTyped) -> Repeat | None:
    """Return the repeat, or None for cloth without one.

    Raises
    ------
    OptionError
        If something is said of a repeat that is not told.
    """
    along, across = typed.repeat_along, typed.repeat_across
    if along is None and across is None:
        for name, is_said in (("uneven", typed.uneven), ("start-on-repeat", typed.start_on_repeat)):
            if is_said:
                raise OptionError(
                    f"--{name}: there is no repeat to be so; add --repeat-along or --repeat-across"
                )
        return None
    return Repeat(
        along_mm=None if along is None else read_option("--repeat-along", parse_length_mm, along),
        across_mm=None
        if across is None
        else read_option("--repeat-across", parse_length_mm, across),
        even=not typed.uneven,
    )
