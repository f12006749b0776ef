"""The waterfall: bars to scale, one on another, nothing beyond the paper."""

import numpy as np
import pytest

from nesting.draw.scene import Area, Group, Lines, Text, walk
from nesting.draw.waterfall_scene import Bar, BarKind, WaterfallWords, waterfall_scene
from nesting.errors import DrawError
from pieces.measures.units import UnitSystem
from tests.nesting.drawn import words

WORDS = WaterfallWords("Cloak", "view A", ("rule", "takes", "costs"), ("All of it is laid anew.",))
BARS = (
    Bar(BarKind.BASE, "Bare cloth", "outlines alone", 0.0, 600.0, "60 cm", "6.00"),
    Bar(BarKind.SHARE, "Nap", "all tops one way", 600.0, 900.0, "+ 30 cm", "3.00"),
    Bar(BarKind.SHARE, "Gap", "", 900.0, 900.0, "nothing"),
    Bar(BarKind.TOTAL, "Ask for", "", 0.0, 900.0, "90 cm", "9.00"),
)


def drawn() -> dict[str, np.ndarray]:
    """Return the outline of each bar that has a length, by its name."""
    scene = waterfall_scene(BARS, WORDS, UnitSystem.METRIC)
    rows = [act for act in scene.acts if isinstance(act, Group) and act.name == "bar"]
    return {
        row.title: next(act.outline_mm for act in row.acts if isinstance(act, Area))
        for row in rows
        if any(isinstance(act, Area) for act in row.acts)
    }


def test_bars_are_to_one_scale_and_stand_one_on_another() -> None:
    """600, 300 and 900 mm: the share begins where the base ends, and ends where the whole does."""
    bars = drawn()

    lengths = {name: float(np.ptp(outline[:, 0])) for name, outline in bars.items()}
    assert lengths["Bare cloth"] / lengths["Ask for"] == pytest.approx(600.0 / 900.0)
    assert lengths["Nap"] / lengths["Ask for"] == pytest.approx(300.0 / 900.0)
    assert bars["Nap"][:, 0].min() == pytest.approx(bars["Bare cloth"][:, 0].max())
    assert bars["Nap"][:, 0].max() == pytest.approx(bars["Ask for"][:, 0].max())


def test_a_rule_that_costs_nothing_is_a_tick() -> None:
    """A bar without length would not be seen."""
    scene = waterfall_scene(BARS, WORDS, UnitSystem.METRIC)
    [row] = [act for act in scene.acts if isinstance(act, Group) and act.title == "Gap"]

    assert "Gap" not in drawn()
    assert any(isinstance(act, Lines) for act in row.acts)


def test_all_words_are_on_the_paper() -> None:
    """Names, details, figures, headings and foot, however long they are."""
    long = Bar(BarKind.SHARE, "A rule " * 20, "and more " * 30, 0.0, 5.0, "+ 1 " * 30, "9" * 40)
    scene = waterfall_scene((*BARS, long), WORDS, UnitSystem.IMPERIAL)

    texts = [act for _, act in walk(scene.acts) if isinstance(act, Text)]
    assert {"Cloak", "rule", "takes", "costs", "nothing", "9.00"} <= {text.words for text in texts}
    for text in texts:
        box = text.box_mm
        assert box[:, 0].min() >= 0.0
        assert box[:, 0].max() <= scene.width_mm
        assert 0.0 <= box[:, 1].min() <= box[:, 1].max() <= scene.height_mm


def test_without_a_price_there_is_no_column_for_it() -> None:
    """Then the heading is left out as well, and the paper is narrower."""
    bars = (Bar(BarKind.BASE, "Bare cloth", "", 0.0, 600.0, "60 cm"),)
    scene = waterfall_scene(bars, WORDS, UnitSystem.METRIC)

    told = words(scene.acts)
    assert "costs" not in told
    assert scene.width_mm < waterfall_scene(BARS, WORDS, UnitSystem.METRIC).width_mm


def test_nothing_to_draw_is_refused() -> None:
    """No bar, or none that reaches beyond 0."""
    with pytest.raises(DrawError, match="no length to draw"):
        waterfall_scene((), WORDS, UnitSystem.METRIC)
