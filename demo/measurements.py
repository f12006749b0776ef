"""The measurements the demo patterns are drafted from. All of them are invented.

No person was measured and no published size table was copied: the numbers are round steps that
give a plausible adult body, and a knapsack that such a body could carry.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, kw_only=True)
class Body:
    """Measurements of one size of body, mm, taken close to the body without ease.

    Parameters
    ----------
    chest_mm, waist_mm, hip_mm, neck_mm, wrist_mm, head_mm
        Girths.
    back_waist_mm
        From the nape, down the centre back to the waist.
    shoulder_mm
        From the side of the neck to the shoulder bone.
    arm_mm
        From the shoulder bone over the bent elbow to the wrist.
    height_mm
        From the floor to the crown, without shoes.
    """

    chest_mm: float
    waist_mm: float
    hip_mm: float
    neck_mm: float
    back_waist_mm: float
    shoulder_mm: float
    arm_mm: float
    wrist_mm: float
    head_mm: float
    height_mm: float


@dataclass(frozen=True, kw_only=True)
class Pack:
    """Measurements of one size of knapsack, mm, finished.

    Parameters
    ----------
    height_mm
        From the base to the drawn-up top of the body.
    base_mm
        Diameter of the round base.
    strap_mm
        Length of a shoulder strap.
    cord_mm
        Length of the drawstring.
    """

    height_mm: float
    base_mm: float
    strap_mm: float
    cord_mm: float


_BODY_COLUMNS = (
    "chest_mm",
    "waist_mm",
    "hip_mm",
    "neck_mm",
    "back_waist_mm",
    "shoulder_mm",
    "arm_mm",
    "wrist_mm",
    "head_mm",
    "height_mm",
)

BODIES: Mapping[str, Body] = MappingProxyType(
    {
        size: Body(**dict(zip(_BODY_COLUMNS, row, strict=True)))
        for size, row in {
            "XS": (840, 680, 880, 345, 400, 117, 570, 152, 550, 1600),
            "S": (920, 760, 950, 365, 412, 121, 585, 160, 560, 1650),
            "M": (1000, 840, 1020, 385, 424, 125, 600, 168, 570, 1700),
            "L": (1080, 920, 1090, 405, 436, 129, 615, 176, 580, 1750),
            "XL": (1160, 1010, 1170, 425, 448, 133, 630, 184, 590, 1800),
        }.items()
    }
)
"""One body for each size name, smallest first."""

PACKS: Mapping[str, Pack] = MappingProxyType(
    {
        "XS": Pack(height_mm=300, base_mm=180, strap_mm=620, cord_mm=1050),
        "S": Pack(height_mm=350, base_mm=200, strap_mm=660, cord_mm=1120),
        "M": Pack(height_mm=400, base_mm=220, strap_mm=700, cord_mm=1200),
        "L": Pack(height_mm=450, base_mm=240, strap_mm=740, cord_mm=1280),
        "XL": Pack(height_mm=500, base_mm=260, strap_mm=780, cord_mm=1350),
    }
)
"""One knapsack for each size name, smallest first."""

SIZES: tuple[str, ...] = tuple(BODIES)
"""Size names, smallest first."""
