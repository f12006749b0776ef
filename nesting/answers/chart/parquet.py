"""A table as Parquet, for tools that read columns: Apache Arrow writes it."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from nesting.errors import ParquetError


def check_parquet() -> None:
    """Refuse at once what could not be written after the work.

    Raises
    ------
    ParquetError
        If Apache Arrow is not installed.
    """
    _library()


def write_parquet(path: Path, *, csv: str, numbers: Sequence[str]) -> None:
    """Write a table of CSV as Parquet.

    Parameters
    ----------
    path
        File to write.
    csv
        The table, its first line the names of the columns.
    numbers
        Names of the columns that hold numbers, float64, null where there is none. All others hold
        text, as it stands in the CSV.

    Raises
    ------
    ParquetError
        If Apache Arrow is not installed.
    OSError
        If the file cannot be written.
    """
    arrow = _library()
    names = csv.partition("\n")[0].split(",")
    kinds = {name: arrow.float64() if name in numbers else arrow.string() for name in names}
    table = arrow.csv.read_csv(
        arrow.BufferReader(csv.encode("utf-8")),
        parse_options=arrow.csv.ParseOptions(newlines_in_values=True),
        convert_options=arrow.csv.ConvertOptions(column_types=kinds, null_values=[""]),
    )
    arrow.parquet.write_table(table, path)


def _library() -> Any:
    """Return the module ``pyarrow``, with its parts for CSV and Parquet."""
    try:
        import pyarrow  # noqa: PLC0415 - an extra, and slow to load
        import pyarrow.csv  # noqa: PLC0415
        import pyarrow.parquet  # noqa: PLC0415
    except ImportError as problem:
        raise ParquetError(
            "Parquet needs Apache Arrow; install it with: "
            'pip install "cloth-nesting[parquet]", or choose a file that ends in .csv'
        ) from problem
    return pyarrow
