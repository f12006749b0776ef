"""The options of the commands, in groups that several commands share.

A command takes one frozen dataclass of options, put together from the groups below;
:func:`nesting.cli.option_kinds.takes` turns such a class into the parameters that typer asks for.
"""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.cloth_options import ClothTyped
from nesting.cli.option_kinds import OptionError, number, option, read_option, takes, whole

__all__ = [
    "BoltTyped",
    "BoltsTyped",
    "ClothTyped",
    "CompareTyped",
    "DrawTyped",
    "Effort",
    "JsonOption",
    "LayTyped",
    "Nap",
    "Naps",
    "OptionError",
    "PatternTyped",
    "SearchTyped",
    "read_option",
    "takes",
]


class Nap(StrEnum):
    """Whether one bolt has nap."""

    WITH = "with"
    WITHOUT = "without"


class Naps(StrEnum):
    """Which kinds of cloth to compare."""

    WITH = "with"
    WITHOUT = "without"
    BOTH = "both"


class Language(StrEnum):
    """What pictures and lists are written in, by ISO 639-1."""

    EN = "en"
    FR = "fr"
    ES = "es"


class Effort(StrEnum):
    """How much work the search does."""

    QUICK = "quick"
    STANDARD = "standard"
    THOROUGH = "thorough"


@dataclass(frozen=True, kw_only=True)
class JsonOption:
    """Answers for machines."""

    json: Annotated[
        bool, option("--json", "Output", "Print JSON on standard output and nothing else there.")
    ] = False


@dataclass(frozen=True, kw_only=True)
class LanguageOption:
    """The language of what is written for people."""

    language: Annotated[
        Language,
        option("--language", "Output", "Language of what is written: English, French or Spanish."),
    ] = Language.EN


@dataclass(frozen=True, kw_only=True)
class SearchTyped:
    """How long to search."""

    effort: Annotated[
        Effort | None,
        option(
            "--effort",
            "Search",
            "How hard to search. Without --seconds it is standard.",
        ),
    ] = None
    seconds: Annotated[
        float | None,
        option(
            "--seconds",
            "Search",
            "Stop after so many seconds. One Ctrl-C stops it as well.",
            **number("--seconds"),
        ),
    ] = None
    seed: Annotated[
        int,
        option("--seed", "Search", "Start of the random choices.", **whole("--seed", 0, 2**32)),
    ] = 1
    workers: Annotated[
        int,
        option(
            "--workers",
            "Search",
            "Processes that search at once, 1 to 64.",
            **whole("--workers", 1, 64),
        ),
    ] = 2


@dataclass(frozen=True, kw_only=True)
class GarmentTyped:
    """What to sew."""

    pattern: Annotated[
        Path,
        typer.Argument(help="The pattern sheet, a .toml file.", metavar="PATTERN"),
    ]
    view: Annotated[
        str | None,
        option("--view", "Garment", "View of the pattern. Needed if there are several."),
    ] = None
    size: Annotated[
        str | None,
        option("--size", "Garment", "Size of the pattern. Needed if there are several."),
    ] = None
    garments: Annotated[
        int,
        option(
            "--garments",
            "Garment",
            "How many garments of this view and size, 1 to 100.",
            **whole("--garments", 1, 100),
        ),
    ] = 1


@dataclass(frozen=True, kw_only=True)
class ClothOfPattern:
    """Which cloth of a pattern."""

    cloth: Annotated[
        str | None,
        option(
            "--cloth",
            "Garment",
            "Cloth of the pattern, such as shell or lining. Without it, the first of the sheet.",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class PatternTyped(ClothOfPattern, GarmentTyped):
    """What to cut, from one cloth of the pattern."""


@dataclass(frozen=True, kw_only=True)
class MarkerWritten:
    """Where a marker is written."""

    out: Annotated[
        Path | None,
        option("--out", "Output", "Write the marker to this .json file.", metavar="FILE"),
    ] = None
    draw: Annotated[
        Path | None,
        option(
            "--draw", "Output", "Draw the marker to this .png, .svg or .pdf file.", metavar="FILE"
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class BoltTyped:
    """One bolt."""

    width: Annotated[
        str, option("--width", "Cloth", "Width of the bolt, such as 45in.", metavar="LENGTH")
    ]
    nap: Annotated[
        Nap,
        option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = Nap.WITHOUT
    price: Annotated[
        str | None,
        option("--price", "Cloth", "Price of the cloth, such as 12.50/yd.", metavar="PRICE"),
    ] = None


@dataclass(frozen=True, kw_only=True)
class BoltsTyped:
    """Several bolts."""

    width: Annotated[
        list[str] | None,
        option(
            "--width",
            "Cloth",
            "Width of a bolt, such as 45in. Give one or more, or --bolts.",
            metavar="LENGTH",
        ),
    ] = None
    bolts: Annotated[
        Path | None,
        option(
            "--bolts",
            "Cloth",
            "A .toml list of the shop's bolts, to rank them by what the garment costs.",
            metavar="FILE",
        ),
    ] = None
    nap: Annotated[
        Naps,
        option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = Naps.WITHOUT
    price: Annotated[
        list[str] | None,
        option(
            "--price",
            "Cloth",
            "Price, such as 12.50/yd. Give one for all widths, or one for each in their order.",
            metavar="PRICE",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class LayTyped(
    LanguageOption, JsonOption, MarkerWritten, SearchTyped, ClothTyped, BoltTyped, PatternTyped
):
    """Everything that can be typed after ``nesting lay``."""

    what_if_narrower: Annotated[
        bool,
        option(
            "--what-if-narrower",
            "Cloth",
            "Tell from which width on a bolt narrower than its label asks for more.",
        ),
    ] = False
    explain: Annotated[
        bool,
        option(
            "--explain",
            "Cloth",
            "Tell what each rule of the cloth costs, by laying the pieces again without it.",
        ),
    ] = False
    draw_explain: Annotated[
        Path | None,
        option(
            "--draw-explain",
            "Output",
            "Draw what each rule costs to this .png, .svg or .pdf file. Implies --explain.",
            metavar="FILE",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class CompareTyped(LanguageOption, JsonOption, SearchTyped, ClothTyped, BoltsTyped, PatternTyped):
    """Everything that can be typed after ``nesting compare``."""

    draw: Annotated[
        Path | None,
        option(
            "--draw", "Output", "Draw all markers to this .png, .svg or .pdf file.", metavar="FILE"
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class DrawTyped(LanguageOption):
    """Everything that can be typed after ``nesting draw``."""

    marker: Annotated[
        Path, typer.Argument(help="A marker file, written by lay --out.", metavar="MARKER")
    ]
    out: Annotated[
        Path,
        option("--out", "Output", "The .png, .svg or .pdf file to write.", metavar="FILE"),
    ]
    true_size: Annotated[
        bool,
        option("--true-size", "Paper", "Write pages at true size, to join and cut from. PDF only."),
    ] = False
    paper: Annotated[
        str,
        option("--paper", "Paper", "Paper for true size: a4, letter, a3, a0, or the roll 36in."),
    ] = "a4"
    by_tape: Annotated[
        Path | None,
        option(
            "--by-tape",
            "Paper",
            "Write where each grainline lies, to lay it with a tape measure, to this .csv file.",
            metavar="FILE",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class ServeTyped:
    """Everything that can be typed after ``nesting serve``."""

    patterns: Annotated[
        Path,
        option("--patterns", "Page", "Folder of the pattern sheets to offer.", metavar="FOLDER"),
    ] = Path("demo")
    host: Annotated[
        str,
        option("--host", "Page", "Address to listen at. Only this computer reaches 127.0.0.1."),
    ] = "127.0.0.1"
    port: Annotated[
        int,
        option("--port", "Page", "Port to listen at, 1 to 65535.", **whole("--port", 1, 65535)),
    ] = 8123
