"""The options of ``nesting shop``."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from nesting.cli.option_kinds import number, option
from nesting.cli.options import GarmentTyped, JsonOption, LanguageOption, SearchTyped


@dataclass(frozen=True, kw_only=True)
class ShopTyped(JsonOption, LanguageOption, SearchTyped, GarmentTyped):
    """Everything that can be typed after ``nesting shop``."""

    also: Annotated[
        list[str] | None,
        option(
            "--also",
            "Garment",
            'More garments from the same cloths: "VIEW SIZE" or "VIEW SIZE NUMBER".',
            metavar="GARMENTS",
        ),
    ] = None
    bolt: Annotated[
        list[str] | None,
        option(
            "--bolt",
            "Cloth",
            'The bolt for one cloth, such as "shell 45in 12.50/yd nap". Give one for each cloth.',
            metavar="BOLT",
        ),
    ] = None
    thread_ratio: Annotated[
        float,
        option(
            "--thread-ratio",
            "Thread",
            "Thread over seam, for the estimate. 2.5 is a lockstitch.",
            **number("--thread-ratio"),
        ),
    ] = 2.5
    neaten_ratio: Annotated[
        float,
        option(
            "--neaten-ratio",
            "Thread",
            "Thread over each raw edge that is neatened. 5.5 is a zigzag; 0 if none is.",
            **number("--neaten-ratio"),
        ),
    ] = 5.5
    thread_waste: Annotated[
        str,
        option(
            "--thread-waste",
            "Thread",
            "Thread wasted on top, for the estimate.",
            metavar="PERCENT",
        ),
    ] = "15%"
    csv: Annotated[
        Path | None,
        option("--csv", "Output", "Write the list to this .csv file.", metavar="FILE"),
    ] = None
    markdown: Annotated[
        Path | None,
        option("--markdown", "Output", "Write the list to this .md file.", metavar="FILE"),
    ] = None
    pdf: Annotated[
        Path | None,
        option(
            "--pdf",
            "Output",
            "Write the list to this .pdf file, one page to print.",
            metavar="FILE",
        ),
    ] = None
