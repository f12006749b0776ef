"""Sizes of paper, for what is printed and for sheets that lie beside pieces in a photograph."""

from collections.abc import Mapping
from types import MappingProxyType

from pieces.measures.units import MM_PER_INCH

PAPER_SIZES_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        # A sizes from ISO 216; Letter is size A of ANSI/ASME Y14.1
        "a0": (841.0, 1189.0),
        "a3": (297.0, 420.0),
        "a4": (210.0, 297.0),
        "a5": (148.0, 210.0),
        "letter": (8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),
    }
)
"""Shorter and longer side of each paper, mm."""
