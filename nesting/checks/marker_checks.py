"""The independent check of a marker: it shares no code with the engine that made it.

Everything is worked out anew with shapely from the outlines of the cut list, never simplified
ones, and from the judge's own rules of the cloth (:mod:`nesting.checks.own_rules`). Told what was
asked, it compares the marker with that as well. A check returns findings and does not raise.
"""

from collections.abc import Iterator

from nesting.checks.asked import Asked
from nesting.checks.asked_checks import asked_findings
from nesting.checks.cloth_checks import flaw_findings
from nesting.checks.count_checks import (
    count_findings,
    empty_findings,
    half_findings,
    unknown_findings,
)
from nesting.checks.edge_checks import (
    direction_findings,
    fold_findings,
    middle_findings,
    outside_findings,
)
from nesting.checks.enough import first_few, size_findings
from nesting.checks.laid_pieces import LaidPiece, laid_on
from nesting.checks.length_checks import bought_findings, length_findings, length_left_findings
from nesting.checks.match_checks import match_findings
from nesting.checks.near_checks import near_findings
from nesting.marker.marker import Marker
from pieces.finding import Finding


def check_marker(marker: Marker, asked: Asked | None = None) -> tuple[Finding, ...]:
    """Return everything that is wrong with a marker; an empty tuple means it can be cut.

    Parameters
    ----------
    marker
        Any marker, whoever made it.
    asked
        What it should be a marker of: pattern sheet, garments and cloth. Without, the marker is
        held to its own cut list and its own cloth alone.

    Returns
    -------
    tuple of Finding
        In the order of the checks. All are errors but ``match-given-up``, which is a warning. The
        codes are told in the command reference, under ``nesting check``. Of one kind at most 100
        are told, and one that says there are more.
    """
    beyond = tuple(size_findings(marker))
    if beyond:
        return beyond
    laid = tuple(laid_on(marker))
    checks = (
        empty_findings(marker),
        unknown_findings(marker),
        count_findings(marker, laid),
        half_findings(marker),
        _of_each(marker, laid),
        near_findings(marker, laid),
        length_findings(marker, laid),
        match_findings(marker, laid),
        flaw_findings(marker, laid),
        length_left_findings(marker),
        bought_findings(marker),
        asked_findings(marker, asked or Asked()),
    )
    return tuple(finding for check in checks for finding in first_few(check))


def _of_each(marker: Marker, laid: tuple[LaidPiece, ...]) -> Iterator[Finding]:
    """Yield what is wrong with where each piece lies by itself."""
    for check in (outside_findings, middle_findings, direction_findings, fold_findings):
        for one in laid:
            yield from check(marker, one)
