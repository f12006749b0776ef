"""The one reader from text to :class:`Bolt`, for command line, page and the shop's list alike.

What is read where differs; how a fact is written, and what each means when it is not said, does
not.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cloth.flaw import parse_flaw
from nesting.cloth.repeat import Repeat
from nesting.cloth.shrinkage import parse_shrinkage
from nesting.errors import BoltError, NestingError
from pieces.errors import LengthError
from pieces.measures.parse import parse_length_mm, typed_system
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem

Read = TypeVar("Read")

_zero_or_more = partial(parse_length_mm, allow_zero=True)


class BoltFactError(BoltError):
    """A fact told of a bolt cannot be read; ``fact`` is its field in :class:`BoltText`."""

    def __init__(self, fact: str, problem: Exception | str) -> None:
        super().__init__(f"{fact.replace('_', ' ')}: {problem}")
        self.fact = fact
        self.problem = str(problem)


@dataclass(frozen=True, kw_only=True)
class BoltText:
    """A bolt as people write it: each fact as it was typed, None or empty where it is not said.

    Parameters
    ----------
    width, selvage, repeat_along, repeat_across, end_allowance, length_left
        Lengths with their unit.
    shrink_along, shrink_across
        As :func:`nesting.cloth.shrinkage.parse_shrinkage` reads them.
    flaws
        As :func:`nesting.cloth.flaw.parse_flaw` reads each.
    price
        As :func:`pieces.measures.price.parse_price` reads it.
    step
        The shop's cutting step, or ``exact``; where it is not said, an eighth of a yard for a
        person who thinks in inches, and 10 cm for one who thinks in centimetres.
    nap, uneven, cut_on_repeat
        As on :class:`Bolt`.
    """

    width: str | None = None
    selvage: str | None = None
    nap: bool = False
    price: str | None = None
    step: str | None = None
    repeat_along: str | None = None
    repeat_across: str | None = None
    uneven: bool = False
    cut_on_repeat: bool = False
    flaws: tuple[str, ...] = ()
    shrink_along: str | None = None
    shrink_across: str | None = None
    end_allowance: str | None = None
    length_left: str | None = None

    def units(self) -> UnitSystem:
        """Return the units in which the width is written.

        Raises
        ------
        BoltFactError
            If there is no width, or it cannot be read.
        """
        return self.read("width", typed_system, self._needed_width())

    def bolt(self, *, units: UnitSystem | None = None, width_mm: float | None = None) -> Bolt:
        """Return the bolt that is told.

        Parameters
        ----------
        units
            The system in which the person thinks of it; that of the width if None.
        width_mm
            The width if it is known already; else it is read.

        Raises
        ------
        BoltFactError
            If a fact cannot be read; it names the fact.
        BoltError
            If the facts contradict each other.
        """
        units = self.units() if units is None else units
        if width_mm is None:
            width_mm = self.read("width", parse_length_mm, self._needed_width())
        left, step = self.length_left, self.step
        usual_step_mm = EIGHTH_YARD_MM if units is UnitSystem.IMPERIAL else TEN_CM_MM
        return Bolt(
            width_mm=width_mm,
            selvage_mm=self.read("selvage", _zero_or_more, self.selvage or "0mm"),
            nap=self.nap,
            price=self.read("price", parse_price, self.price) if self.price else None,
            shop_step_mm=self.read("step", parse_step_mm, step) if step else usual_step_mm,
            units=units,
            repeat=self._repeat(),
            cut_on_repeat=self.cut_on_repeat,
            flaws=tuple(self.read("flaws", parse_flaw, text) for text in self.flaws),
            shrink_along=self.read("shrink_along", parse_shrinkage, self.shrink_along or "0%"),
            shrink_across=self.read("shrink_across", parse_shrinkage, self.shrink_across or "0%"),
            end_allowance_mm=self.read("end_allowance", _zero_or_more, self.end_allowance or "0mm"),
            length_left_mm=self.read("length_left", parse_length_mm, left) if left else None,
        )

    def read(self, fact: str, reader: Callable[[str], Read], text: str) -> Read:
        """Return what a reader makes of the text of a fact.

        Raises
        ------
        BoltFactError
            If it makes nothing of it.
        """
        try:
            return reader(text)
        except (LengthError, NestingError) as problem:
            raise BoltFactError(fact, problem) from problem

    def _needed_width(self) -> str:
        if not self.width:
            raise BoltFactError("width", "it is missing; write it with its unit, such as 45in")
        return self.width

    def _repeat(self) -> Repeat | None:
        """Return the repeat, or None for cloth without one."""
        along, across = self.repeat_along, self.repeat_across
        if not along and not across:
            for fact in ("uneven", "cut_on_repeat"):
                if getattr(self, fact):
                    raise BoltFactError(
                        fact, "it is said of a repeat; give the repeat along or across as well"
                    )
            return None
        return Repeat(
            along_mm=self.read("repeat_along", parse_length_mm, along) if along else None,
            across_mm=self.read("repeat_across", parse_length_mm, across) if across else None,
            even=not self.uneven,
        )


def parse_step_mm(text: str) -> float | None:
    """Return the shop's cutting step, mm, or None for ``exact``: a shop that cuts any length.

    Raises
    ------
    LengthError
        If it is neither.
    """
    return None if text.strip().lower() == "exact" else parse_length_mm(text)
