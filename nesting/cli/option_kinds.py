"""What options are made of: their kinds, how their text is read, and how a command takes them."""

import inspect
from collections.abc import Callable
from typing import Any, TypeVar, get_type_hints

import typer

from pieces.errors import LengthError

Options = TypeVar("Options")
Read = TypeVar("Read")


class OptionError(Exception):
    """An option has a value that cannot be used; the sentence begins with its name."""


def option(name: str, group: str, about: str, **more: Any) -> Any:
    """Return an option of a command, shown in ``group`` of its help."""
    return typer.Option(name, help=about, rich_help_panel=group, **more)


def whole(name: str, low: int, high: int) -> dict[str, Any]:
    """Return what makes an option a whole number from ``low`` to ``high``."""

    def read(typed: str | int) -> int:
        try:
            number = int(typed)
        except ValueError:
            raise OptionError(f'{name}: "{typed}" is no whole number; write 1, 2, 3, ...') from None
        if not low <= number <= high:
            raise OptionError(f"{name}: {number} is out of range; it goes from {low} to {high}")
        return number

    return {"parser": read, "metavar": "NUMBER"}


def number(name: str) -> dict[str, Any]:
    """Return what makes an option a number, with a point or a comma for its decimals."""

    def read(typed: str | float) -> float:
        try:
            return float(str(typed).replace(",", "."))
        except ValueError:
            raise OptionError(
                f'{name}: "{typed}" is no number; write one such as 2 or 2.5'
            ) from None

    return {"parser": read, "metavar": "NUMBER"}


def takes(
    options: type[Options],
) -> Callable[[Callable[[Options], int]], Callable[..., int]]:
    """Return a decorator that lets typer see the fields of ``options`` as parameters."""

    def decorate(run: Callable[[Options], int]) -> Callable[..., int]:
        def command(**typed: Any) -> int:
            return run(options(**typed))

        command.__doc__ = run.__doc__
        command.__name__ = run.__name__
        command.__signature__ = inspect.signature(options)  # type: ignore[attr-defined]
        command.__annotations__ = get_type_hints(options, include_extras=True)
        return command

    return decorate


def read_option(name: str, read: Callable[[str], Read], text: str) -> Read:
    """Return what ``read`` makes of the text typed after an option.

    Raises
    ------
    OptionError
        If it makes nothing of it.
    """
    try:
        return read(text)
    except LengthError as problem:
        raise OptionError(f"{name}: {problem}") from problem
