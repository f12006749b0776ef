"""Places on a repeat that are known only up to each other: ties between phases, and pins.

A phase is a place taken without its whole repeats. Points that have to agree, and pieces that
carry several of them, tie phases together; what is tied becomes one group with one free phase.
"""

from collections.abc import Hashable
from dataclasses import dataclass, replace

from nesting.cloth.repeat import off_phase_mm

SAME_PHASE_MM = 0.5
"""Two demands this near to each other are one: half a millimetre does not show in a seam."""


@dataclass(frozen=True)
class _Pin:
    """A phase that is known: ``at_mm``, and again after every ``every_mm``."""

    at_mm: float
    every_mm: float


class Phases:
    """Unknown phases of one repeat, tied to each other one demand at a time.

    Parameters
    ----------
    repeat_mm
        Length of the repeat, above 0, mm.
    """

    def __init__(self, repeat_mm: float) -> None:
        self.repeat_mm = repeat_mm
        self._group: dict[Hashable, int] = {}
        self._offset_mm: dict[Hashable, float] = {}
        self._pins: dict[int, tuple[_Pin, ...]] = {}

    def copy(self) -> "Phases":
        """Return the same phases, to try a demand on."""
        other = Phases(self.repeat_mm)
        other._group, other._offset_mm = dict(self._group), dict(self._offset_mm)
        other._pins = dict(self._pins)
        return other

    def place(self, name: Hashable) -> tuple[int, float]:
        """Return the group of a phase, and how far the phase lies beyond the group's own, mm."""
        if name not in self._group:
            self._group[name] = len(self._group)
            self._offset_mm[name] = 0.0
            self._pins[self._group[name]] = ()
        return self._group[name], self._offset_mm[name]

    def tie(self, first: Hashable, second: Hashable, beyond_mm: float) -> bool:
        """Demand that ``second`` lies ``beyond_mm`` beyond ``first``; tell whether that can be.

        A demand that contradicts earlier ones by more than half a millimetre changes nothing.

        Examples
        --------
        A waist 30 mm beyond a hip, and a pocket 50 mm beyond it, on a repeat of 100 mm: the
        pocket is then 20 mm beyond the waist, and not 25.

        >>> phases = Phases(100.0)
        >>> phases.tie("hip", "waist", 30.0), phases.tie("hip", "pocket", 150.0)
        (True, True)
        >>> phases.tie("waist", "pocket", 20.0), phases.tie("waist", "pocket", 25.0)
        (True, False)
        """
        (kept, start_mm), (gone, end_mm) = self.place(first), self.place(second)
        shift_mm = start_mm + beyond_mm - end_mm
        if kept == gone:
            return abs(off_phase_mm(shift_mm, self.repeat_mm)) <= SAME_PHASE_MM
        moved = tuple(replace(pin, at_mm=pin.at_mm - shift_mm) for pin in self._pins[gone])
        if not self._agree((*self._pins[kept], *moved)):
            return False
        for name, group in self._group.items():
            if group == gone:
                self._group[name] = kept
                self._offset_mm[name] += shift_mm
        self._pins[kept] += moved
        del self._pins[gone]
        return True

    def pin(self, name: Hashable, at_mm: float, every_mm: float) -> bool:
        """Demand that a phase is ``at_mm``, give or take ``every_mm``; tell whether it can be.

        ``every_mm`` is a whole repeat or half of one.
        """
        group, offset_mm = self.place(name)
        pins = (*self._pins[group], _Pin(at_mm - offset_mm, every_mm))
        if not self._agree(pins):
            return False
        self._pins[group] = pins
        return True

    def allowed_mm(self, name: Hashable) -> tuple[float, ...] | None:
        """Return the values a phase may take, from 0 to below a repeat; None if any will do."""
        group, offset_mm = self.place(name)
        if not self._pins[group]:
            return None
        pin = max(self._pins[group], key=lambda one: one.every_mm)
        places = (pin.at_mm, pin.at_mm + pin.every_mm)
        found = {round((at + offset_mm) % self.repeat_mm, 9) % self.repeat_mm for at in places}
        return tuple(sorted(found))

    def _agree(self, pins: tuple[_Pin, ...]) -> bool:
        """Tell whether all pins of one group can hold at once."""
        return all(
            abs(off_phase_mm(one.at_mm - other.at_mm, min(one.every_mm, other.every_mm)))
            <= SAME_PHASE_MM
            for one in pins
            for other in pins
        )
