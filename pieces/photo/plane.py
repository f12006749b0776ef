"""From pixels to millimetres on the floor, for one photograph or several of the same floor.

A camera sees a plane through a homography (Zhang 2000, "A flexible new technique for camera
calibration"), bent by its lens: a point at radius r from the middle, in half diagonals, is seen at
r (1 + k r^2). Sheets lie on the floor anyhow; their places are found together with the cameras.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import least_squares

from pieces.outline.polygon import FloatArray
from pieces.photo.marks import KnownPoints

UNIT_MM = 500.0
BEND_SIGMA = 0.005
"""What is believed of a lens before anything is seen: phones straighten their photographs, and at
a corner less than 1 % is left (from memory), taken as two standard deviations."""
_ROUNDS = 8


@dataclass(frozen=True, eq=False)
class Plane:
    """How one photograph shows the floor.

    Parameters
    ----------
    homography
        Shape (3, 3), from floor in units of 500 mm to the straightened picture in half diagonals.
    bend
        The k of the lens.
    size_px
        Width and height of the photograph.
    """

    homography: FloatArray
    bend: float
    size_px: tuple[int, int]

    def to_mm(self, at_px: FloatArray) -> FloatArray:
        """Return where on the floor pixels lie, shape (n, 2), mm; not finite above the horizon."""
        seen = (at_px - self._middle) / self._half
        flat = seen.copy()
        for _ in range(_ROUNDS):
            flat = seen / (1.0 + self.bend * (flat**2).sum(axis=1, keepdims=True))
        back = np.linalg.inv(self.homography)
        ends = np.column_stack((flat, np.ones(len(flat)))) @ back.T
        front = ends[:, 2:] * back[2, 2] if back[2, 2] else ends[:, 2:]
        with np.errstate(divide="ignore", invalid="ignore"):
            floor: FloatArray = UNIT_MM * ends[:, :2] / ends[:, 2:]
        floor[front[:, 0] <= 0.0] = np.nan
        return floor

    def to_px(self, at_mm: FloatArray) -> FloatArray:
        """Return where points of the floor are seen, shape (n, 2), pixels."""
        ends = np.column_stack((at_mm / UNIT_MM, np.ones(len(at_mm)))) @ self.homography.T
        flat = ends[:, :2] / ends[:, 2:]
        seen = flat * (1.0 + self.bend * (flat**2).sum(axis=1, keepdims=True))
        px: FloatArray = seen * self._half + self._middle
        return px

    def px_per_mm(self, at_mm: FloatArray) -> FloatArray:
        """Return how many pixels show a millimetre, along the shorter way, shape (n,)."""
        here = self.to_px(at_mm)
        right = self.to_px(at_mm + np.array([1.0, 0.0])) - here
        up = self.to_px(at_mm + np.array([0.0, 1.0])) - here
        steps = np.stack((right, up), axis=2)
        values: FloatArray = np.linalg.svd(steps, compute_uv=False).astype(np.float64)
        return values[:, 1]

    def turned(self, radians: float) -> "Plane":
        """Return the same view of a floor whose axes were turned back by so much."""
        c, s = np.cos(radians), np.sin(radians)
        back = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
        return replace(self, homography=self.homography @ back)

    @property
    def _middle(self) -> FloatArray:
        return 0.5 * (np.array(self.size_px, dtype=np.float64) - 1.0)

    @property
    def _half(self) -> float:
        return float(np.hypot(*self.size_px)) / 2.0


@dataclass(frozen=True, eq=False)
class Floor:
    """What was found of a floor with sheets on it, seen by one camera or several.

    Parameters
    ----------
    planes
        One for each photograph.
    sheets_mm
        Corners of each sheet on the floor, shape (4, 2), by its number.
    misfit_px
        Root mean square of what known points miss, pixels; None if there are no more than needed.
    modes
        For each photograph the ways in which its plane may be off, one standard deviation each.
    """

    planes: tuple[Plane, ...]
    sheets_mm: Mapping[int, FloatArray]
    misfit_px: float | None
    modes: tuple[tuple[Plane, ...], ...]

    def upright(self) -> "Floor":
        """Return the floor with y pointing up the middle of the first photograph."""
        middle = 0.5 * np.array(self.planes[0].size_px)
        low, high = self.planes[0].to_mm(middle + np.array([(0.0, 25.0), (0.0, -25.0)]))
        turn = 0.5 * np.pi - np.arctan2(high[1] - low[1], high[0] - low[0])
        if not np.isfinite(turn):
            return self
        pose = np.array([0.0, 0.0, turn])
        return replace(
            self,
            planes=tuple(plane.turned(turn) for plane in self.planes),
            sheets_mm={sheet: _moved(one, pose) for sheet, one in self.sheets_mm.items()},
            modes=tuple(tuple(one.turned(turn) for one in modes) for modes in self.modes),
        )

    def doubt_mm(self, photo: int, at_mm: FloatArray) -> FloatArray:
        """Return how far a shape may be off at its points, one standard deviation, shape (n,).

        Where the shape lies as a whole, and how it is turned, plays no part.
        """
        plane = self.planes[photo]
        at_px = plane.to_px(at_mm)
        total = np.zeros(len(at_mm))
        for mode in self.modes[photo]:
            total += (_without_motion(at_mm, mode.to_mm(at_px) - at_mm) ** 2).sum(axis=1)
        doubt: FloatArray = np.sqrt(total)
        return doubt


def find_floor(
    seen: Sequence[Sequence[KnownPoints]], sizes_px: Sequence[tuple[int, int]]
) -> Floor | None:
    """Return the floor that all photographs show, or None if they share no sheets.

    Parameters
    ----------
    seen
        For each photograph the sheets in it; the first sheet of the first is where mm begin.
    sizes_px
        Width and height of each photograph.
    """
    start = _Layout.begin(seen, sizes_px)
    if start is None:
        return None
    layout, guess = start
    done = least_squares(layout.misses, guess, method="trf", x_scale="jac", max_nfev=200)
    misses = done.fun[:-1]
    spare = max(1, len(misses) - len(guess))
    scale = max(1.0, float(misses @ misses) / spare)
    covariance = np.linalg.pinv(done.jac.T @ done.jac) * scale
    planes = layout.planes(done.x)
    values, ways = np.linalg.eigh(covariance)
    steps = ways * np.sqrt(np.maximum(values, 0.0))
    moved = [layout.planes(done.x + step) for step in steps.T]
    off = np.concatenate(layout.off_px(done.x))
    return Floor(
        planes=planes,
        sheets_mm=layout.sheets_mm(done.x),
        misfit_px=float(np.sqrt((off**2).sum(axis=1).mean())) if len(off) > 4 else None,
        modes=tuple(tuple(one[i] for one in moved) for i in range(len(planes))),
    )


@dataclass(frozen=True, eq=False)
class _Layout:
    """The unknowns in their order: the lens, eight for each photograph, three for each sheet."""

    seen: Sequence[Sequence[KnownPoints]]
    sizes_px: Sequence[tuple[int, int]]
    sheets: tuple[int, ...]

    @classmethod
    def begin(
        cls, seen: Sequence[Sequence[KnownPoints]], sizes_px: Sequence[tuple[int, int]]
    ) -> "tuple[_Layout, FloatArray] | None":
        """Return the layout and a first guess: from sheet to photograph to sheet."""
        first = seen[0][0].sheet
        poses: dict[int, FloatArray] = {first: np.zeros(3)}
        planes: dict[int, Plane] = {}
        while len(planes) < len(seen):
            here = next(
                (
                    (i, known)
                    for i, sheets in enumerate(seen)
                    if i not in planes
                    for known in sorted(sheets, key=lambda one: -len(one.at_mm))
                    if known.sheet in poses
                ),
                None,
            )
            if here is None:
                return None
            i, known = here
            floor_mm = _moved(known.at_mm, poses[known.sheet])
            planes[i] = Plane(_homography(floor_mm, known.at_px, sizes_px[i]), 0.0, sizes_px[i])
            for other in seen[i]:
                if other.sheet not in poses:
                    poses[other.sheet] = _pose(other.at_mm, planes[i].to_mm(other.at_px))
        sheets = tuple(sheet for sheet in poses if sheet != first)
        lenses = [planes[i].homography.ravel()[:8] for i in range(len(seen))]
        guess = np.concatenate([[0.0], *lenses, *(poses[sheet] for sheet in sheets)])
        return cls(seen, sizes_px, (first, *sheets)), guess

    def planes(self, unknowns: FloatArray) -> tuple[Plane, ...]:
        """Return the plane of each photograph."""
        return tuple(
            Plane(
                np.append(unknowns[1 + 8 * i : 9 + 8 * i], 1.0).reshape(3, 3),
                float(unknowns[0]),
                size,
            )
            for i, size in enumerate(self.sizes_px)
        )

    def off_px(self, unknowns: FloatArray) -> list[FloatArray]:
        """Return what each sheet's points miss in each photograph, pixels."""
        poses = self._poses(unknowns)
        return [
            plane.to_px(_moved(known.at_mm, poses[known.sheet])) - known.at_px
            for plane, sheets in zip(self.planes(unknowns), self.seen, strict=True)
            for known in sheets
        ]

    def misses(self, unknowns: FloatArray) -> FloatArray:
        """Return all misses over what is to be expected, the belief about the lens last."""
        sigmas = [known.sigma_px for sheets in self.seen for known in sheets]
        told = [
            (off / sigma).ravel() for off, sigma in zip(self.off_px(unknowns), sigmas, strict=True)
        ]
        misses: FloatArray = np.concatenate([*told, [unknowns[0] / BEND_SIGMA]])
        return misses

    def sheets_mm(self, unknowns: FloatArray) -> dict[int, FloatArray]:
        """Return the corners of each sheet on the floor."""
        poses = self._poses(unknowns)
        outlines = {known.sheet: known.outline_mm for sheets in self.seen for known in sheets}
        return {sheet: _moved(outlines[sheet], pose) for sheet, pose in poses.items()}

    def _poses(self, unknowns: FloatArray) -> dict[int, FloatArray]:
        rest = unknowns[1 + 8 * len(self.seen) :].reshape(-1, 3)
        return dict(zip(self.sheets, (np.zeros(3), *rest), strict=True))


def _moved(points: FloatArray, pose: FloatArray) -> FloatArray:
    """Turn points by the last entry of a pose, radians, then move by the first two, units."""
    c, s = np.cos(pose[2]), np.sin(pose[2])
    moved: FloatArray = points @ np.array([[c, s], [-s, c]]) + UNIT_MM * pose[:2]
    return moved


def _pose(from_mm: FloatArray, to_mm: FloatArray) -> FloatArray:
    """Return the pose that lays points best on others (Umeyama 1991, without scale)."""
    a, b = from_mm - from_mm.mean(axis=0), to_mm - to_mm.mean(axis=0)
    turn = np.arctan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum())
    moved = _moved(from_mm, np.array([0.0, 0.0, turn]))
    x, y = (to_mm.mean(axis=0) - moved.mean(axis=0)) / UNIT_MM
    return np.array([x, y, turn])


def _homography(at_mm: FloatArray, at_px: FloatArray, size_px: tuple[int, int]) -> FloatArray:
    """Return the homography through points, by the direct linear transformation."""
    middle = 0.5 * (np.array(size_px, dtype=np.float64) - 1.0)
    u = (at_px - middle) / (np.hypot(*size_px) / 2.0)
    x = np.column_stack((at_mm / UNIT_MM, np.ones(len(at_mm))))
    zero = np.zeros_like(x)
    rows = np.concatenate(
        (
            np.hstack((x, zero, -u[:, :1] * x)),
            np.hstack((zero, x, -u[:, 1:] * x)),
        )
    )
    found = np.linalg.svd(rows)[2][-1].reshape(3, 3)
    lens: FloatArray = found / found[2, 2]
    return lens


def _without_motion(at_mm: FloatArray, shift_mm: FloatArray) -> FloatArray:
    """Return shifts of points less the motion of the whole that explains most of them."""
    around = at_mm - at_mm.mean(axis=0)
    rest = shift_mm - shift_mm.mean(axis=0)
    spin = np.column_stack((-around[:, 1], around[:, 0]))
    share = (rest * spin).sum() / max(float((spin**2).sum()), 1e-9)
    left: FloatArray = rest - share * spin
    return left
