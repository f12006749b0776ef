"""Path data of SVG: every command, strictly read, curves into points within 0.1 mm.

What is malformed is refused, not guessed: a path drawn half would make a wrong piece.
"""

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from pieces.drawing.affine import apply
from pieces.drawing.limits import Budget
from pieces.errors import DrawingError
from pieces.outline.curves import TOLERANCE_MM, flatten_cubic, flatten_quadratic
from pieces.outline.polygon import LARGEST_COORDINATE, FloatArray

_NUMBER = re.compile(r"[\s,]*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_COMMAND = re.compile(r"[\s,]*([MmZzLlHhVvCcSsQqTtAa])")
_REST = re.compile(r"[\s,]*$")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_FLAGS = {("A", 3), ("A", 4)}
_MOST_STEPS = 100_000


@dataclass(frozen=True, eq=False)
class Stroke:
    """A line of points, shape (n, 2), mm; closed if its end is joined to its start."""

    points_mm: FloatArray
    closed: bool


def flatten_path(data: str, matrix: FloatArray, budget: Budget) -> list[Stroke]:
    """Return the strokes of path data.

    Parameters
    ----------
    data
        The ``d`` attribute.
    matrix
        Map from its units to mm, shape (3, 3).
    budget
        Counts the points.

    Raises
    ------
    DrawingError
        If the data is malformed, or has more points than the limits allow.
    """
    pen = _Pen(matrix, budget)
    for command, numbers in _commands(data):
        pen.obey(command, numbers)
    return pen.strokes()


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its numbers; what follows a move without a letter is a line."""
    at, letter, is_first = 0, "", True
    while not _REST.match(data, at):
        found = _COMMAND.match(data, at)
        if found is not None:
            letter, at = found[1], found.end()
        elif letter in ("", "Z", "z"):
            raise DrawingError(f'path data has "{data[at : at + 12]}" where a command belongs')
        if is_first and letter.upper() != "M":
            raise DrawingError("path data does not begin with a move")
        is_first = False
        numbers, at = _numbers(data, at, letter)
        yield letter, numbers
        if letter in "Mm":
            letter = "L" if letter == "M" else "l"


def _numbers(data: str, at: int, letter: str) -> tuple[list[float], int]:
    numbers = []
    for i in range(_COUNTS[letter.upper()]):
        pattern = _FLAG if (letter.upper(), i) in _FLAGS else _NUMBER
        found = pattern.match(data, at)
        if found is None:
            raise DrawingError(
                f"path command {letter} lacks its number {i + 1} near "
                f'"{data[max(at - 12, 0) : at + 12]}"'
            )
        number = float(found[1])
        if not abs(number) <= LARGEST_COORDINATE:
            raise DrawingError("path data holds a number beyond all measure; check the units")
        numbers.append(number)
        at = found.end()
    return numbers, at


class _Pen:
    """Follows the commands in user units, and keeps the strokes in mm."""

    def __init__(self, matrix: FloatArray, budget: Budget) -> None:
        self._matrix, self._budget = matrix, budget
        self._at = self._start = np.zeros(2)
        self._control: FloatArray | None = None
        self._control_of = ""
        self._runs: list[FloatArray] = []
        self._done: list[Stroke] = []
        self._acts: dict[str, Callable[[FloatArray], None]] = {
            "C": self._cubic,
            "S": self._smooth_cubic,
            "Q": self._quadratic,
            "T": self._smooth_quadratic,
        }

    def strokes(self) -> list[Stroke]:
        """Return all strokes with at least two points."""
        self._finish(closed=False)
        return self._done

    def obey(self, letter: str, numbers: list[float]) -> None:
        """Carry out one command."""
        name, relative = letter.upper(), letter.islower()
        origin = self._at if relative else np.zeros(2)
        kind = ""
        match name:
            case "M":
                self._finish(closed=False)
                self._at = self._start = origin + numbers
            case "Z":
                self._finish(closed=True)
                self._at = self._start
            case "H":
                self._line(np.array([origin[0] + numbers[0], self._at[1]]))
            case "V":
                self._line(np.array([self._at[0], origin[1] + numbers[0]]))
            case "L":
                self._line(origin + numbers)
            case "A":
                self._arc(numbers[:5], origin + numbers[5:])
            case _:
                self._acts[name](np.array(numbers).reshape(-1, 2) + origin)
                kind = "C" if name in "CS" else "Q"
        self._control_of = kind

    def _line(self, to: FloatArray) -> None:
        self._run(apply(self._matrix, np.array([self._at, to])), to)

    def _cubic(self, points: FloatArray) -> None:
        control = apply(self._matrix, np.array([self._at, *points]))
        self._run(flatten_cubic(control), points[2])
        self._control = points[1]

    def _smooth_cubic(self, points: FloatArray) -> None:
        self._cubic(np.array([self._mirrored("C"), *points]))

    def _quadratic(self, points: FloatArray) -> None:
        control = apply(self._matrix, np.array([self._at, *points]))
        self._run(flatten_quadratic(control), points[1])
        self._control = points[0]

    def _smooth_quadratic(self, points: FloatArray) -> None:
        self._quadratic(np.array([self._mirrored("Q"), *points]))

    def _mirrored(self, kind: str) -> FloatArray:
        """Return the last control point mirrored about the pen, if the last curve was alike."""
        if self._control is None or self._control_of != kind:
            return self._at
        mirrored: FloatArray = 2.0 * self._at - self._control
        return mirrored

    def _arc(self, shape: list[float], to: FloatArray) -> None:
        user = arc_points(self._at, to, shape, self._matrix)
        self._run(apply(self._matrix, user), to)

    def _run(self, points_mm: FloatArray, to: FloatArray) -> None:
        if not self._runs:
            self._runs.append(points_mm[:1])
        self._budget.take_vertices(len(points_mm) - 1)
        self._runs.append(points_mm[1:])
        self._at = to

    def _finish(self, *, closed: bool) -> None:
        if self._runs:
            self._done.append(Stroke(np.concatenate(self._runs), closed))
        self._runs = []


def arc_points(
    start: FloatArray, end: FloatArray, shape: list[float], matrix: FloatArray
) -> FloatArray:
    """Return points along an elliptical arc, such that it is within 0.1 mm once mapped to mm.

    The centre comes from the end points as the implementation notes of SVG 2 (appendix B.2,
    "Elliptical arc implementation notes") have it; radii too small are grown until they reach.

    Parameters
    ----------
    start, end
        End points, shape (2,), user units.
    shape
        Both radii, the turn of the first in degrees, and the flags for large and sweep.
    matrix
        Map to mm, used only to choose the number of points.

    Returns
    -------
    FloatArray
        Points with both ends, shape (n, 2), user units.

    Raises
    ------
    DrawingError
        If it would need more than 100,000 points.
    """
    rx, ry, turn_deg, large, sweep = abs(shape[0]), abs(shape[1]), *shape[2:]
    if rx == 0.0 or ry == 0.0 or np.array_equal(start, end):
        return np.array([start, end])
    turn = math.radians(turn_deg % 360.0)
    frame = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    x, y = frame.T @ (start - end) / 2.0
    reach = math.hypot(x / rx, y / ry)
    rx, ry = rx * max(reach, 1.0), ry * max(reach, 1.0)
    unit = np.array([x / rx, y / ry])  # half the chord in the frame where the ellipse is round
    rise = math.sqrt(max(1.0 / float(unit @ unit) - 1.0, 0.0)) if reach < 1.0 else 0.0
    side = rise if large != sweep else -rise
    centre = side * np.array([unit[1], -unit[0]])
    first = math.atan2(*(unit - centre)[::-1].tolist())
    last = math.atan2(*(-unit - centre)[::-1].tolist())
    around = (last - first) % (2.0 * math.pi)
    around = around if sweep else around - 2.0 * math.pi
    spread = frame @ np.diag([rx, ry])
    widest_mm = float(np.linalg.norm(matrix[:2, :2] @ spread, ord=2))
    steps = _steps(widest_mm, abs(around))
    angle = first + around * np.arange(steps + 1) / steps
    middle = (start + end) / 2.0 + spread @ centre
    points: FloatArray = middle + np.column_stack((np.cos(angle), np.sin(angle))) @ spread.T
    points[0], points[-1] = start, end
    return points


def _steps(radius_mm: float, around: float) -> int:
    """Count chords over even steps h: one strays at most r (1 - cos(h / 2)), most on a circle."""
    step = 4.0 * math.asin(math.sqrt(min(TOLERANCE_MM / max(radius_mm, 1e-12), 1.0) / 2.0))
    step = min(step, math.pi / 4.0)
    if not around / step <= _MOST_STEPS:
        raise DrawingError(f"an arc would need more than {_MOST_STEPS:,} points; check the units")
    return max(1, math.ceil(around / step - 1e-9))
