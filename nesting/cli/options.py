"""The options of the commands, each declared once, and how their text is read.

A command takes one frozen dataclass of options, put together from the groups below;
:func:`takes` turns such a class into the parameters that typer asks for.
"""

import inspect
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any, TypeVar, get_type_hints

import typer

from nesting.spread import Spread
from pieces.errors import LengthError

Options = TypeVar("Options")
Read = TypeVar("Read")


class OptionError(Exception):
    """An option has a value that cannot be used; the sentence begins with its name."""


class Nap(StrEnum):
    """Whether one bolt has nap."""

    WITH = "with"
    WITHOUT = "without"


class Naps(StrEnum):
    """Which kinds of cloth to compare."""

    WITH = "with"
    WITHOUT = "without"
    BOTH = "both"


class Effort(StrEnum):
    """How many orders of the pieces the search tries."""

    QUICK = "quick"
    STANDARD = "standard"
    THOROUGH = "thorough"


def _option(name: str, group: str, about: str, **more: Any) -> Any:
    return typer.Option(name, help=about, rich_help_panel=group, **more)


def _whole(name: str, low: int, high: int) -> dict[str, Any]:
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


def _number(name: str) -> dict[str, Any]:
    """Return what makes an option a number, with a point or a comma for its decimals."""

    def read(typed: str | float) -> float:
        try:
            return float(str(typed).replace(",", "."))
        except ValueError:
            raise OptionError(
                f'{name}: "{typed}" is no number; write one such as 2 or 2.5'
            ) from None

    return {"parser": read, "metavar": "NUMBER"}


@dataclass(frozen=True, kw_only=True)
class JsonOption:
    """Answers for machines."""

    json: Annotated[
        bool, _option("--json", "Output", "Print JSON on standard output and nothing else there.")
    ] = False


@dataclass(frozen=True, kw_only=True)
class SearchTyped:
    """How long to search."""

    effort: Annotated[
        Effort | None,
        _option(
            "--effort",
            "Search",
            "How hard to search. Without --seconds it is standard.",
        ),
    ] = None
    seconds: Annotated[
        float | None,
        _option(
            "--seconds",
            "Search",
            "Stop after so many seconds. One Ctrl-C stops it as well.",
            **_number("--seconds"),
        ),
    ] = None
    seed: Annotated[
        int,
        _option("--seed", "Search", "Start of the random choices.", **_whole("--seed", 0, 2**32)),
    ] = 1
    workers: Annotated[
        int,
        _option(
            "--workers",
            "Search",
            "Processes that search at once, 1 to 64.",
            **_whole("--workers", 1, 64),
        ),
    ] = 2


@dataclass(frozen=True, kw_only=True)
class ClothTyped:
    """What is true of every bolt that is asked about."""

    spread: Annotated[
        Spread,
        _option(
            "--spread",
            "Cloth",
            "How the cloth is spread: open in one layer, or folded lengthwise in two.",
        ),
    ] = Spread.OPEN
    selvage: Annotated[
        str | None,
        _option(
            "--selvage",
            "Cloth",
            "Width of each selvage, such as 0.5in. No piece lies there.",
            metavar="LENGTH",
        ),
    ] = None
    tilt: Annotated[
        float,
        _option(
            "--tilt",
            "Cloth",
            "Degrees by which a grainline may lean. The rule of the trade is 0.",
            **_number("--tilt"),
        ),
    ] = 0.0
    step: Annotated[
        str | None,
        _option(
            "--step",
            "Cloth",
            "Steps in which the shop cuts. "
            "It is 1/8yd for a width in inches, and 10cm for one in centimetres.",
            metavar="LENGTH",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class PatternTyped:
    """What to cut."""

    pattern: Annotated[
        Path,
        typer.Argument(help="The pattern sheet, a .toml file.", metavar="PATTERN"),
    ]
    view: Annotated[
        str | None,
        _option("--view", "Garment", "View of the pattern. Needed if there are several."),
    ] = None
    size: Annotated[
        str | None,
        _option("--size", "Garment", "Size of the pattern. Needed if there are several."),
    ] = None
    garments: Annotated[
        int,
        _option(
            "--garments",
            "Garment",
            "How many garments to cut, 1 to 100.",
            **_whole("--garments", 1, 100),
        ),
    ] = 1
    cloth: Annotated[
        str | None,
        _option(
            "--cloth",
            "Garment",
            "Cloth of the pattern, such as shell or lining. Without it, the first of the sheet.",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class BoltTyped:
    """One bolt."""

    width: Annotated[
        str, _option("--width", "Cloth", "Width of the bolt, such as 45in.", metavar="LENGTH")
    ]
    nap: Annotated[
        Nap,
        _option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = Nap.WITHOUT
    price: Annotated[
        str | None,
        _option("--price", "Cloth", "Price of the cloth, such as 12.50/yd.", metavar="PRICE"),
    ] = None


@dataclass(frozen=True, kw_only=True)
class BoltsTyped:
    """Several bolts."""

    width: Annotated[
        list[str],
        _option(
            "--width", "Cloth", "Width of a bolt, such as 45in. Give one or more.", metavar="LENGTH"
        ),
    ]
    nap: Annotated[
        Naps,
        _option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = Naps.WITHOUT
    price: Annotated[
        list[str] | None,
        _option(
            "--price",
            "Cloth",
            "Price, such as 12.50/yd. Give one for all widths, or one for each in their order.",
            metavar="PRICE",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class LayTyped(JsonOption, SearchTyped, ClothTyped, BoltTyped, PatternTyped):
    """Everything that can be typed after ``nesting lay``."""

    out: Annotated[
        Path | None,
        _option("--out", "Output", "Write the marker to this .json file.", metavar="FILE"),
    ] = None
    draw: Annotated[
        Path | None,
        _option(
            "--draw", "Output", "Draw the marker to this .png, .svg or .pdf file.", metavar="FILE"
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class CompareTyped(JsonOption, SearchTyped, ClothTyped, BoltsTyped, PatternTyped):
    """Everything that can be typed after ``nesting compare``."""

    draw: Annotated[
        Path | None,
        _option(
            "--draw", "Output", "Draw all markers to this .png, .svg or .pdf file.", metavar="FILE"
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class CheckTyped(JsonOption):
    """Everything that can be typed after ``nesting check``."""

    marker: Annotated[
        Path, typer.Argument(help="A marker file, written by lay --out.", metavar="MARKER")
    ]


@dataclass(frozen=True, kw_only=True)
class DrawTyped:
    """Everything that can be typed after ``nesting draw``."""

    marker: Annotated[
        Path, typer.Argument(help="A marker file, written by lay --out.", metavar="MARKER")
    ]
    out: Annotated[
        Path,
        _option("--out", "Output", "The .png, .svg or .pdf file to write.", metavar="FILE"),
    ]


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
