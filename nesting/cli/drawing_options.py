"""The options of ``nesting import`` and ``nesting export``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.option_kinds import option
from nesting.cli.options import JsonOption


@dataclass(frozen=True, kw_only=True)
class ImportTyped(JsonOption):
    """Everything that can be typed after ``nesting import``."""

    out: Annotated[
        Path,
        option("--out", "Output", "The pattern sheet to write, a .toml file.", metavar="FILE"),
    ]
    drawing: Annotated[
        Path | None,
        typer.Argument(help="The drawing, an .svg or .dxf file.", metavar="[DRAWING]"),
    ] = None
    units: Annotated[
        str | None,
        option(
            "--units",
            "Drawing",
            "Size of one unit of the drawing: mm, cm, in, px or a length. As the file says.",
            metavar="UNIT",
        ),
    ] = None
    dialect: Annotated[
        str | None,
        option(
            "--dialect",
            "Drawing",
            "Layer numbers of a DXF drawing: standard or shifted. Guessed without it.",
            metavar="NAME",
        ),
    ] = None
    map: Annotated[
        Path | None,
        option(
            "--map",
            "Drawing",
            "What the drawing does not say itself, a .toml file.",
            metavar="FILE",
        ),
    ] = None
    shape: Annotated[
        list[str] | None,
        option(
            "--shape",
            "Measures",
            "A piece by measure instead of a drawing. Give one or more.",
            metavar="WORDS",
        ),
    ] = None
    name: Annotated[
        str | None,
        option("--name", "Measures", "Title of a pattern by measure. The name of the file."),
    ] = None


@dataclass(frozen=True, kw_only=True)
class ExportTyped(JsonOption):
    """Everything that can be typed after ``nesting export``."""

    source: Annotated[
        Path,
        typer.Argument(
            help="A pattern sheet (.toml), or a marker file (.json).", metavar="PATTERN|MARKER"
        ),
    ]
    out: Annotated[
        Path,
        option("--out", "Output", "The .svg or .dxf file to write.", metavar="FILE"),
    ]
    size: Annotated[
        list[str] | None,
        option("--size", "Garment", "Size of the pattern to draw. All without it."),
    ] = None
