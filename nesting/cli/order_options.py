"""The options of ``nesting order``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.cloth_options import ClothTyped
from nesting.cli.option_kinds import option
from nesting.cli.options import BoltTyped, JsonOption, SearchTyped


@dataclass(frozen=True, kw_only=True)
class OrderTyped(JsonOption, SearchTyped, ClothTyped, BoltTyped):
    """Everything that can be typed after ``nesting order``."""

    order: Annotated[
        Path,
        typer.Argument(
            help="The order list, a .csv file with the columns view, size, count, perhaps name.",
            metavar="ORDER",
        ),
    ]
    pattern: Annotated[
        Path,
        option("--pattern", "Garment", "The pattern sheet, a .toml file.", metavar="FILE"),
    ]
    cloth: Annotated[
        str | None,
        option(
            "--cloth",
            "Garment",
            "Cloth of the pattern, such as shell or lining. Without it, the first of the sheet.",
        ),
    ] = None
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
    csv: Annotated[
        Path | None,
        option("--csv", "Output", "Write who gets which pieces to this .csv file.", metavar="FILE"),
    ] = None
