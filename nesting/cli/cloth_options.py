"""The options that tell of the cloth: how it is spread, its design, its faults, what is left."""

from dataclasses import dataclass
from typing import Annotated

from nesting.cli.option_kinds import number, option
from nesting.cloth.spread import Spread


@dataclass(frozen=True, kw_only=True)
class RealClothTyped:
    """What is true of cloth as it comes from the bolt: design, flaws, washing, ends."""

    repeat_along: Annotated[
        str | None,
        option(
            "--repeat-along",
            "Cloth",
            "Length after which stripes or plaid begin again along the cloth, such as 4in.",
            metavar="LENGTH",
        ),
    ] = None
    repeat_across: Annotated[
        str | None,
        option(
            "--repeat-across",
            "Cloth",
            "Width after which stripes or plaid begin again across the cloth, such as 4in.",
            metavar="LENGTH",
        ),
    ] = None
    uneven: Annotated[
        bool,
        option(
            "--uneven",
            "Cloth",
            "The repeat is no mirror image of itself. Then every piece keeps one direction.",
        ),
    ] = False
    cut_on_repeat: Annotated[
        bool,
        option(
            "--cut-on-repeat",
            "Cloth",
            "The shop cuts where you choose in the repeat; else one repeat more is bought.",
        ),
    ] = False
    flaw: Annotated[
        list[str] | None,
        option(
            "--flaw",
            "Cloth",
            "A place to keep off: from the cut end, from the lower edge, its length and its "
            "width, such as 20in,12in,1in,2in. Give one or more.",
            metavar="AT,ACROSS,LONG,WIDE",
        ),
    ] = None
    shrink_along: Annotated[
        str | None,
        option(
            "--shrink-along",
            "Cloth",
            "What washing takes of the length: 3%, or a swatch before and after, 20cm to 19.4cm.",
            metavar="PERCENT",
        ),
    ] = None
    shrink_across: Annotated[
        str | None,
        option(
            "--shrink-across",
            "Cloth",
            "What washing takes of the width: 2%, or a swatch before and after, 20cm to 19.6cm.",
            metavar="PERCENT",
        ),
    ] = None
    end_allowance: Annotated[
        str | None,
        option(
            "--end-allowance",
            "Cloth",
            "Cloth kept beyond the last piece, for a crooked end. None if not said.",
            metavar="LENGTH",
        ),
    ] = None
    length_left: Annotated[
        str | None,
        option(
            "--length-left",
            "Cloth",
            "How much of the bolt is left, such as 3yd.",
            metavar="LENGTH",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class ClothTyped(RealClothTyped):
    """What is true of every bolt that is asked about."""

    spread: Annotated[
        Spread,
        option(
            "--spread",
            "Cloth",
            "How the cloth is spread: open, in two layers in one of four ways, or the best.",
        ),
    ] = Spread.OPEN
    selvage: Annotated[
        str | None,
        option(
            "--selvage",
            "Cloth",
            "Width of each selvage, such as 0.5in. No piece lies there.",
            metavar="LENGTH",
        ),
    ] = None
    tilt: Annotated[
        float,
        option(
            "--tilt",
            "Cloth",
            "Degrees by which a grainline may lean. The rule of the trade is 0.",
            **number("--tilt"),
        ),
    ] = 0.0
    gap: Annotated[
        str | None,
        option(
            "--gap",
            "Cloth",
            "Least distance between pieces and around flaws, such as 1/8in. None if not said.",
            metavar="LENGTH",
        ),
    ] = None
    step: Annotated[
        str | None,
        option(
            "--step",
            "Cloth",
            "Steps in which the shop cuts, or exact. "
            "It is 1/8yd for a width in inches, and 10cm for one in centimetres.",
            metavar="LENGTH",
        ),
    ] = None
