"""Tables as CSV, which people open in a spreadsheet: no cell may be taken for a formula."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

_BEGINS_A_FORMULA = frozenset("=+-@\t\r")


def csv_text(lines: Iterable[Sequence[object]], *, between: str = ",") -> str:
    r"""Return lines of values as CSV.

    Text that a spreadsheet would compute has an apostrophe before it; numbers stay numbers.

    Examples
    --------
    >>> csv_text([("name", "count"), ("=1+1", -2)])
    "name,count\n'=1+1,-2\n"
    """
    stream = io.StringIO()
    table = csv.writer(stream, lineterminator="\n", delimiter=between)
    table.writerows([_harmless(value) for value in line] for line in lines)
    return stream.getvalue()


def csv_table(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    r"""Return rows as CSV under a heading; a value that a row does not have is left empty.

    Examples
    --------
    >>> csv_table(("view", "size"), [{"size": "M", "view": "A"}, {"view": "B"}])
    'view,size\nA,M\nB,\n'
    """
    return csv_text([columns, *([row.get(name, "") for name in columns] for row in rows)])


def _harmless(value: object) -> object:
    is_formula = isinstance(value, str) and value[:1] in _BEGINS_A_FORMULA
    return f"'{value}" if is_formula else value
