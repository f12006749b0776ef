"""An index of boxes: which copies can a box meet, answered by a few words of bits.

Each axis of the strip is cut into buckets. For each bucket and each side of a box a row of bits
tells which copies have that side in this bucket or before it (left and low sides), or in it or
beyond (right and high sides). The copies that a box may overlap are the bits set in all four rows
that its own sides fall into: few more than those it does overlap. A copy that moves a little
changes few rows.
"""

import numpy as np

from nesting.engine.kernels.bundles import BoxIndex, Words
from nesting.engine.kernels.jit import FloatArray, inlined, kernel, uncounted

BUCKETS = 128
WORD = 64
NONE, ONE = np.uint64(0), np.uint64(1)

# left, low, right and high
Box = tuple[float, float, float, float]

# a de Bruijn sequence: its product with a word of one set bit begins with the six bits of a number
# that no other such word gives
_DE_BRUIJN = 0x03F79D71B4CB0A89
_SPREAD = np.uint64(_DE_BRUIJN)
_TOP = np.uint64(WORD - 6)
_BIT_OF = np.zeros(WORD, dtype=np.int64)
_BIT_OF[[((_DE_BRUIJN << bit) % 2**WORD) >> (WORD - 6) for bit in range(WORD)]] = range(WORD)


@inlined
def lowest_bit(word: np.uint64) -> int:
    """Return the number of the lowest bit set in a word that is not zero."""
    number: int = _BIT_OF[((word & (~word + ONE)) * _SPREAD) >> _TOP]
    return number


@inlined
def bucket(value: float, buckets_a_unit: float) -> int:
    """Return the bucket in which a coordinate lies; beyond the ends it is the nearest."""
    return int(min(max(value * buckets_a_unit, 0.0), BUCKETS - 1.0))


@inlined
def shift_mark(copy: int, side: int, old: int, new: int, marks: Words) -> None:
    """Turn the bits of a copy in the buckets between an old and a new place of one of its sides."""
    word, bit = copy // WORD, ONE << np.uint64(copy % WORD)
    first, last = (old, new) if side < 2 else (old + 1, new + 1)
    for k in range(min(first, last), max(first, last)):
        marks[side, k, word] ^= bit


@uncounted(for_separation=True)
def move_marks(copy: int, old: Box, new: FloatArray, index: BoxIndex) -> None:
    """Note that the sides of a copy, left, low, right and high, have moved from old to new."""
    marks, buckets_a_unit = index
    for side in range(4):
        scale = buckets_a_unit[side % 2]
        shift_mark(copy, side, bucket(old[side], scale), bucket(new[side], scale), marks)


@kernel(for_separation=True)
def mark_all(sides: FloatArray, index: BoxIndex) -> None:
    """Note the sides of all copies, shape (n, 4), and cut the axes into buckets to suit."""
    marks, buckets_a_unit = index
    marks[:] = NONE
    for axis in range(2):
        buckets_a_unit[axis] = BUCKETS / max(1.0, sides[:, axis + 2].max())
    for copy in range(len(sides)):
        for side in range(4):
            far = BUCKETS if side < 2 else -1
            shift_mark(copy, side, far, bucket(sides[copy, side], buckets_a_unit[side % 2]), marks)
