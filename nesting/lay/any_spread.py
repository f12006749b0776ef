"""Lay the pieces of one cloth on one bolt: from a pattern to a checked marker."""

from dataclasses import replace

from nesting.checks import asked_findings
from nesting.cloth.spread import Spread
from nesting.lay.best_spread import lay_best
from nesting.lay.one_spread import lay_spread
from nesting.lay.progress import LayCallback
from nesting.lay.request import LayRequest, LayResult
from nesting.marker.cut_list import CutItem, cut_list


def lay_pieces(request: LayRequest, *, progress: LayCallback | None = None) -> LayResult:
    """Lay what the selections cut from one cloth, as short as the search finds, and check it.

    Parameters
    ----------
    request
        What to lay, on what, and how long to search.
    progress
        Called as the search goes; a true answer stops it and keeps the best so far.

    Raises
    ------
    DoesNotFitError
        If a piece is wider than the cloth in every way it may lie.
    LayError, UnknownNameError, PieceError, StripError
        If the choice, the pattern or an option is out of range.
    """
    items = cut_list(request.pattern, request.selections, request.cloth)
    result = lay_items(request, items, progress=progress)
    missed = asked_findings(result.marker, request.asked())
    return replace(result, findings=tuple(dict.fromkeys((*result.findings, *missed))))


def lay_items(
    request: LayRequest, items: tuple[CutItem, ...], *, progress: LayCallback | None = None
) -> LayResult:
    """Lay some of what a request cuts, or all of it: as :func:`lay_pieces` for a cut list.

    Parameters
    ----------
    request
        On what to lay, and how long to search.
    items
        What to lay: at least one item, from :func:`nesting.marker.cut_list.cut_list`, or a share.
    progress
        As for :func:`lay_pieces`.

    Raises
    ------
    DoesNotFitError
        If a piece is wider than the cloth in every way it may lie.
    LayError, StripError
        If there is nothing to lay, or an option is out of range.
    """
    if request.rules.spread is Spread.BEST:
        return lay_best(request, items, progress=progress)
    return lay_spread(request, items, progress=progress)
