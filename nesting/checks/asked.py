"""What a marker should be a marker of: pattern sheet, garments and cloth."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from types import MappingProxyType
from typing import Any

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.marker.cut_list import Selection
from pieces.pattern import Pattern


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What was asked, as far as it is known; the check compares a marker with all of it.

    Parameters
    ----------
    pattern
        The pattern sheet, or None if it is not at hand.
    selections
        The garments, or None to believe the marker what garments it is for.
    cloth
        The cloth of the pattern, or None to believe the marker.
    bolt_facts
        Facts of the bolt by the names of the fields of :class:`~nesting.cloth.bolt.Bolt`.
    rule_facts
        How to lay, by the names of the fields of :class:`~nesting.cloth.lay_rules.LayRules`.
    is_part
        True if the marker may cut some of it only: then nothing is missed.
    """

    pattern: Pattern | None = None
    selections: tuple[Selection, ...] | None = None
    cloth: str | None = None
    bolt_facts: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))
    rule_facts: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))
    is_part: bool = False

    @classmethod
    def on(cls, bolt: Bolt, rules: LayRules, **more: Any) -> "Asked":
        """Return what is asked on a known bolt, all of its facts told.

        Parameters
        ----------
        bolt, rules
            The cloth and how to lay on it. The best way of spreading is not compared, since any
            may be it.
        more
            The other fields.
        """
        return cls(bolt_facts=_facts(bolt), rule_facts=_facts(rules), **more)


def _facts(noun: Bolt | LayRules) -> Mapping[str, object]:
    told = {one.name: getattr(noun, one.name) for one in fields(noun)}
    return MappingProxyType(
        {name: value for name, value in told.items() if value is not Spread.BEST}
    )
