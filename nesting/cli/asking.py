"""From what was typed to the requests of the public functions."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from nesting.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cli.options import ClothTyped, OptionError, PatternTyped, SearchTyped, read_option
from nesting.cut_list import Selection
from nesting.lay import SearchOptions
from nesting.lay_rules import LayRules
from pieces.errors import PatternError
from pieces.finding import Severity
from pieces.lengths import Price, UnitSystem, parse_length_mm, parse_price, typed_system
from pieces.pattern import Pattern
from pieces.pattern_file import read_pattern
from pieces.piece_checks import check_pattern

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
    notes = _checked(pattern, typed.pattern)
    view = typed.view or _only("--view", "views", pattern, [view.name for view in pattern.views])
    size = typed.size or _only("--size", "sizes", pattern, pattern.sizes)
    if typed.cloth is None and len(pattern.cloths) > 1:
        names = ", ".join(cloth.name for cloth in pattern.cloths)
        notes.append(f"cloth {pattern.cloths[0].name}, the first of {names}; --cloth chooses")
    cloth = typed.cloth or pattern.cloths[0].name
    pattern.view(view), pattern.size(size), pattern.cloth(cloth)
    return Choice(pattern, (Selection(view, size, typed.garments),), cloth, tuple(notes))


def _checked(pattern: Pattern, path: Path) -> list[str]:
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


def _only(option: str, what: str, pattern: Pattern, names: Sequence[str]) -> str:
    if len(names) == 1:
        return names[0]
    listed = ", ".join(names)
    raise OptionError(f'{option}: "{pattern.name}" has several {what}; choose one of {listed}')


def rules_of(typed: ClothTyped) -> LayRules:
    """Return how the cloth is spread and how far a grainline may lean."""
    return LayRules(spread=typed.spread, tilt_deg=typed.tilt)


def search_of(typed: SearchTyped) -> SearchOptions:
    """Return how long to search: standard effort if neither effort nor seconds is typed."""
    effort = typed.effort.value if typed.effort is not None else None
    if effort is None and typed.seconds is None:
        effort = "standard"
    return SearchOptions(effort, typed.seconds, typed.seed, typed.workers)


def bolts_of(
    typed: ClothTyped, widths: Sequence[str], prices: Sequence[str], naps: Sequence[bool]
) -> tuple[Bolt, ...]:
    """Return a bolt for each width and nap, in their order; the first width sets the units.

    Raises
    ------
    OptionError
        If a length or price cannot be read, or there are neither one price nor one per width.
    BoltError
        If the selvages leave no cloth.
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
    step_mm = EIGHTH_YARD_MM if units is UnitSystem.IMPERIAL else TEN_CM_MM
    if typed.step is not None:
        step_mm = read_option("--step", parse_length_mm, typed.step)
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
        )
        for width_mm, price in zip(widths_mm, priced, strict=True)
        for nap in naps
    )
