"""When a search ends: after so many fills, at a time, on request, or when nothing can be better."""

import time
from dataclasses import dataclass, field, replace

from nesting.errors import StripError

FILL_SHARE_OF_TIME = 0.1
MOST_FILL_SECONDS = 2.0
PIECES_AT_FULL_EFFORT = 100
FILL_GROWTH = 1.6
EDGES_AT_FULL_EFFORT = 300_000
LEAST_FILLS = 2


@dataclass(frozen=True)
class Effort:
    """How long to search, counted in work and not in time.

    Parameters
    ----------
    fills
        Orders to fill in.
    moves
        Moves of one piece to make in separating after that; 0 leaves that out.
    """

    fills: int
    moves: int

    def for_pieces(self, pieces: int) -> "Effort":
        """Return the effort for a lay of so many pieces.

        Up to :data:`PIECES_AT_FULL_EFFORT` it is the same; beyond, fills get fewer as each takes
        longer (about the power 1.6 of the number of pieces, by the bench of fills).
        """
        share = min(1.0, (PIECES_AT_FULL_EFFORT / pieces) ** FILL_GROWTH)
        return Effort(max(LEAST_FILLS, int(self.fills * share)), self.moves)

    def for_edges(self, edges: int) -> "Effort":
        """Return the effort for no-fit polygons of so many edges altogether.

        Up to :data:`EDGES_AT_FULL_EFFORT` it is the same; beyond, an effort that only fills makes
        fewer fills, as each takes longer with every edge.
        """
        share = min(1.0, EDGES_AT_FULL_EFFORT / max(1, edges))
        fewer = max(LEAST_FILLS, int(self.fills * share))
        return self if self.moves else Effort(min(self.fills, fewer), 0)


EFFORTS = {
    "quick": Effort(200, 0),
    "standard": Effort(600, 120_000),
    "thorough": Effort(2_000, 2_400_000),
}


@dataclass(frozen=True)
class StopRule:
    """Limits of a search; whichever comes first ends it.

    Parameters
    ----------
    effort
        Fills and moves to make, or None for no such limit.
    seconds
        Wall-clock limit, or None for no such limit.
    """

    effort: Effort | None
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

    @property
    def separates(self) -> bool:
        """Whether the search goes on beyond filling."""
        return self.effort is None or self.effort.moves > 0

    def from_now(self) -> "StopRule":
        """Return the same rule with its clock starting now."""
        return StopRule(self.effort, self.seconds)

    def for_pieces(self, pieces: int) -> "StopRule":
        """Return the same rule, its effort fitted to the number of pieces."""
        return self if self.effort is None else replace(self, effort=self.effort.for_pieces(pieces))

    def for_edges(self, edges: int) -> "StopRule":
        """Return the same rule, its effort fitted to the edges of the no-fit polygons."""
        return self if self.effort is None else replace(self, effort=self.effort.for_edges(edges))

    def out_of_time(self) -> bool:
        """Tell whether the wall-clock limit has passed."""
        return self.seconds_left == 0.0

    def fill_seconds_left(self) -> float | None:
        """Return the time left for filling: a tenth of the limit and at most two seconds."""
        if self.seconds is None:
            return None
        share_s = min(MOST_FILL_SECONDS, FILL_SHARE_OF_TIME * self.seconds)
        return max(0.0, share_s - self.elapsed_s)

    def fills_left(self, done: int) -> int | None:
        """Return how many fills may still be made after ``done``, or None if unlimited."""
        return None if self.effort is None else max(0, self.effort.fills - done)

    def moves_left(self, done: int) -> int | None:
        """Return how many moves may still be made after ``done``, or None if unlimited."""
        return None if self.effort is None else max(0, self.effort.moves - done)

    def share(self, fills: int, moves: int) -> float:
        """Return how much of the search is over, from 0 to 1.

        Of its time, or of its work if that is more; filling counts as a fifth of the work.
        """
        by_time = 0.0 if self.seconds is None else self.elapsed_s / self.seconds
        by_work = 0.0
        if self.effort is not None:
            by_work = fills / self.effort.fills
            if self.effort.moves:
                by_work = 0.2 * min(1.0, by_work) + 0.8 * moves / self.effort.moves
        return min(1.0, max(by_time, by_work))


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
