"""The options of ``nesting chart`` and ``nesting catalogue``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from nesting.cli.cloth_options import ClothTyped
from nesting.cli.option_kinds import option, whole
from nesting.cli.options import ClothOfPattern, JsonOption, LanguageOption, Naps, SearchTyped
from pieces.measures.units import UnitSystem


@dataclass(frozen=True, kw_only=True)
class CellsTyped(JsonOption, SearchTyped, ClothTyped, ClothOfPattern):
    """On which cloths charts are laid, by whom, and where finished cells are kept."""

    width: Annotated[
        list[str] | None,
        option(
            "--width",
            "Cloth",
            "A width for the chart. Give one or more; usual widths if none.",
            metavar="LENGTH",
        ),
    ] = None
    units: Annotated[
        UnitSystem | None,
        option(
            "--units",
            "Cloth",
            "Which usual widths: 36, 45, 54 and 60 in, or 90, 115, 140 and 150 cm. "
            "Without it, as the sheet is written.",
        ),
    ] = None
    nap: Annotated[
        Naps,
        option("--nap", "Cloth", "With nap, every piece keeps one direction."),
    ] = Naps.BOTH
    workers: Annotated[
        int | None,
        option(
            "--workers",
            "Search",
            "Cells searched at once, 1 to 64. Without it, as many as there are cores.",
            **whole("--workers", 1, 64),
        ),
    ] = None  # type: ignore[assignment]
    cluster: Annotated[
        str | None,
        option(
            "--cluster",
            "Search",
            "Lay on the workers of a Dask scheduler at this address, such as tcp://desk:8786.",
            metavar="ADDRESS",
        ),
    ] = None
    resume: Annotated[
        Path | None,
        option(
            "--resume",
            "Output",
            "Folder that keeps finished cells. Without it, one beside the first file written.",
            metavar="FOLDER",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class ChartTyped(LanguageOption, CellsTyped):
    """Everything that can be typed after ``nesting chart``."""

    pattern: Annotated[
        Path,
        typer.Argument(help="The pattern sheet, a .toml file.", metavar="PATTERN"),
    ]
    view: Annotated[
        list[str] | None,
        option("--view", "Garment", "A view for the chart. Give one or more; all if none."),
    ] = None
    size: Annotated[
        list[str] | None,
        option("--size", "Garment", "A size for the chart. Give one or more; all if none."),
    ] = None
    csv: Annotated[
        Path | None,
        option("--csv", "Output", "Write the chart to this .csv file.", metavar="FILE"),
    ] = None
    markdown: Annotated[
        Path | None,
        option("--markdown", "Output", "Write the chart to this .md file.", metavar="FILE"),
    ] = None
    draw: Annotated[
        Path | None,
        option(
            "--draw", "Output", "Draw the chart to this .png, .svg or .pdf file.", metavar="FILE"
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class CatalogueTyped(CellsTyped):
    """Everything that can be typed after ``nesting catalogue``."""

    folder: Annotated[
        Path,
        typer.Argument(help="The folder of pattern sheets, .toml files.", metavar="FOLDER"),
    ]
    out: Annotated[
        Path,
        option(
            "--out",
            "Output",
            "The .csv or .parquet file to write; a page of the same name that ends in .html comes "
            "beside it.",
            metavar="FILE",
        ),
    ]
