"""When a search ends: after so many fills, at a time, on request, or when nothing can be better."""

import time
from dataclasses import dataclass, field

from nesting.errors import StripError

EFFORTS = {"quick": 200, "standard": 3_000, "thorough": 30_000}


@dataclass(frozen=True)
class StopRule:
    """Limits of a search; whichever comes first ends it.

    Parameters
    ----------
    fills
        Number of orders to try, or None for no such limit.
    seconds
        Wall-clock limit, or None for no such limit.
    """

    fills: int | None
    seconds: float | None
    started: float = field(default_factory=time.monotonic)

    @property
    def elapsed_s(self) -> float:
        """Seconds since the search began."""
        return time.monotonic() - self.started

    @property
    def seconds_left(self) -> float | None:
        """Seconds until the wall-clock limit, or None if there is none."""
        return None if self.seconds is None else max(0.0, self.seconds - self.elapsed_s)

    def out_of_time(self) -> bool:
        """Tell whether the wall-clock limit has passed."""
        return self.seconds_left == 0.0

    def fills_left(self, done: int) -> int | None:
        """Return how many fills may still be made after ``done``, or None if unlimited."""
        return None if self.fills is None else max(0, self.fills - done)

    def share(self, done: int) -> float:
        """Return how much of the search is over after ``done`` fills, from 0 to 1."""
        by_fills = 0.0 if self.fills is None else done / self.fills
        by_time = 0.0 if self.seconds is None else self.elapsed_s / self.seconds
        return min(1.0, max(by_fills, by_time))


def stop_rule(effort: str | None, seconds: float | None) -> StopRule:
    """Return the rule for an effort level, a time limit, or both.

    A time limit alone lets the search run until then; neither means ``"standard"`` effort.

    Raises
    ------
    StripError
        If the effort is not a known word or the seconds are not above zero.
    """
    if effort is not None and effort not in EFFORTS:
        raise StripError(f'effort "{effort}" is not known; it is one of {", ".join(EFFORTS)}')
    if seconds is not None and not 0.0 < seconds < float("inf"):
        raise StripError(f"a time limit of {seconds} seconds is not a number above zero")
    if effort is None and seconds is None:
        effort = "standard"
    return StopRule(None if effort is None else EFFORTS[effort], seconds)
