"""Markers laid by hand, small enough to know every number of them."""

from dataclasses import replace

import numpy as np

from nesting.cloth.bolt import TEN_CM_MM, Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread, Stretch
from nesting.marker.cut_list import Selection, cut_list
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement
from pieces.grainline import Grainline
from pieces.marks import DrillHole, InternalLine, MatchPoint, Notch
from pieces.measures.units import UnitSystem
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, Piece, PieceShape
from tests.gallery import circle

FRONT_MM2 = 45_000.0  # (200 + 100) / 2 x 300
BACK_MM2 = 90_000.0  # 300 x 300 opened out
POCKET_MM2 = 8_000.0  # 80 x 100


def small_pattern(name: str = "Apron") -> Pattern:
    """Return a front cut as a pair, a back on the fold and one pocket."""
    front = PieceShape(
        outline_mm=np.array([(0, 0), (200, 0), (200, 300), (100, 300)], float),
        grainline=Grainline((150.0, 50.0), (150.0, 250.0)),
        notches=(Notch((200.0, 150.0)),),
        match_points=(MatchPoint("side at waist", (185.0, 120.0)),),
        drill_holes=(DrillHole((120.0, 100.0)),),
        internal_lines=(InternalLine("dart", np.array([(80.0, 20.0), (90.0, 120.0)])),),
    )
    back = PieceShape(
        outline_mm=np.array([(0, 0), (150, 0), (150, 300), (0, 300)], float),
        grainline=Grainline((75.0, 50.0), (75.0, 250.0)),
        fold_edge_mm=((0.0, 0.0), (0.0, 300.0)),
    )
    pocket = PieceShape(
        outline_mm=np.array([(0, 0), (80, 0), (80, 100), (0, 100)], float),
        grainline=Grainline((40.0, 20.0), (40.0, 80.0)),
    )
    return Pattern(
        name=name,
        sizes=("M",),
        pieces=(
            Piece(name="front", title="Front", cuts=(Cut("shell", 2, True),), shapes={"M": front}),
            Piece(name="back", title="Back", cuts=(Cut("shell", 1),), shapes={"M": back}),
            Piece(name="pocket", title="Pocket", cuts=(Cut("shell", 1),), shapes={"M": pocket}),
        ),
        views=(View("A", ("front", "back", "pocket")),),
        cloths=(ClothNeed("shell"),),
    )


def metric_bolt(*, nap: bool = False) -> Bolt:
    """Return a bolt 100 cm wide with selvages of 2 cm, cut in steps of 10 cm."""
    return Bolt(
        width_mm=1000.0,
        selvage_mm=20.0,
        nap=nap,
        shop_step_mm=TEN_CM_MM,
        units=UnitSystem.METRIC,
    )


def open_marker(*, nap: bool = False, name: str = "Apron") -> Marker:
    """Return the pattern on open cloth: it ends at 650 mm, so the shop cuts 70 cm."""
    return _marker(
        name,
        metric_bolt(nap=nap),
        stretches=(Stretch(Spread.OPEN, 0.0, 650.0),),
        placements=(
            Placement("front M", 1, 0, 0.0, False, 0.0, 0.0),
            Placement("front M", 2, 0, 180.0, True, 0.0, 450.0),
            Placement("back M", 1, 0, 0.0, False, 350.0, 0.0),
            Placement("pocket M", 1, 0, 0.0, False, 350.0, 400.0),
        ),
    )


def folded_marker() -> Marker:
    """Return it folded up to 620 mm and open from there; it ends at 720, the shop cuts 80 cm."""
    return _marker(
        "Apron",
        metric_bolt(),
        stretches=(Stretch(Spread.LENGTHWISE, 0.0, 620.0), Stretch(Spread.OPEN, 620.0, 100.0)),
        placements=(
            Placement("back M", 1, 0, 0.0, False, 0.0, 0.0),
            Placement("front M", 1, 0, 0.0, False, 320.0, 0.0),
            Placement("pocket M", 1, 1, 0.0, False, 620.0, 0.0),
        ),
    )


def _marker(
    name: str, bolt: Bolt, *, stretches: tuple[Stretch, ...], placements: tuple[Placement, ...]
) -> Marker:
    selections = (Selection("A", "M"),)
    return Marker(
        pattern=name,
        cloth="shell",
        selections=selections,
        bolt=bolt,
        rules=LayRules(spread=stretches[0].spread),
        items=cut_list(small_pattern(name), selections, "shell"),
        stretches=stretches,
        placements=placements,
        length_mm=stretches[-1].end_mm,
    )


def sixty_pieces() -> Marker:
    """Return 60 pieces of 60 shapes: stars, ovals and strips from 12 to 300 mm across."""
    random = np.random.default_rng(4)
    pieces, placements, x, row, high = [], [], 0.0, 0, 0.0
    for number in range(60):
        outline = _odd_outline(number, random)
        size = np.ptp(outline, axis=0)
        middle = outline.min(axis=0) + size / 2.0
        reach = 0.3 * float(size[0])
        shape = PieceShape(
            outline_mm=outline,
            grainline=Grainline(
                (float(middle[0]) - reach, float(middle[1])),
                (float(middle[0]) + reach, float(middle[1])),
            ),
        )
        name = f"piece{number}"
        title = f"Piece of number {number}"
        pieces.append(Piece(name=name, title=title, cuts=(Cut("shell", 1),), shapes={"M": shape}))
        if number % 15 == 0:
            x, row = 0.0, number // 15
        placements.append(Placement(f"{name} M", 1, 0, 0.0, False, x, 310.0 * row))
        x += float(size[0]) + 5.0
        high = max(high, x)
    pattern = Pattern(
        name="Sixty",
        sizes=("M",),
        pieces=tuple(pieces),
        views=(View("A", tuple(piece.name for piece in pieces)),),
        cloths=(ClothNeed("shell"),),
    )
    selections = (Selection("A", "M"),)
    return Marker(
        pattern="Sixty",
        cloth="shell",
        selections=selections,
        bolt=replace(metric_bolt(), width_mm=1300.0),
        rules=LayRules(),
        items=cut_list(pattern, selections, "shell"),
        stretches=(Stretch(Spread.OPEN, 0.0, high),),
        placements=tuple(placements),
        length_mm=high,
    )


def _odd_outline(number: int, random: np.random.Generator) -> np.ndarray:
    corners = (5, 40, 4, 24)[number % 4]
    wide, high = random.uniform(6.0, 150.0), random.uniform(6.0, 150.0)
    outline = circle(1.0, corners) * (wide, high)
    if number % 4 == 3:
        outline[::2] *= 0.55
    return outline
