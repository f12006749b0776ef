"""Write the option tables of the command page: ``python docs/make_command_reference.py``.

Run it after an option was changed. Every table of ``command-line.md`` that stands between
``<!-- options: NAME -->`` and ``<!-- end -->`` is written anew from the commands themselves. What
several commands take in the same way stands once, in the table ``shared``, and the others name it.
"""

import inspect
from collections import Counter
from enum import Enum
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple, get_args

import typer

from nesting.cli.app import app

PAGE = Path(__file__).resolve().parent / "command-line.md"
GROUPS = ("Garment", "Cloth", "Search", "Output")
SHARED = "shared"


class Row(NamedTuple):
    """One option or argument as the page tells of it."""

    name: str
    group: str
    typed: str
    says: str


def choices(annotation: Any) -> tuple[str, ...]:
    """Return the words that an option may be, where its kind is an enumeration."""
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return tuple(str(one.value) for one in annotation)
    return next(filter(None, map(choices, get_args(annotation))), ())


def row_of(param: Any, annotation: Any) -> Row:
    """Return what the page says of one parameter of a command."""
    name, words = param.opts[0], choices(annotation)
    is_option = name.startswith("--")
    value = param.metavar or ("WORD" if words else "TEXT")
    flag = is_option and param.is_flag
    typed = (name if flag else f"{name} {value}") if is_option else value
    says = param.help
    default = getattr(param.default, "value", param.default)
    if words:
        says += f" One of {', '.join(f'`{word}`' for word in words)}."
    if is_option and param.required:
        says += " Needed."
    elif default not in (None, False):
        says += f" Default: `{default}`."
    return Row(name, param.rich_help_panel or "", typed.replace("|", " or "), says)


def rows_of(command: Any) -> list[Row]:
    """Return the rows of a command, arguments first."""
    annotations = inspect.signature(command.callback).parameters
    rows = [
        row_of(param, annotations[param.name].annotation)
        for param in command.params
        if param.opts[0] != "--help"
    ]
    return sorted(rows, key=lambda row: row.name.startswith("--"))


def table(rows: list[Row]) -> str:
    """Return rows as a table in Markdown."""
    lines = [f"| `{row.typed}` | {row.says} |" for row in rows]
    return "\n".join(["| Typed | What it says |", "|---|---|", *lines]) + "\n"


def shared_tables(shared: list[Row]) -> str:
    """Return the tables of what several commands take in the same way, by group."""
    by_group = sorted(shared, key=lambda row: GROUPS.index(row.group))
    return "\n".join(
        f"### {group}\n\n{table(list(rows))}"
        for group, rows in groupby(by_group, key=lambda row: row.group)
    )


def own_table(rows: list[Row], shared: list[Row]) -> str:
    """Return the table of what is a command's own, and the names of the rest."""
    own = [row for row in rows if row not in shared]
    names = ", ".join(f"`{row.name}`" for row in rows if row in shared)
    link = f"\nAnd [as several commands](#options-of-several-commands): {names}.\n"
    return (table(own) if own else "") + (link if names else "")


def shared_rows(every: list[Row]) -> list[Row]:
    """Return the options that several commands take in the same way, one of each name."""
    counts = Counter(row for row in every if row.name.startswith("--"))
    commonest = {row.name: row for row, count in reversed(counts.most_common()) if count > 1}
    return [row for row in counts if commonest.get(row.name) == row]


def tables() -> dict[str, str]:
    """Return every generated part of the page by its name."""
    commands: dict[str, Any] = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    rows = {name: rows_of(command) for name, command in commands.items()}
    shared = shared_rows([row for of_command in rows.values() for row in of_command])
    parts = {name: own_table(of_command, shared) for name, of_command in rows.items()}
    return {SHARED: shared_tables(shared), **parts}


def written(page: str) -> str:
    """Return the text of the page with its tables written anew.

    Raises
    ------
    ValueError
        If the page has no place for one of the tables.
    """
    for name, part in tables().items():
        before, opening, rest = page.partition(f"<!-- options: {name} -->\n")
        _, closing, after = rest.partition("<!-- end -->\n")
        if not (opening and closing):
            raise ValueError(f"the page has no place for the options of {name}; mark one")
        page = f"{before}{opening}{part}{closing}{after}"
    return page


def main() -> None:
    """Write the page."""
    PAGE.write_text(written(PAGE.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
