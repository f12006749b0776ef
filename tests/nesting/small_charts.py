"""A pattern of two views and two sizes, and charts of it, small enough to be checked by hand."""

from dataclasses import replace
from types import MappingProxyType

from nesting.answers.chart.chart import Chart, ChartRequest, make_chart
from nesting.cloth.bolt import Bolt
from nesting.lay import SearchOptions
from pieces.measures.units import UnitSystem
from pieces.pattern import ClothNeed, Pattern, View
from tests.executors import Here
from tests.small_patterns import TRIANGLE, box, piece, shape

LARGE_TRIANGLE = shape([(0, 0), (72, 0), (0, 120)])


def two_by_two() -> Pattern:
    """Return a pattern: view A of triangles and a panel, view B of the panel, sizes M and L."""
    front = replace(
        piece("front", TRIANGLE, count=4, pair=True),
        shapes=MappingProxyType({"M": TRIANGLE, "L": LARGE_TRIANGLE}),
    )
    panel = replace(
        piece("panel", box(40, 100)),
        shapes=MappingProxyType({"M": box(40, 100), "L": box(50, 200)}),
    )
    return Pattern(
        name="Small",
        sizes=("M", "L"),
        pieces=(front, panel),
        views=(View("A", ("front", "panel"), "With fronts."), View("B", ("panel",))),
        cloths=(ClothNeed("shell"),),
    )


def chart_request(widths_mm: tuple[float, ...] = (45.0, 120.0)) -> ChartRequest:
    """Return a quick chart of everything on these widths, with nap and without."""
    return ChartRequest(
        pattern=two_by_two(),
        cloth="shell",
        views=("A", "B"),
        sizes=("M", "L"),
        bolts=tuple(
            Bolt(width_mm=width, nap=nap, shop_step_mm=100.0, units=UnitSystem.METRIC)
            for width in widths_mm
            for nap in (False, True)
        ),
        search=SearchOptions("quick", workers=1),
    )


def chart(widths_mm: tuple[float, ...] = (45.0, 120.0)) -> Chart:
    """Return that chart, laid in this process."""
    return make_chart(chart_request(widths_mm), executor=Here())
