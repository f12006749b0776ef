"""Tables from strangers: names that can be shown, and no more of them than is of use."""

from collections.abc import Iterator, Mapping
from typing import Any

from pieces.errors import cut_short

LONGEST_NAME = 200
"""Letters of a key, or of any text that is no remark."""
LONGEST_REMARK = 10_000
"""Letters of a text for people to read, under a key of :data:`REMARKS`."""
REMARKS = frozenset(("note", "about", "detail", "ask_for", "hang", "cautions", "suggested"))
MOST_NAMED = 2_000
"""Keys of one table, or texts and tables of one list."""


def refuse_too_much(
    tables: Mapping[str, Any],
    *,
    error: type[Exception],
    longest_name: int = LONGEST_NAME,
    most_named: int = MOST_NAMED,
) -> None:
    """Refuse tables with a text or a list that is too long to be told of.

    Lists of numbers, and of lists, are passed over: who reads them counts them.

    Parameters
    ----------
    tables
        As a parser of TOML or JSON returns them.
    error
        Raised with the sentence.
    longest_name
        Letters of a key, or of a text that is no remark.
    most_named
        Entries of a table, or of a list of texts or tables.

    Raises
    ------
    Exception
        An ``error`` if a name has too many letters, a remark more than :data:`LONGEST_REMARK`,
        or a table or list too many entries.
    """
    for key, text in _texts(tables, ""):
        most = LONGEST_REMARK if key in REMARKS else longest_name
        if len(text) > most:
            where = f" of {cut_short(key)}" if key else ""
            raise error(
                f'the text "{cut_short(text)}"{where} has {len(text):,} letters; {most:,} are the '
                "limit, so shorten it"
            )
    for key, count in _counts(tables, ""):
        if count > most_named:
            where = cut_short(key) or "the whole"
            raise error(
                f"{where} has {count:,} entries; {most_named:,} are the limit, so divide it"
            )


def _texts(value: Any, key: str) -> Iterator[tuple[str, str]]:
    """Yield every key, and every text with the key it stands under."""
    if isinstance(value, str):
        yield key, value
    elif isinstance(value, dict):
        for name, inside in value.items():
            yield "", name
            yield from _texts(inside, name)
    elif isinstance(value, list) and _is_worth_a_look(value):
        for inside in value:
            yield from _texts(inside, key)


def _counts(value: Any, key: str) -> Iterator[tuple[str, int]]:
    """Yield how many entries each table and list has, with the key it stands under."""
    if isinstance(value, dict):
        yield key, len(value)
        for name, inside in value.items():
            yield from _counts(inside, name)
    elif isinstance(value, list) and _is_worth_a_look(value):
        yield key, len(value)
        for inside in value:
            yield from _counts(inside, key)


def _is_worth_a_look(value: list[Any]) -> bool:
    """Tell whether a list holds texts or tables."""
    return any(isinstance(one, str | dict) for one in value)
