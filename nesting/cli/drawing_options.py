"""The options of ``nesting import`` and ``nesting export``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.option_kinds import number, option
from nesting.cli.options import JsonOption


@dataclass(frozen=True, kw_only=True)
class ImportTyped(JsonOption):
    """Everything that can be typed after ``nesting import``."""

    source: Annotated[
        list[Path] | None,
        typer.Argument(
            help="A drawing (.svg, .dxf), or photographs of paper pieces (.jpg, .png).",
            metavar="[DRAWING|PHOTO...]",
        ),
    ] = None
    out: Annotated[
        Path | None,
        option("--out", "Output", "The pattern sheet to write, a .toml file.", metavar="FILE"),
    ] = None
    preview: Annotated[
        Path | None,
        option(
            "--preview",
            "Output",
            "Draw what was found: .png, .svg or .pdf; over a photograph .png.",
            metavar="FILE",
        ),
    ] = None
    units: Annotated[
        str | None,
        option(
            "--units",
            "Drawing",
            "Size of one unit of the drawing: mm, cm, in, px or a length. As the file says if "
            "not said.",
            metavar="UNIT",
        ),
    ] = None
    dialect: Annotated[
        str | None,
        option(
            "--dialect",
            "Drawing",
            "Layer numbers of a DXF drawing: standard or shifted. Guessed if not said.",
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
        option(
            "--name",
            "Measures",
            "Title of a pattern by measure or photograph. The file's name if not said.",
        ),
    ] = None
    sheet: Annotated[
        str | None,
        option(
            "--sheet",
            "Photograph",
            "The blank sheet beside the pieces: a4, letter, a3, a5 or a size such as 20cm x 30cm. "
            "Printed marks if not said.",
            metavar="SHEET",
        ),
    ] = None
    grain: Annotated[
        float | None,
        option(
            "--grain",
            "Photograph",
            "Direction of every grainline, degrees: 90 up the photograph, 0 to its right. Lines "
            "drawn on the pieces are looked for if not said.",
            **number("--grain"),
        ),
    ] = None
    piece: Annotated[
        list[str] | None,
        option(
            "--piece",
            "Photograph",
            "Name of a piece. One for each, from left to right. Numbers if not said.",
            metavar="NAME",
        ),
    ] = None
    print_marks: Annotated[
        Path | None,
        option(
            "--print-marks",
            "Photograph",
            "Write pages of marks to lay beside the pieces, a .pdf file, and do nothing else.",
            metavar="FILE",
        ),
    ] = None
    paper: Annotated[
        str,
        option("--paper", "Photograph", "Paper for --print-marks: a4 or letter.", metavar="PAPER"),
    ] = "a4"


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
        option("--size", "Garment", "Size of the pattern to draw. All if not said."),
    ] = None
