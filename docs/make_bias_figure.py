"""Make the figure of the bias in docs/pattern-file.md, from the checkout.

``python docs/make_bias_figure.py`` writes docs/pictures/bias.png: a strip with a slanted arrow and
the same strip said to be on the bias, each as it is drawn and as the program lays it.
"""

import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from nesting import Bolt, LayRequest, SearchOptions, Selection, lay_pieces
from nesting.draw import save_scene
from nesting.draw.scene import Act, Area, Lines, Pen, Scene, Text, line, rectangle
from nesting.draw.style import CLOTH, INK, PAPER, RULE, tint
from nesting.marker.placement import lying_shape
from pieces.outline.polygon import FloatArray
from pieces.sheet.pattern_file import parse_pattern

WIDE_MM, HIGH_MM = 240.0, 104.0
STRIP = "outline = [[0, 0], [60, 0], [60, 300], [0, 300]]"
SHEET = """
format = 1
name = "a strip"
units = "mm"
sizes = ["M"]
[views.A]
pieces = ["strip"]
[cloths.shell]
[pieces.strip]
{grain}
cut.shell = 1
[pieces.strip.sizes.M]
{strip}
{arrow}
"""
SAID = (
    ("A slanted arrow, and no word:", "", "grainline = [[5, 125], [55, 175]]"),
    ("The word bias, and no arrow:", 'grain = "bias"', ""),
)
STRIP_COLOUR = tint("#E69F00", 0.5)


def laid(grain: str, arrow: str) -> tuple[FloatArray, FloatArray]:
    """Return the outline as the program lays it on cloth 350 mm wide, and its arrow, mm."""
    pattern = parse_pattern(SHEET.format(grain=grain, arrow=arrow, strip=STRIP))
    marker = lay_pieces(
        LayRequest(
            pattern=pattern,
            selections=(Selection("A", "M"),),
            cloth="shell",
            bolt=Bolt(width_mm=350.0),
            search=SearchOptions("quick", workers=1),
        )
    ).marker
    (at,) = marker.placements
    shape = lying_shape(marker.items[0], at, marker.stretches[0].spread)
    return shape.outline_mm, np.array([shape.grainline.tail_mm, shape.grainline.head_mm])


def arrow_acts(ends: FloatArray, pen: Pen) -> list[Act]:
    """Return an arrow with its head."""
    along = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    left = np.array([-along[1], along[0]])
    head = [ends[1] - 4.0 * along + 1.6 * left, ends[1], ends[1] - 4.0 * along - 1.6 * left]
    return [Lines((np.array(ends), np.array(head)), pen)]


def half(number: int, title: str, grain: str, arrow: str) -> list[Act]:
    """Return one half of the figure: the words, the strip as drawn, the strip on the cloth."""
    left, share = 8.0 + 118.0 * number, 0.2
    acts: list[Act] = [Text(title, (left, HIGH_MM - 11.0), 4.6, INK)]
    drawn = np.array([(0, 0), (60, 0), (60, 300), (0, 300)]) * share + (left, 16.0)
    acts.append(Area(drawn, fill=STRIP_COLOUR, pen=Pen(INK, 0.3)))
    if arrow:
        ends = np.array([(5.0, 125.0), (55.0, 175.0)]) * share + (left, 16.0)
        acts += arrow_acts(ends, Pen(INK, 0.4))
    acts.append(Text("printed", (left, 8.0), 3.8, INK))
    corner = np.array([left + 28.0, 16.0])
    long_mm = 84.0
    cloth = rectangle(*corner, corner[0] + long_mm, corner[1] + 350.0 * share)
    acts.append(Area(cloth, fill=CLOTH, pen=Pen(RULE, 0.3)))
    threads = [
        line((corner[0], corner[1] + y), (corner[0] + long_mm, corner[1] + y))
        for y in np.arange(5.0, 350.0 * share, 5.0)
    ]
    acts.append(Lines(tuple(threads), Pen(RULE, 0.12)))
    outline, ends = laid(grain, arrow)
    acts.append(Area(outline * share + corner, fill=STRIP_COLOUR, pen=Pen(INK, 0.3)))
    if arrow:
        acts += arrow_acts(ends * share + corner, Pen(INK, 0.4))
    acts.append(Text("on the cloth, the warp from left to right", (left + 28.0, 8.0), 3.8, INK))
    return acts


if __name__ == "__main__":
    acts = [act for number, said in enumerate(SAID) for act in half(number, *said)]
    title = "Two ways of saying that a strip is cut on the bias"
    scene = Scene(WIDE_MM, HIGH_MM, tuple(acts), title=title, description=title, paper=PAPER)
    save_scene(scene, ROOT / "docs" / "pictures" / "bias.png")
