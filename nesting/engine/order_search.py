"""One climber: keeps changing an order and accepts what is no worse."""

import time
from dataclasses import dataclass, replace

import numpy as np

from nesting.engine.fill import Fill, fill
from nesting.engine.orders import changed, changed_often, shuffled
from nesting.engine.prepared import PreparedStrip


@dataclass(frozen=True, eq=False)
class Climber:
    """Where a climber stands.

    Parameters
    ----------
    current
        The fill it changes next.
    best
        The best fill it has seen.
    idle
        Fills since ``current`` last got better.
    fills
        Fills made in the last call of :func:`climb`.
    """

    current: Fill
    best: Fill
    idle: int = 0
    fills: int = 0


def climb(
    prepared: PreparedStrip,
    climber: Climber,
    *,
    seed: tuple[int, ...],
    fills: int,
    seconds: float | None,
) -> Climber:
    """Try up to ``fills`` changed orders and return where the climber stands then.

    A change is kept if its score is no worse. After a long idle stretch the climber starts again,
    from a random order or from its best order after several changes. Stops early when ``seconds``
    run out or a fill that cannot be beaten is found.
    """
    rng = np.random.default_rng(seed)
    deadline = float("inf") if seconds is None else time.monotonic() + seconds
    patience = 30 * len(prepared.copies)
    climber = replace(climber, fills=0)
    while climber.fills < fills and time.monotonic() < deadline:
        if climber.idle > patience:
            fresh = rng.random() < 0.5
            order = shuffled(prepared, rng) if fresh else changed_often(climber.best.order, rng)
            climber = _moved(climber, fill(prepared, order), better=True)
        else:
            trial = fill(prepared, changed(climber.current.order, rng))
            if trial.score <= climber.current.score:
                climber = _moved(climber, trial, better=trial.score < climber.current.score)
            else:
                climber = replace(climber, idle=climber.idle + 1, fills=climber.fills + 1)
        if climber.best.length <= prepared.unbeatable_length:
            break
    return climber


def _moved(climber: Climber, trial: Fill, *, better: bool) -> Climber:
    return Climber(
        current=trial,
        best=trial if trial.is_better_than(climber.best) else climber.best,
        idle=0 if better else climber.idle + 1,
        fills=climber.fills + 1,
    )
