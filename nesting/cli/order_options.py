"""The options of ``nesting order``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.cloth_options import ClothTyped
from nesting.cli.option_kinds import option
from nesting.cli.options import BoltTyped, ClothOfPattern, JsonOption, MarkerWritten, SearchTyped


@dataclass(frozen=True, kw_only=True)
class OrderTyped(JsonOption, MarkerWritten, SearchTyped, ClothTyped, BoltTyped, ClothOfPattern):
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
    csv: Annotated[
        Path | None,
        option("--csv", "Output", "Write who gets which pieces to this .csv file.", metavar="FILE"),
    ] = None
