"""Compare bolts: the same garment on several widths, with and without nap."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

from nesting.checks import check_marker
from nesting.cut_list import cut_list
from nesting.errors import DoesNotFitError, LayError
from nesting.lay import LayProgress, LayRequest, LayResult, lay_pieces
from nesting.marker import Marker
from pieces.finding import Severity

RowCallback = Callable[[int, LayProgress], bool | None]


@dataclass(frozen=True)
class CompareRow:
    """One bolt compared: its lay, or why the garment does not go on it.

    Parameters
    ----------
    request
        What was asked.
    result
        The lay, or None if it does not fit.
    refusal
        The reason if it does not fit, else empty.
    """

    request: LayRequest
    result: LayResult | None
    refusal: str = ""

    @property
    def cost(self) -> Decimal | None:
        """Price of the shop length, or None without a price or a lay."""
        price = self.request.bolt.price
        if price is None or self.result is None:
            return None
        return price.cost(self.result.shop_length_mm)


def compare_bolts(
    requests: tuple[LayRequest, ...], *, progress: RowCallback | None = None
) -> tuple[CompareRow, ...]:
    """Lay the same garment on each bolt and return the rows in the order asked.

    The most constrained bolts are laid first (with nap before without, narrow before wide). A
    marker lawful on one is then offered to the freer ones and kept if it is shorter than theirs,
    so a wider bolt or plain cloth never seems to need more.

    Raises
    ------
    LayError
        If there is nothing to compare.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_pieces` raises, except a piece too wide: that is a row.
    """
    if not requests:
        raise LayError("nothing to compare; name at least one bolt width")
    rows = {
        index: _row(requests[index], index, progress)
        for index in sorted(range(len(requests)), key=lambda index: _freedom(requests[index]))
    }
    return laws_kept(tuple(rows[index] for index in range(len(requests))))


def laws_kept(rows: tuple[CompareRow, ...]) -> tuple[CompareRow, ...]:
    """Return rows of one garment, each with the best of all markers lawful on its bolt.

    Nap never needs less than plain cloth then, nor a wider bolt more than a narrower one, however
    lucky each search was. The order of the rows is kept.
    """
    kept: dict[int, CompareRow] = {}
    for index in sorted(range(len(rows)), key=lambda index: _freedom(rows[index].request)):
        row = rows[index]
        for earlier in kept.values():
            row = _with_better(row, earlier)
        kept[index] = row
    return tuple(kept[index] for index in range(len(rows)))


def _freedom(request: LayRequest) -> tuple[bool, float]:
    return not request.bolt.nap, request.bolt.usable_width_mm


def _row(request: LayRequest, index: int, progress: RowCallback | None) -> CompareRow:
    def told(report: LayProgress) -> bool | None:
        return progress(index, report) if progress is not None else None

    try:
        return CompareRow(request, lay_pieces(request, progress=told))
    except DoesNotFitError as refusal:
        return CompareRow(request, None, str(refusal))


def _with_better(row: CompareRow, earlier: CompareRow) -> CompareRow:
    """Return ``row`` with the earlier row's marker if that is lawful here, and shorter."""
    if row.result is None or earlier.result is None:
        return row
    offered = earlier.result.marker
    if offered.length_mm >= row.result.marker.length_mm or not _lawful_on(offered, row.request):
        return row
    marker = replace(offered, bolt=row.request.bolt, made_by=row.result.marker.made_by)
    findings = check_marker(marker)
    if any(finding.severity is Severity.ERROR for finding in findings):
        return row
    return replace(row, result=replace(row.result, marker=marker, findings=findings))


def _lawful_on(marker: Marker, request: LayRequest) -> bool:
    """Tell whether a marker may serve a request: same pieces and rules, no tighter cloth."""
    items = cut_list(request.pattern, request.selections, request.cloth)
    return (
        marker.rules == request.rules
        and (marker.bolt.nap or not request.bolt.nap)
        and marker.bolt.usable_width_mm <= request.bolt.usable_width_mm
        and items == marker.items
    )
