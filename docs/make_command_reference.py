"""Write the option tables of the command page: ``python docs/make_command_reference.py``.

Run it after an option was changed. Every table of ``command-line.md`` that stands between
``<!--options:NAME-->`` and ``<!--end-->`` is written anew from the commands themselves. What
three commands or more take in the same way stands once, in the tables ``shared``, and each of them
names it.
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
MANY = 3  # an option that fewer commands take stands with each of them


class Row(NamedTuple):
    """One option or argument as the page tells of it."""

    name: str
    group: str
    typed: str
    says: str

    @property
    def is_option(self) -> bool:
        """Whether it has a name to type, and not a place."""
        return self.name.startswith("--")


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
    return sorted(rows, key=lambda row: row.is_option)


def table(rows: list[Row]) -> str:
    """Return rows as a table in Markdown."""
    lines = [f"`{row.typed}` | {row.says}" for row in rows]
    return "\n".join(["Typed | What it says", "---|---", *lines]) + "\n"


def shared_tables(shared: list[Row]) -> str:
    """Return the tables of what several commands take in the same way, by group."""
    by_group = sorted(shared, key=lambda row: GROUPS.index(row.group))
    return "\n".join(
        f"### {group}\n\n{table(list(rows))}"
        for group, rows in groupby(by_group, key=lambda row: row.group)
    )


def own_table(rows: list[Row], shared: list[Row], told: dict[Row, str]) -> str:
    """Return the table of what is a command's own, and where the rest of its options is told.

    Parameters
    ----------
    rows
        All of the command.
    shared
        What the tables of several commands tell.
    told
        Options that an earlier command has in its table, with the name of that command.
    """
    own = [row for row in rows if row not in shared and row not in told]
    elsewhere = groups_taken(rows, shared)
    for command in dict.fromkeys(told[row] for row in rows if row in told):
        names = ", ".join(f"`{row.name}`" for row in rows if told.get(row) == command)
        elsewhere.append(f"{names} as [`nesting {command}`](#nesting-{command})")
    more = f"\nAlso: {'; '.join(elsewhere)}.\n" if elsewhere else ""
    return (table(own) if own else "") + more


def groups_taken(rows: list[Row], shared: list[Row]) -> list[str]:
    """Return links to the shared groups of which a command has every option, and other names."""
    names = {row.name for row in rows}
    groups, single = [], []
    for group in GROUPS:
        of_group = [row for row in shared if row.group == group]
        if len(of_group) > 1 and {row.name for row in of_group} <= names:
            groups.append(f"[{group}](#{group.lower()})")
        else:
            single += [f"`{row.name}`" for row in of_group if row in rows]
    whole = [f"all of {', '.join(groups)}"] if groups else []
    return whole + ([", ".join(single)] if single else [])


def shared_rows(every: list[Row]) -> list[Row]:
    """Return the options that several commands take in the same way, one of each name."""
    counts = Counter(row for row in every if row.is_option)
    commonest = {row.name: row for row, count in reversed(counts.most_common()) if count >= MANY}
    return [row for row in counts if commonest.get(row.name) == row]


def tables() -> dict[str, str]:
    """Return every generated part of the page by its name."""
    commands: dict[str, Any] = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    rows = {name: rows_of(command) for name, command in commands.items()}
    shared = shared_rows([row for of_command in rows.values() for row in of_command])
    parts, told = {SHARED: shared_tables(shared)}, dict[Row, str]()
    for name, of_command in rows.items():
        parts[name] = own_table(of_command, shared, told)
        told |= {row: name for row in of_command if row not in {*shared, *told} and row.is_option}
    return parts


def written(page: str) -> str:
    """Return the text of the page with its tables written anew.

    Raises
    ------
    ValueError
        If the page has no place for one of the tables.
    """
    for name, part in tables().items():
        before, opening, rest = page.partition(f"<!--options:{name}-->\n")
        _, closing, after = rest.partition("<!--end-->\n")
        if not (opening and closing):
            raise ValueError(f"the page has no place for the options of {name}; mark one")
        page = f"{before}{opening}{part}{closing}{after}"
    return page


def main() -> None:
    """Write the page."""
    PAGE.write_text(written(PAGE.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
