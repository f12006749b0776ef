"""The options of ``nesting fits``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from nesting.cli.cloth_options import ClothTyped
from nesting.cli.option_kinds import option
from nesting.cli.options import JsonOption, Nap, PatternTyped, SearchTyped


@dataclass(frozen=True, kw_only=True)
class FitsTyped(JsonOption, SearchTyped, ClothTyped, PatternTyped):
    """Everything that can be typed after ``nesting fits``."""

    have: Annotated[
        list[str],
        option(
            "--have",
            "Cloth",
            'A length of cloth owned, its length first: "2 1/2 yd x 54in". Give one or more.',
            metavar="CLOTH",
        ),
    ]
    order: Annotated[
        Path | None,
        option(
            "--order",
            "Garment",
            "A list of garments as for nesting order, instead of --view, --size and --garments.",
            metavar="FILE",
        ),
    ] = None
    nap: Annotated[
        Nap,
        option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = Nap.WITHOUT
    out: Annotated[
        Path | None,
        option(
            "--out",
            "Output",
            "Write the marker to this .json file; of several, each with its number.",
            metavar="FILE",
        ),
    ] = None
    draw: Annotated[
        Path | None,
        option(
            "--draw",
            "Output",
            "Draw what fits to this .png, .svg or .pdf file.",
            metavar="FILE",
        ),
    ] = None
