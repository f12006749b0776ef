"""Random strips that ask all of the engine at once, of outlines with 3 to 18 corners."""

import numpy as np

from nesting.engine import Axis, HeldTo, PhaseGroup, PhaseHold, Strip, StripItem
from pieces.outline.polygon import FloatArray

TURNS = ((0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (7.0, 187.0))


def star(rng: np.random.Generator) -> FloatArray:
    """Return a star-shaped outline of 3 to 14 corners."""
    count = int(rng.integers(3, 15))
    angles = (np.arange(count) + rng.uniform(0.0, 0.9, count)) * 2.0 * np.pi / count
    radii = rng.uniform(10.0, 100.0, count)
    return np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))


def comb(rng: np.random.Generator) -> FloatArray:
    """Return a base with teeth of random heights, concave between them."""
    count = int(rng.integers(1, 5))
    points = [(0.0, 0.0), (20.0 * (2 * count + 1), 0.0)]
    for tooth in reversed(range(2 * count + 1)):
        height = rng.uniform(40.0, 120.0) if tooth % 2 == 0 else rng.uniform(5.0, 35.0)
        points += [(20.0 * (tooth + 1), height), (20.0 * tooth, height)]
    return np.array(points[:1] + points[1:])


def random_strip(rng: np.random.Generator) -> Strip:
    """Return a strip of random items and needs."""
    outlines = [star(rng) if rng.random() < 0.6 else comb(rng) for _ in range(rng.integers(1, 7))]
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in outlines)
    groups = (
        PhaseGroup(Axis.ALONG, rng.uniform(0.2, 0.6) * widest),
        PhaseGroup(Axis.ACROSS, rng.uniform(0.15, 0.4) * widest),
    )
    items = tuple(_item(str(number), outline, rng) for number, outline in enumerate(outlines))
    spot = np.array([(0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2)]) * widest
    regions = (spot + rng.uniform(0.0, 1.5, 2) * widest,) if rng.random() < 0.3 else ()
    gap = rng.uniform(0.0, 0.06) * widest if rng.random() < 0.3 else 0.0
    width = rng.uniform(1.1, 3.0) * widest + gap
    return Strip(width=width, items=items, groups=groups, regions=regions, gap=gap)


def _item(name: str, outline: FloatArray, rng: np.random.Generator) -> StripItem:
    turns = TURNS[rng.integers(len(TURNS))]
    flipped = turns if rng.random() < 0.4 else ()
    wanted = [group for group in (0, 1) if rng.random() < 0.2]
    offset = float(rng.uniform(-50.0, 50.0))
    low = not wanted and rng.random() < 0.15
    holds = {
        (turn, flip): tuple(PhaseHold(group, offset) for group in wanted)
        for flip, allowed in ((False, turns), (True, flipped))
        for turn in allowed
    }
    return StripItem(
        name=name,
        outline=outline,
        quantity=int(rng.integers(1, 5)),
        turns_deg=turns,
        flipped_turns_deg=flipped,
        held_to=HeldTo.LOW_EDGE if low else HeldTo.ANYWHERE,
        holds=holds if wanted else {},
    )
