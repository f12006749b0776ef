"""The options of ``nesting check``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.cloth_options import RealClothTyped
from nesting.cli.option_kinds import number, option, whole
from nesting.cli.options import JsonOption, Nap
from nesting.cloth.spread import Spread


@dataclass(frozen=True, kw_only=True)
class GarmentsChecked:
    """The garments that a marker should be of; what is not typed is believed of the marker."""

    pattern: Annotated[
        Path | None,
        option(
            "--pattern",
            "Garment",
            "The pattern sheet, to compare outlines, counts, grain and marks with.",
            metavar="FILE",
        ),
    ] = None
    view: Annotated[
        str | None,
        option("--view", "Garment", "The view that the marker should be of."),
    ] = None
    size: Annotated[
        str | None,
        option("--size", "Garment", "The size that the marker should be of."),
    ] = None
    garments: Annotated[
        int | None,
        option(
            "--garments",
            "Garment",
            "How many garments the marker should be of, 1 to 100.",
            **whole("--garments", 1, 100),
        ),
    ] = None
    cloth: Annotated[
        str | None,
        option(
            "--cloth", "Garment", "The cloth of the pattern that the marker should be cut from."
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class ClothChecked(RealClothTyped):
    """The cloth that a marker should lie on; what is not typed is believed of the marker."""

    width: Annotated[
        str | None,
        option("--width", "Cloth", "Width of the bolt, such as 45in.", metavar="LENGTH"),
    ] = None
    nap: Annotated[
        Nap | None,
        option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = None
    selvage: Annotated[
        str | None,
        option("--selvage", "Cloth", "Width of each selvage, such as 0.5in.", metavar="LENGTH"),
    ] = None
    step: Annotated[
        str | None,
        option("--step", "Cloth", "Steps in which the shop cuts, or exact.", metavar="LENGTH"),
    ] = None
    spread: Annotated[
        Spread | None,
        option("--spread", "Cloth", "How the cloth is spread."),
    ] = None
    tilt: Annotated[
        float | None,
        option("--tilt", "Cloth", "Degrees by which a grainline may lean.", **number("--tilt")),
    ] = None
    gap: Annotated[
        str | None,
        option(
            "--gap",
            "Cloth",
            "Least distance between pieces and around flaws, such as 1/8in.",
            metavar="LENGTH",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class CheckTyped(JsonOption, ClothChecked, GarmentsChecked):
    """Everything that can be typed after ``nesting check``."""

    marker: Annotated[
        Path, typer.Argument(help="A marker file, written by lay --out.", metavar="MARKER")
    ]
