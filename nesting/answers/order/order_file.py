"""The order list: a CSV file with a line for each participant, as a spreadsheet writes it.

The first line names the columns ``view``, ``size`` and ``count``, in any order, and perhaps
``name``; other columns are passed over. Commas, semicolons or tabs part the cells.
"""

import csv
import io
from pathlib import Path

from nesting.answers.order.order import OrderLine
from nesting.errors import OrderError
from pieces.errors import UnknownNameError
from pieces.files.bounded_file import read_text
from pieces.pattern import Pattern

NEEDED = ("view", "size", "count")
COLUMNS = ("name", *NEEDED)
MOST_GARMENTS = 100
LARGEST_BYTES = 1_000_000


def read_order(path: Path | str, pattern: Pattern) -> tuple[OrderLine, ...]:
    """Read an order list for a pattern.

    Raises
    ------
    OrderError
        If there is no such file, or it is no order list for this pattern; the sentence names the
        file and the line.
    """
    text = read_text(path, "order list", largest_bytes=LARGEST_BYTES, error=OrderError)
    try:
        return parse_order(text, pattern)
    except OrderError as problem:
        raise OrderError(f"order list {path}, {problem}") from problem


def parse_order(text: str, pattern: Pattern) -> tuple[OrderLine, ...]:
    """Return the lines of an order list written in ``text``.

    Raises
    ------
    OrderError
        If it is no order list for this pattern; the sentence begins with the line.
    """
    head = next(iter(text.splitlines()), "")
    between = max(",;\t", key=head.count)
    rows = csv.reader(io.StringIO(text), delimiter=between, strict=True)
    try:
        numbered = [(rows.line_num, row) for row in rows if any(cell.strip() for cell in row)]
    except csv.Error as problem:
        raise OrderError(f"line {rows.line_num}: it is no CSV, {problem}") from problem
    if not numbered:
        raise OrderError("line 1: it is empty; the first line names the columns view, size, count")
    places = _places(*numbered[0])
    lines = tuple(_line(number, row, places, pattern) for number, row in numbered[1:])
    if not lines:
        raise OrderError(
            f"line {numbered[0][0]}: nobody is on the list; write a line for each participant "
            "below the names of the columns"
        )
    return lines


def _places(number: int, row: list[str]) -> dict[str, int]:
    """Return the place of each column that counts."""
    heads = [cell.strip().casefold() for cell in row]
    missing = [name for name in NEEDED if name not in heads]
    if missing:
        raise OrderError(
            f"line {number}: there is no column {' and no column '.join(missing)}; the first line "
            "names the columns view, size and count, and perhaps name"
        )
    twice = [name for name in COLUMNS if heads.count(name) > 1]
    if twice:
        raise OrderError(f"line {number}: two columns are called {twice[0]}; keep one of them")
    return {name: heads.index(name) for name in COLUMNS if name in heads}


def _line(number: int, row: list[str], places: dict[str, int], pattern: Pattern) -> OrderLine:
    """Return one line, or say what is wrong in it."""
    cells = {name: row[place].strip() if place < len(row) else "" for name, place in places.items()}
    for name in NEEDED:
        if not cells[name]:
            raise OrderError(f"line {number}: the {name} is missing; every line needs one")
    try:
        view, size = pattern.view(cells["view"]).name, pattern.size(cells["size"])
    except UnknownNameError as problem:
        raise OrderError(f"line {number}: {problem}") from problem
    count = cells["count"]
    if not (count.isascii() and count.isdigit() and 1 <= int(count[:9]) <= MOST_GARMENTS):
        raise OrderError(
            f'line {number}: "{count[:40]}" is no number of garments from 1 to {MOST_GARMENTS}'
        )
    return OrderLine(view, size, int(count), " ".join(cells.get("name", "").split()))
