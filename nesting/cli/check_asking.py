"""From what was typed after ``nesting check`` to what a marker should be."""

from dataclasses import replace
from functools import partial

from nesting.checks import Asked
from nesting.cli.asking import naming_options
from nesting.cli.check_options import CheckTyped
from nesting.cli.options import Nap, OptionError, read_option
from nesting.cloth.bolt_text import BoltText
from nesting.cloth.spread import Spread
from nesting.marker.cut_list import Selection
from nesting.marker.marker import Marker
from pieces.measures.parse import parse_length_mm
from pieces.sheet.pattern_file import read_pattern

_FIELDS = {
    "width": "width_mm",
    "selvage": "selvage_mm",
    "nap": "nap",
    "step": "shop_step_mm",
    "repeat_along": "repeat",
    "repeat_across": "repeat",
    "uneven": "repeat",
    "cut_on_repeat": "cut_on_repeat",
    "flaw": "flaws",
    "shrink_along": "shrink_along",
    "shrink_across": "shrink_across",
    "end_allowance": "end_allowance_mm",
    "length_left": "length_left_mm",
}
"""The option of each fact, and the field of the bolt that holds it."""


def asked_of(typed: CheckTyped, marker: Marker) -> Asked:
    """Return what was typed of garments and cloth; what was not is believed of the marker.

    Raises
    ------
    OptionError
        If a fact cannot be read, or a garment is typed beside a marker of several.
    NestingError, PiecesError
        If the sheet cannot be read, or the facts contradict each other.
    """
    return Asked(
        pattern=None if typed.pattern is None else read_pattern(typed.pattern),
        selections=_selections(typed, marker),
        cloth=typed.cloth,
        bolt_facts=_bolt_facts(typed, marker),
        rule_facts=_rule_facts(typed),
    )


def _selections(typed: CheckTyped, marker: Marker) -> tuple[Selection, ...] | None:
    """Return the garments typed, filled up from the marker, or None if none is."""
    told = {
        name: getattr(typed, name)
        for name in ("view", "size", "garments")
        if getattr(typed, name) is not None
    }
    if not told:
        return None
    if len(marker.selections) != 1:
        raise OptionError(
            f"--{next(iter(told))}: this marker is for {len(marker.selections)} kinds of garments, "
            "and it can be typed for one; leave it out"
        )
    return (replace(marker.selections[0], **told),)


def _bolt_facts(typed: CheckTyped, marker: Marker) -> dict[str, object]:
    """Return the facts typed of the bolt, by its fields."""
    told = [option for option in _FIELDS if getattr(typed, option)]
    if not told:
        return {}
    text = BoltText(
        **{
            name: getattr(typed, name)
            for name in _FIELDS
            if name not in ("width", "nap", "flaw", "step")
        },
        width=typed.width or f"{marker.bolt.width_mm!r}mm",
        nap=typed.nap is Nap.WITH,
        step=typed.step,
        flaws=tuple(typed.flaw or ()),
    )
    with naming_options():
        bolt = text.bolt(units=marker.bolt.units)
    return {_FIELDS[option]: getattr(bolt, _FIELDS[option]) for option in told}


def _rule_facts(typed: CheckTyped) -> dict[str, object]:
    facts: dict[str, object] = {}
    if typed.spread is not None and typed.spread is not Spread.BEST:
        facts["spread"] = typed.spread
    if typed.tilt is not None:
        facts["tilt_deg"] = typed.tilt
    if typed.gap is not None:
        read = partial(parse_length_mm, allow_zero=True)
        facts["gap_mm"] = read_option("--gap", read, typed.gap)
    return facts
