"""The search: fill in several sensible orders, then climbers that change the best of them."""

from dataclasses import dataclass, field

from nesting.engine.climb import Climber
from nesting.engine.fill import Fill, fill
from nesting.engine.orders import sensible_orders
from nesting.engine.packing import Progress, ProgressCallback, StoppedBy
from nesting.engine.prepared import Prepared
from nesting.engine.stop import StopRule
from nesting.engine.workers import Task, round_runner

FILLS_A_ROUND = 48


@dataclass
class Search:
    """The state of one search: its best fill, its climbers and its history.

    The only mutable object of the engine; it lives for one call of :func:`search`.
    """

    prepared: Prepared
    rule: StopRule
    progress: ProgressCallback | None
    best: Fill | None = None
    fills: int = 0
    history: list[Progress] = field(default_factory=list)
    stopped_by: StoppedBy | None = None

    def offer(self, candidate: Fill, fills: int) -> None:
        """Count ``fills`` more, keep ``candidate`` if it is better, report, and see if to stop."""
        self.fills += fills
        shorter = self.best is None or candidate.length < self.best.length
        if self.best is None or candidate.is_better_than(self.best):
            self.best = candidate
        report = self._report(self.best)
        if shorter:
            self.history.append(report)
        if self.progress is not None and self.progress(report):
            self.stopped_by = StoppedBy.REQUEST
        elif self._is_unbeatable(self.best):
            self.stopped_by = StoppedBy.PROVEN_BEST
        elif self.rule.out_of_time():
            self.stopped_by = StoppedBy.SECONDS
        elif self.rule.fills_left(self.fills) == 0:
            self.stopped_by = StoppedBy.EFFORT

    def _is_unbeatable(self, best: Fill) -> bool:
        return best.length <= self.prepared.unbeatable_length

    def _report(self, best: Fill) -> Progress:
        return Progress(
            seconds=self.rule.elapsed_s,
            fills=self.fills,
            share=1.0 if self._is_unbeatable(best) else self.rule.share(self.fills),
            length=best.length / self.prepared.scale,
            density=self.prepared.least_length / best.length,
        )


def search(
    prepared: Prepared,
    rule: StopRule,
    *,
    seed: int,
    workers: int,
    progress: ProgressCallback | None,
) -> tuple[Fill, Search]:
    """Return the best fill found, and the finished search.

    Ctrl-C ends the search early and keeps what was found, once there is a first fill.
    """
    state = Search(prepared, rule, progress)
    try:
        starts = _first_fills(state)
        if state.stopped_by is None:
            _climb_in_rounds(state, starts, seed, workers)
    except KeyboardInterrupt:
        if state.best is None:
            raise
        state.stopped_by = StoppedBy.REQUEST
    if state.best is None:
        raise RuntimeError("the search ended without a first fill")
    return state.best, state


def _first_fills(state: Search) -> list[Fill]:
    """Fill in each sensible order; return the fills, best first."""
    fills = []
    for order in sensible_orders(state.prepared):
        fills.append(fill(state.prepared, order))
        state.offer(fills[-1], 1)
        if state.stopped_by is not None:
            break
    return sorted(fills, key=lambda filled: filled.score)


def _climb_in_rounds(state: Search, starts: list[Fill], seed: int, workers: int) -> None:
    """Run all climbers round after round; between rounds they are compared and reported.

    Each climber starts from another of the best first fills, and has a random stream of its own
    in every round, so the outcome depends on nothing but seed, effort and number of workers.
    """
    climbers = [Climber(start, start) for start in (starts * workers)[:workers]]
    context, run_round = round_runner(state.prepared, workers)
    with context:
        number = 0
        while state.stopped_by is None:
            left = state.rule.fills_left(state.fills)
            budget = FILLS_A_ROUND if left is None else min(FILLS_A_ROUND, -(-left // workers))
            options = {"fills": budget, "seconds": state.rule.seconds_left}
            tasks: list[Task] = [
                (climber, {**options, "seed": (seed, number, index)})
                for index, climber in enumerate(climbers)
            ]
            climbers = run_round(tasks)
            for climber in climbers:
                state.offer(climber.best, climber.fills)
            number += 1
