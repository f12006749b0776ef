"""The way out to a terminal: no letter of a name may give it an order.

Names come from files of strangers. Every word of the command line leaves through here, where
escape sequences, and letters that turn the direction of writing, become codes.
"""

import json
import re
import unicodedata
from collections.abc import Iterable
from typing import Any

import typer
from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment

_JOINERS = "\u200c\u200d"
"""Some scripts need them within words, and no terminal obeys them."""
_UNUSUAL = re.compile(r"[^ -~\n]")


def clean(text: str) -> str:
    r"""Return a text with every letter that a terminal might obey written as a code.

    Line ends, tabs and spaces of all widths stay.

    Examples
    --------
    >>> print(clean("T\x1b]0;owned\x07\u202e"))
    T\x1b]0;owned\x07\u202e
    """
    return _UNUSUAL.sub(lambda found: _harmless(found[0]), text)


def _harmless(letter: str) -> str:
    if _is_harmless(letter):
        return letter
    return letter.encode("unicode_escape").decode()


def _is_harmless(letter: str) -> bool:
    is_space = letter == "\t" or unicodedata.category(letter) == "Zs"
    return letter.isprintable() or is_space or letter in _JOINERS


def clean_json(value: Any) -> str:
    r"""Return a value as JSON, in which the same letters are written as JSON writes them.

    Examples
    --------
    >>> print(clean_json("a\x9b\u202e\U000e0001"))
    "a\u009b\u202e\udb40\udc01"
    """
    text = json.dumps(value, ensure_ascii=False, indent=2)
    return _UNUSUAL.sub(
        lambda found: found[0] if _is_harmless(found[0]) else json.dumps(found[0])[1:-1], text
    )


def echo(text: str, *, err: bool = False) -> None:
    """Write lines on standard output, or on standard error."""
    typer.echo(clean(text), err=err)


class CleanConsole(Console):
    """A console whose words are clean; its own orders, such as colours, are not words."""

    def render(
        self, renderable: RenderableType, options: ConsoleOptions | None = None
    ) -> Iterable[Segment]:
        """Return the segments of something to be shown, clean."""
        for segment in super().render(renderable, options):
            yield segment if segment.control else segment._replace(text=clean(segment.text))
