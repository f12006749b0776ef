"""The picture of a chart: figures, and strips of cloth to scale."""

import numpy as np

from nesting.answers.chart.chart_picture import chart_scene
from nesting.draw.scene import Area, Text, walk
from nesting.draw.style import CLOTH
from tests.nesting.drawn import words
from tests.nesting.small_charts import chart


def test_every_figure_is_written_in_both_systems() -> None:
    """View B asks for 10 or 20 cm: 3.94 and 7.87 in."""
    scene = chart_scene(chart())

    told = words(scene.acts)

    assert told.count("20 cm") >= 2
    assert told.count("7.87 in") == told.count("20 cm")
    assert {"View A", "View B", "M", "L", "4.5 cm", "12 cm", "With fronts."} <= set(told)


def test_strips_are_to_one_scale() -> None:
    """Each is as long as its figure, the longest filling its column."""
    made = chart()
    strips = [
        float(np.ptp(act.outline_mm[:, 0]))
        for _, act in walk(chart_scene(made).acts)
        if isinstance(act, Area) and act.fill == CLOTH
    ]
    asked = [row.result.shop_length_mm for row in made.all_rows if row.result is not None]

    scale = max(strips) / max(asked)
    assert np.allclose(sorted(strips), sorted(scale * one for one in asked))


def test_everything_lies_on_the_paper() -> None:
    """No word is cut off at an edge."""
    scene = chart_scene(chart())

    for _, act in walk(scene.acts):
        if isinstance(act, Text):
            box = act.box_mm
            assert box.min() >= 0.0
            assert box[:, 0].max() <= scene.width_mm
            assert box[:, 1].max() <= scene.height_mm
