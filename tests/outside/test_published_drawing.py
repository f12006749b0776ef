"""Drawings and shapes against published facts: CSS lengths, SVG arcs, circle skirts, sheets.

Sources: W3C, *CSS Values and Units Module Level 3*, section 6.2 (absolute lengths); W3C, *SVG 2*,
appendix B.2 (elliptical arc implementation notes) and chapter 9 (paths); ISO 216 for the A series
(as told in *ISO 216*, en.wikipedia.org); *Circle and half circle skirt formulas*,
prettyquirkypants.com; *Circle Skirt Formula*, smartpatternmaking.com.
"""

import math

import numpy as np
import pytest
import shapely
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

from pieces.drawing.affine import identity
from pieces.drawing.limits import Budget
from pieces.drawing.svg_path import flatten_path
from pieces.drawing.svg_units import svg_length_mm
from pieces.outline.curves import flatten_cubic, flatten_quadratic
from pieces.outline.polygon import FloatArray, area_mm2, bounds_mm
from pieces.shaping.shapes import circle_skirt
from tests.pieces.drawing.drawings import drawn


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("1in", 1.0),
        ("2.54cm", 1.0),
        ("25.4mm", 1.0),
        ("101.6Q", 1.0),  # a Q is a quarter of a millimetre
        ("6pc", 1.0),
        ("72pt", 1.0),
        ("96px", 1.0),
        ("96", 1.0),
    ],
)
def test_absolute_lengths_are_those_of_css(text: str, inches: float) -> None:
    """1 in = 2.54 cm = 25.4 mm = 101.6 Q = 6 pc = 72 pt = 96 px, and a plain number is px."""
    length_mm = svg_length_mm(text)

    assert length_mm is not None
    assert length_mm / 25.4 == pytest.approx(inches, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "wide_mm", "tall_mm", "size"),
    [
        ("A4", 210.0, 297.0, 'width="210mm" height="297mm" viewBox="0 0 210 297"'),
        ("A4 in px", 210.0, 297.0, 'width="793.7008" height="1122.5197"'),
        ("Letter", 215.9, 279.4, 'width="8.5in" height="11in" viewBox="0 0 816 1056"'),
        ("A0", 841.0, 1189.0, 'width="84.1cm" height="118.9cm" viewBox="0 0 841 1189"'),
    ],
)
def test_a_sheet_of_paper_has_its_size(
    name: str, wide_mm: float, tall_mm: float, size: str
) -> None:
    """A line around the whole page is as large as the sheet of that name."""
    units = {"A4 in px": 96 / 25.4, "Letter": 96 / 25.4}.get(name, 1.0)
    body = f'<rect width="{wide_mm * units!r}" height="{tall_mm * units!r}"/>'

    left, low, right, high = bounds_mm(drawn(body, size=size).shapes[0].shape.outline_mm)

    assert (right - left, high - low) == pytest.approx((wide_mm, tall_mm), abs=0.01)


def ellipse_arc(
    rx: float, ry: float, turn_deg: float, spans_deg: tuple[float, float]
) -> FloatArray:
    """Return 200,001 points on an ellipse about (0, 0) in parametric form (SVG 2, appendix B.2)."""
    t = np.radians(np.linspace(*spans_deg, 200_001))
    turn = math.radians(turn_deg)
    x, y = rx * np.cos(t), ry * np.sin(t)
    cosine, sine = math.cos(turn), math.sin(turn)
    return np.column_stack((cosine * x - sine * y, sine * x + cosine * y))


@pytest.mark.parametrize("turn_deg", [0.0, 30.0, -75.0])
@pytest.mark.parametrize("radii", [(120.0, 120.0), (300.0, 80.0), (40.0, 200.0)])
@pytest.mark.parametrize("spans_deg", [(10.0, 100.0), (10.0, 250.0), (200.0, 40.0), (80.0, -220.0)])
def test_arcs_agree_with_integration(
    radii: tuple[float, float], turn_deg: float, spans_deg: tuple[float, float]
) -> None:
    """From the end points, radii and flags alone: the same curve, arc length and area.

    Length and area (against the origin) come from summing the parametric form over 200,000 steps.
    """
    truth = ellipse_arc(*radii, turn_deg, spans_deg)
    sweep = int(spans_deg[1] > spans_deg[0])
    large = int(abs(spans_deg[1] - spans_deg[0]) > 180.0)
    (x0, y0), (x1, y1) = truth[0].tolist(), truth[-1].tolist()
    data = f"M{x0!r} {y0!r}A{radii[0]} {radii[1]} {turn_deg} {large} {sweep} {x1!r} {y1!r}"

    (stroke,) = flatten_path(data, identity(), Budget())

    chain = shapely.linestrings(stroke.points_mm)
    assert shapely.distance(chain, shapely.points(truth[::50])).max() <= 0.1 + 1e-9
    lengths = [np.hypot(*np.diff(one, axis=0).T).sum() for one in (truth, stroke.points_mm)]
    areas = [_swept(one) for one in (truth, stroke.points_mm)]
    assert lengths[1] == pytest.approx(lengths[0], rel=2e-3)
    assert areas[1] == pytest.approx(areas[0], abs=0.1 * lengths[0])


def _swept(points: FloatArray) -> float:
    """Return the area swept from the origin, above zero if anticlockwise."""
    x, y = points.T
    return float(0.5 * (x[:-1] * y[1:] - x[1:] * y[:-1]).sum())


def test_paths_agree_with_another_reader() -> None:
    """The reader of fontTools leads the pen to the same places on 300 paths without arcs."""
    rng = np.random.default_rng(5)
    counts = {"L": 2, "l": 2, "H": 1, "h": 1, "V": 1, "v": 1, "C": 6, "c": 6, "S": 4, "s": 4,
              "Q": 4, "q": 4, "T": 2, "t": 2}  # fmt: skip
    for _ in range(300):
        data = "M10 20"
        for command in rng.choice(list(counts), size=6):
            numbers = rng.integers(-300, 300, counts[command]) / 2.0
            data += command + " ".join(str(number) for number in numbers)
        pen = RecordingPen()
        parse_path(data, pen)

        (stroke,) = flatten_path(data, identity(), Budget())

        assert np.allclose(stroke.points_mm, _replayed(pen), atol=1e-6), data


def _replayed(pen: RecordingPen) -> FloatArray:
    chains: list[FloatArray] = []
    for name, points in pen.value:
        if name == "moveTo":
            chains.append(np.array(points, dtype=np.float64))
        elif points:
            control = np.array([chains[-1][-1], *points])
            flatten = {2: lambda line: line, 3: flatten_quadratic, 4: flatten_cubic}[len(control)]
            chains.append(flatten(control)[1:])
    return np.concatenate(chains)


SKIRTS = [
    ("C1", "full", 26.0, 0.0, 0.0, 4.138),
    ("C2", "half", 26.0, 0.0, 0.0, 8.276),
    ("C3", "third", 26.0, 0.0, 0.0, 12.414),
    ("C4", "quarter", 26.0, 0.0, 0.0, 16.552),
    ("C5", "full", 110.0, 0.0, 0.0, 17.507),
    ("C6", "full", 110.0, 4.0, 1.0, 17.144),
    ("C7", "half", 110.0, 2.0, 1.0, 34.651),  # 2 (110 + 2) = 2 x 110 + 4
]


@pytest.mark.parametrize("row", SKIRTS, ids=lambda row: row[0])
def test_circle_skirts_have_the_published_radius(
    row: tuple[str, str, float, float, float, float],
) -> None:
    """Worked examples in inches or centimetres; the exact value, which sites round off or cut."""
    _, part, waist, seams, waist_seam, radius = row

    figure = circle_skirt(
        10 * waist, 500.0, part, seams_mm=10 * seams, waist_seam_mm=10 * waist_seam
    )

    points = figure.outline_mm if part != "full" else figure.internal_lines[0].points_mm
    assert np.hypot(*points.T).min() / 10 == pytest.approx(radius, abs=0.001)


def test_a_half_circle_skirt_takes_the_cloth_that_was_reckoned() -> None:
    """Waist 28, length 25 in: R = 33.91, so 67.8 in along the edge and 33.9 in of width."""
    figure = circle_skirt(28 * 25.4, 25 * 25.4, "half")

    left, low, right, high = bounds_mm(figure.outline_mm)
    assert ((right - left) / 25.4, (high - low) / 25.4) == pytest.approx((67.83, 33.91), abs=0.01)
    assert area_mm2(figure.outline_mm) == pytest.approx(
        math.pi / 2 * ((33.9127 * 25.4) ** 2 - (8.9127 * 25.4) ** 2), rel=1e-3
    )
