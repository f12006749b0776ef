"""The search: fill in sensible orders, climb among orders, then explore by separation.

Exploring is the larger part. It follows Gardeyn, Vanden Berghe & Wauters 2025, "An open-source
heuristic to reboot 2D nesting research" (arXiv 2509.13329v1); what differs is told in
:mod:`nesting.engine.explore` and :mod:`nesting.engine.kernels.separate`.
"""

from dataclasses import dataclass, field

from nesting.engine.explore import Explorer, explore
from nesting.engine.fill import Fill, fill
from nesting.engine.layout import Layout, layout_of_fill
from nesting.engine.order_search import Climber, climb
from nesting.engine.orders import sensible_orders
from nesting.engine.packing import Progress, ProgressCallback, StoppedBy
from nesting.engine.prepared import PreparedStrip
from nesting.engine.stop import StopRule
from nesting.engine.window import share_of_window
from nesting.engine.workers import Team, team_of
from nesting.errors import StripError

FILLS_A_ROUND = 48
MOVES_A_ROUND = 20_000
FALLEN_BEHIND = 0.003
# until then explorers keep together, later each follows a path of its own
MOVES_SHARED = 1_000_000
MOVES_A_SHORT_ROUND = 4_000


@dataclass
class Search:
    """The state of one search: its best layout, its counts and its history.

    It changes as the search goes on, and lives for one call of :func:`search`.
    """

    prepared: PreparedStrip
    rule: StopRule
    progress: ProgressCallback | None
    best: Layout | None = None
    fills: int = 0
    moves: int = 0
    history: list[Progress] = field(default_factory=list)
    stopped_by: StoppedBy | None = None

    def offer(self, candidate: Layout | None, *, fills: int = 0, moves: int = 0) -> None:
        """Count the work, keep ``candidate`` if it is shorter, report, and see if to stop."""
        self.fills += fills
        self.moves += moves
        known = self.best
        if candidate is not None and (known is None or candidate.length < known.length):
            self.best = candidate
        if self.best is None:
            self._stop_without_layout()
            return
        report = self._report(self.best)
        if self.best is not known:
            self.history.append(report)
        if self.progress is not None and self.progress(report):
            self.stopped_by = StoppedBy.REQUEST
        elif self._is_unbeatable(self.best):
            self.stopped_by = StoppedBy.PROVEN_BEST
        elif self.rule.out_of_time():
            self.stopped_by = StoppedBy.SECONDS
        elif self.rule.fills_left(self.fills) == 0 and self.rule.moves_left(self.moves) == 0:
            self.stopped_by = StoppedBy.EFFORT

    def _stop_without_layout(self) -> None:
        """See whether to stop although no order has given a layout yet."""
        if self.rule.out_of_time():
            self.stopped_by = StoppedBy.SECONDS
        elif self.rule.fills_left(self.fills) == 0:
            self.stopped_by = StoppedBy.EFFORT

    def _is_unbeatable(self, best: Layout) -> bool:
        return best.length <= self.prepared.unbeatable_length

    def _report(self, best: Layout) -> Progress:
        over = self._is_unbeatable(best)
        return Progress(
            seconds=self.rule.elapsed_s,
            fills=self.fills,
            moves=self.moves,
            share=1.0 if over else self.rule.share(self.fills, self.moves),
            length=best.length / self.prepared.scale,
            density=self.prepared.least_length / best.length,
        )


def search(
    prepared: PreparedStrip,
    rule: StopRule,
    *,
    seed: int,
    workers: int,
    progress: ProgressCallback | None,
    start: Layout | None = None,
) -> tuple[Layout, Search]:
    """Return the best layout found, and the finished search; ``start`` is a valid layout known.

    Ctrl-C ends the search early and keeps what was found, once there is a first fill.
    """
    state = Search(prepared, rule, progress)
    if start is not None:
        state.offer(start)
    try:
        starts = _first_fills(state)
        if state.stopped_by is None:
            context, team = team_of(prepared, workers)
            with context:
                climbers = _climb_in_rounds(state, team, (starts * workers)[:workers], seed)
                _explore_in_rounds(state, team, climbers, seed)
    except KeyboardInterrupt:
        if state.best is None:
            raise
        state.stopped_by = StoppedBy.REQUEST
    if state.best is None:
        raise StripError(
            "no order tried leaves every piece a place that its repeat allows; "
            "search longer, use a wider strip, or hold fewer pieces to the repeat"
        )
    return state.best, state


def _first_fills(state: Search) -> list[Fill]:
    """Fill in each sensible order; return the fills, best first."""
    fills = []
    for order in sensible_orders(state.prepared):
        fills.append(fill(state.prepared, order))
        state.offer(_layout_if_any(state.prepared, fills[-1]), fills=1)
        if state.stopped_by is not None:
            break
    return sorted(fills, key=lambda filled: filled.score)


def _climb_in_rounds(state: Search, team: Team, starts: list[Fill], seed: int) -> list[Climber]:
    """Run a climber from each start, round after round, until filling has had its share.

    Each has a random stream of its own in every round, so the outcome depends on nothing but seed,
    effort and number of workers.
    """
    climbers = [Climber(start, start) for start in starts]
    number = 0
    while state.stopped_by is None and state.rule.fill_seconds_left() != 0.0:
        left = state.rule.fills_left(state.fills)
        if left == 0:
            break
        budget = FILLS_A_ROUND if left is None else min(FILLS_A_ROUND, -(-left // len(climbers)))
        seconds = state.rule.fill_seconds_left()
        options = [
            {"fills": budget, "seconds": seconds, "seed": (seed, 0, number, index)}
            for index in range(len(climbers))
        ]
        climbers = team(climb, climbers, options)
        for climber in climbers:
            state.offer(_layout_if_any(state.prepared, climber.best), fills=climber.fills)
        number += 1
    return climbers


def _explore_in_rounds(state: Search, team: Team, climbers: list[Climber], seed: int) -> None:
    """Run an explorer from each climber's best fill, round after round.

    Between rounds an explorer that has fallen behind the best takes over the best layout. While
    all keep together, rounds are short and every explorer does so.
    """
    if state.best is None:
        return
    known = [_layout_if_any(state.prepared, climber.best) or state.best for climber in climbers]
    explorers = [
        _caught_up(state.prepared, Explorer(layout), state.best, FALLEN_BEHIND) for layout in known
    ]
    number = 0
    while state.stopped_by is None:
        left = state.rule.moves_left(state.moves)
        if left == 0:  # time for filling ran out before its fills were made
            state.stopped_by = StoppedBy.EFFORT
            break
        together = len(explorers) > 1 and _shares_every_gain(state)
        most = MOVES_A_SHORT_ROUND if together else MOVES_A_ROUND
        budget = most if left is None else min(most, -(-left // len(explorers)))
        seconds = state.rule.seconds_left
        options = [
            {"moves": budget, "seconds": seconds, "seed": (seed, 1, number, index)}
            for index in range(len(explorers))
        ]
        explorers = team(explore, explorers, options)
        for explorer in explorers:
            state.offer(explorer.best, moves=explorer.moves)
        best = state.best
        if best is not None:
            behind = 0.0 if together else FALLEN_BEHIND
            explorers = [
                _caught_up(state.prepared, explorer, best, behind) for explorer in explorers
            ]
        number += 1


def _shares_every_gain(state: Search) -> bool:
    """Tell whether explorers keep together still: not for long, nor where each has a window."""
    return state.moves < MOVES_SHARED and share_of_window(state.prepared) == 1.0


def _layout_if_any(prepared: PreparedStrip, filled: Fill) -> Layout | None:
    """Return what a fill laid, or None if some copy found no place."""
    return layout_of_fill(prepared, filled) if filled.length < float("inf") else None


def _caught_up(
    prepared: PreparedStrip, explorer: Explorer, best: Layout, behind: float
) -> Explorer:
    """Return the explorer, or one at the best layout if its own is longer by more than a share."""
    allowed = behind * share_of_window(prepared)
    if explorer.best.length <= best.length * (1.0 + allowed):
        return explorer
    return Explorer(best)
