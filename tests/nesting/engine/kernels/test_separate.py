"""Separation kernels: overlaps, counts and weights against plain sums over all pairs."""

import numpy as np

from nesting.engine import Strip, StripItem
from nesting.engine.kernels.bundles import OVERLAPS, RAISED, Board, Range
from nesting.engine.kernels.separate import one_pass, total_overlap, update_weights
from nesting.engine.prepared import PreparedStrip, prepare
from nesting.engine.separation_state import lay_on_board, new_board

KITE = np.array([(0, 0), (5, 0), (5, 3), (2, 4)], dtype=float)
STATE = np.array([12345], dtype=np.uint64)


def heap(copies: int) -> tuple[PreparedStrip, Board]:
    """Return a strip of kites, and a board on which half of them lie in a heap, half in a row."""
    item = StripItem(name="kite", outline=KITE, quantity=copies, turns_deg=(0.0, 180.0))
    prepared = prepare(Strip(width=9.0, items=(item,)))
    lefts = np.where(np.arange(copies) % 2, 6.0 * np.arange(copies), 1.0)
    places = np.stack((lefts, np.ones(copies)), 1) * prepared.scale
    board = new_board(prepared, np.empty(0))
    lay_on_board(prepared, board, np.zeros(copies, np.int64), places)
    return prepared, board


def pass_over(prepared: PreparedStrip, board: Board, room: float = 100.0) -> int:
    """Move every overlapping copy once on a strip of a length; return how many were moved."""
    length = room * prepared.scale
    order = np.arange(len(board.lying.shapes))
    return one_pass(length, Range(0.0, length), board, order, STATE.copy())


def weights_after(board: Board) -> np.ndarray:
    """Return what the weights should be after an update, pair by pair."""
    scales, (depths, weights, _) = board.problem.scales, board.pairs
    grown = weights * (1.2 + 0.8 * depths / depths.max())
    return np.where(depths > 0.0, grown, np.maximum(scales, 0.95 * weights))


def test_counts_tell_how_many_others_each_copy_overlaps() -> None:
    """Counted anew from the depths after every pass, until nothing overlaps."""
    prepared, board = heap(12)
    depths, _, counts = board.pairs
    assert (depths > 0.0).any()

    for _ in range(50):
        assert list(counts[:, OVERLAPS]) == list((depths > 0.0).sum(axis=1))
        if not pass_over(prepared, board):
            break

    assert not (depths > 0.0).any()


def test_the_total_is_the_sum_over_all_pairs() -> None:
    """Scale times depth, each pair once."""
    prepared, board = heap(12)
    scales, depths = board.problem.scales, board.pairs.depths

    for _ in range(3):
        assert np.isclose(total_overlap(board), (scales * depths).sum() / 2.0)
        assert pass_over(prepared, board, room=12.0) > 0


def test_weights_grow_with_depth_and_fade_however_many_copies_are_passed_over() -> None:
    """Overlaps come and go; every weight is what a look at all pairs gives, never below scale."""
    prepared, board = heap(12)
    scales, (depths, weights, counts) = board.problem.scales, board.pairs

    for _ in range(4):
        expected = weights_after(board)
        update_weights(board)
        assert np.allclose(weights, expected)
        pass_over(prepared, board, room=12.0)
    depths[:], counts[:, OVERLAPS] = 0.0, 0
    for _ in range(100):
        update_weights(board)

    assert np.allclose(weights, scales)
    assert (counts[:, RAISED] == 0).all()
