"""Rendered photographs of paper pieces whose outlines are known.

A camera with a pinhole and a lens that bends looks down on a floor: light falls unevenly, shadows
lie over it, the floor has a texture, paper is wrinkled, and the sensor is noisy. Nothing here uses
the code that is tested, but for where the marks are printed on their page.
"""

import io
import math
from dataclasses import dataclass, field

import cv2
import numpy as np
import shapely
from PIL import Image

from pieces.outline.polygon import FloatArray
from pieces.outline.transform import place
from pieces.photo.marks import mark_cells
from pieces.photo.sheets import MARKS_ON_PAGE, mark_corners_mm
from pieces.shaping.unfold import unfold
from pieces.sheet.pattern_file import read_pattern
from tests.datasets import CHECKOUT as ROOT

FLOOR_SHARE = 1.15
"""Pixels of the painted floor for a pixel of the photograph."""
_FINE = 3
_COARSE = 8
"""The view is reckoned for every eighth pixel and is straight between them within 0.01 px."""
PAPERS = {"white": (235, 233, 226), "tissue": (214, 196, 160), "kraft": (181, 146, 106)}
FLOORS = {"slate": (62, 64, 68), "oak": (104, 76, 52), "green": (40, 74, 60)}


@dataclass(frozen=True)
class Laid:
    """A piece on the floor: outline, mm; grainline (2, 2) if drawn; and its paper."""

    outline_mm: FloatArray
    grain_mm: FloatArray | None = None
    paper: str = "tissue"


@dataclass(frozen=True, kw_only=True)
class Shot:
    """Everything a photograph is rendered from; angles in degrees, lengths in mm."""

    pieces: tuple[Laid, ...]
    pages: tuple[tuple[float, float, float], ...] = ()
    sheets: tuple[tuple[float, float, float, float, float], ...] = ()
    floor: str = "slate"
    size_px: tuple[int, int] = (2400, 1800)
    aim_mm: tuple[float, float] = (0.0, 0.0)
    lean_deg: float = 12.0
    around_deg: float = 40.0
    roll_deg: float = 3.0
    view_mm: float = 1150.0
    bend: float = -0.004
    blur_px: float = 0.8
    noise: float = 3.0
    shadow: float = 0.35
    uneven: float = 0.3
    wrinkle_mm: float = 0.5
    seed: int = 1
    page_numbers: tuple[int, ...] = field(default=())


def demo_outline(sheet: str, piece: str, size: str = "M") -> tuple[FloatArray, FloatArray]:
    """Return a demo piece, opened out, about the origin: outline, and grainline (2, 2), mm."""
    shape = read_pattern(ROOT / "demo" / f"{sheet}.toml").piece(piece).shape(size)
    if shape.fold_edge_mm is not None:
        shape = unfold(shape)
    middle = 0.5 * (shape.outline_mm.min(axis=0) + shape.outline_mm.max(axis=0))
    arrow = np.array([shape.grainline.tail_mm, shape.grainline.head_mm])
    return shape.outline_mm - middle, arrow - middle


def laid(
    sheet: str, piece: str, *, at: tuple[float, float], turn: float = 0.0, grain: bool = False,
    paper: str = "tissue",
) -> Laid:  # fmt: skip
    """Return a demo piece on the floor."""
    outline, arrow = (place(one, turn_deg=turn, x=at[0], y=at[1])
                      for one in demo_outline(sheet, piece))  # fmt: skip
    return Laid(outline, arrow if grain else None, paper)


def render(shot: Shot) -> np.ndarray:
    """Return the photograph, shape (height, width, 3), red, green and blue."""
    rng = np.random.default_rng(shot.seed)
    floor, corner = _floor(shot, rng)
    wide, high = shot.size_px
    x, y = np.meshgrid(
        np.arange(0.0, wide + _COARSE, _COARSE), np.arange(0.0, high + _COARSE, _COARSE)
    )
    at = (_floor_points(shot, np.column_stack((x.ravel(), y.ravel()))) - corner) * _px_per_mm(shot)
    coarse = at.astype(np.float32).reshape(*x.shape, 2)
    column, row = np.meshgrid(np.arange(wide) / _COARSE, np.arange(high) / _COARSE)
    maps = cv2.remap(coarse, column.astype(np.float32), row.astype(np.float32), cv2.INTER_LINEAR)
    seen = cv2.remap(
        floor, maps[..., 0], maps[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT_101
    ).astype(np.float32)
    seen = seen * _light(shot, wide, high, rng)[..., None]
    seen = cv2.GaussianBlur(seen, (0, 0), shot.blur_px)
    seen += shot.noise * rng.standard_normal((high, wide, 1), dtype=np.float32)
    seen += 0.5 * shot.noise * rng.standard_normal(seen.shape, dtype=np.float32)
    return np.clip(seen, 0, 255).astype(np.uint8)


def _px_per_mm(shot: Shot) -> float:
    return FLOOR_SHARE * shot.size_px[0] / shot.view_mm


def jpeg(pixels: np.ndarray, *, orientation: int | None = None) -> bytes:
    """Return a photograph as a JPEG file, as a phone saves it."""
    stream = io.BytesIO()
    exif = Image.Exif()
    if orientation is not None:
        exif[0x0112] = orientation
    Image.fromarray(pixels).save(stream, "JPEG", quality=90, exif=exif)
    return stream.getvalue()


def _camera(shot: Shot) -> tuple[FloatArray, FloatArray, float]:
    """Return the rotation (rows: right, down, forward), the eye (mm) and the focal length (px)."""
    lean, around, roll = np.radians([shot.lean_deg, shot.around_deg, shot.roll_deg])
    focal = 0.62 * math.hypot(*shot.size_px)
    away = shot.view_mm * focal / shot.size_px[0]
    back = np.array([math.sin(lean) * math.cos(around), math.sin(lean) * math.sin(around),
                     math.cos(lean)])  # fmt: skip
    right = np.cross([0.0, 1.0, 0.0], back)
    right /= np.linalg.norm(right)
    up = np.cross(back, right)
    right, up = (
        math.cos(roll) * right + math.sin(roll) * up,
        math.cos(roll) * up - math.sin(roll) * right,
    )
    eye = np.array([*shot.aim_mm, 0.0]) + away * back
    return np.array([right, -up, -back]), eye, focal


def _floor_points(shot: Shot, at_px: FloatArray) -> FloatArray:
    """Return which points of the floor pixels see, mm."""
    turn, eye, focal = _camera(shot)
    half = math.hypot(*shot.size_px) / 2.0
    seen = (at_px - 0.5 * (np.array(shot.size_px) - 1.0)) / half
    flat = seen.copy()
    for _ in range(4):  # the lens moves a point at r to r (1 + bend r^2)
        flat = seen / (1.0 + shot.bend * (flat**2).sum(axis=1, keepdims=True))
    rays = np.column_stack((flat * half / focal, np.ones(len(flat)))) @ turn
    return eye[:2] - rays[:, :2] * (eye[2] / rays[:, 2:])


def _floor(shot: Shot, rng: np.random.Generator) -> tuple[np.ndarray, FloatArray]:
    """Return the floor from above, y up, and where its first pixel lies, mm."""
    reach, scale = 0.65 * shot.view_mm, _px_per_mm(shot)
    corner = np.array(shot.aim_mm) - reach
    count = round(2.0 * reach * scale)
    grain = rng.normal(0.0, 1.0, (count // 6, count // 60)).astype(np.float32)
    texture = 1.0 + 0.06 * cv2.resize(grain, (count, count), interpolation=cv2.INTER_CUBIC)
    floor = texture[..., None] * np.array(FLOORS[shot.floor], dtype=np.float32)
    waves = _waves(count, 40.0 * scale, rng)

    def fill(points: FloatArray, colour: tuple[int, int, int], shade: float = 0.0) -> None:
        light = shade * waves if shade else None
        _fill(floor, (points - corner) * scale, colour, light)

    for piece in shot.pieces:
        fill(_wrinkled(piece.outline_mm, shot.wrinkle_mm, rng), PAPERS[piece.paper], 0.06)
        if piece.grain_mm is not None:
            for stroke in _arrow(piece.grain_mm):
                fill(stroke, (40, 38, 44))
    for wide, high, x, y, turn in shot.sheets:
        fill(_posed(_box(wide, high), (x, y, turn)), PAPERS["white"])
    numbers = shot.page_numbers or range(len(shot.pages))
    for number, pose in zip(numbers, shot.pages, strict=True):
        fill(_posed(_box(210.0, 297.0), pose), PAPERS["white"])
        for place_ in range(MARKS_ON_PAGE):
            for cell in _cells(number, place_):
                fill(_posed(cell, pose), (24, 24, 26))
    return floor, corner


def _fill(
    floor: np.ndarray, at: FloatArray, colour: tuple[int, int, int], light: np.ndarray | None
) -> None:
    """Paint a polygon with smooth edges."""
    low = np.maximum(np.floor(at.min(axis=0)).astype(int) - 2, 0)
    high = np.minimum(np.ceil(at.max(axis=0)).astype(int) + 3, floor.shape[1::-1])
    if (high <= low).any():
        return
    wide, tall = (high - low).tolist()
    fine = np.zeros((tall * _FINE, wide * _FINE), dtype=np.uint8)
    corners = ((at - low + 0.5) * _FINE - 0.5) * 256
    cv2.fillPoly(fine, [np.round(corners).astype(np.int32)], 255, cv2.LINE_8, 8)
    cover = cv2.resize(fine, (wide, tall), interpolation=cv2.INTER_AREA)
    part = floor[low[1] : high[1], low[0] : high[0]]
    share = (cover.astype(np.float32) / 255.0)[..., None]
    shade = 1.0 if light is None else 1.0 + light[low[1] : high[1], low[0] : high[0], None]
    part += share * (np.array(colour, dtype=np.float32) * shade - part)


def _waves(count: int, size_px: float, rng: np.random.Generator) -> np.ndarray:
    coarse = max(4, round(count / size_px))
    waves = rng.normal(0.0, 1.0, (coarse, coarse)).astype(np.float32)
    return np.clip(cv2.resize(waves, (count, count), interpolation=cv2.INTER_CUBIC), -2.0, 2.0)


def _wrinkled(outline: FloatArray, by_mm: float, rng: np.random.Generator) -> FloatArray:
    """Return the outline with every point moved a little, neighbours alike."""
    fine = shapely.get_coordinates(shapely.segmentize(shapely.LinearRing(outline), 4.0))[:-1]
    coarse = rng.normal(0.0, by_mm, (max(4, len(fine) // 20), 2))
    at = np.linspace(0, len(coarse), len(fine), endpoint=False)
    closed = np.concatenate((coarse, coarse[:1]))
    moves = [np.interp(at, np.arange(len(closed)), closed[:, axis]) for axis in (0, 1)]
    return fine + np.column_stack(moves)


def _light(shot: Shot, wide: int, high: int, rng: np.random.Generator) -> np.ndarray:
    """Return how light each pixel is: a lamp to one side, and the soft shadow of a person."""
    x, y = np.meshgrid(np.linspace(-1, 1, 160), np.linspace(-1, 1, 120))
    side = rng.uniform(0, 2 * np.pi)
    light = 1.0 + 0.5 * shot.uneven * (x * np.cos(side) + y * np.sin(side))
    light *= 1.0 - 0.18 * (x**2 + y**2) / 2.0
    middle, size = rng.uniform(-0.8, 0.8, 2), rng.uniform(0.4, 0.9)
    far = np.hypot(x - middle[0], y - middle[1]) / size
    light *= 1.0 - shot.shadow / (1.0 + np.exp(12.0 * (far - 1.0)))
    return cv2.resize(light.astype(np.float32), (wide, high), interpolation=cv2.INTER_CUBIC)


def _arrow(ends: FloatArray) -> list[FloatArray]:
    """Return the strokes of a grainline 1 mm wide with a head of 10 mm."""
    tail, tip = ends
    along = (tip - tail) / np.linalg.norm(tip - tail)
    across = np.array([-along[1], along[0]])

    def stroke(a: FloatArray, b: FloatArray) -> FloatArray:
        way = (b - a) / np.linalg.norm(b - a)
        side = 0.5 * np.array([-way[1], way[0]])
        return np.array([a + side, b + side, b - side, a - side])

    wings = [tip - 10.0 * along + 5.0 * sign * across for sign in (1.0, -1.0)]
    return [stroke(tail, tip), *(stroke(wing, tip) for wing in wings)]


def _cells(page: int, place_: int) -> list[FloatArray]:
    """Return the black cells of a mark on its page."""
    corners = mark_corners_mm(place_)
    black = mark_cells(page, place_)
    right, down = (corners[1] - corners[0]) / 7.0, (corners[3] - corners[0]) / 7.0
    return [
        corners[0] + column * right + row * down
        + np.array([(0, 0), right, right + down, down], dtype=np.float64)
        for row, column in np.argwhere(black)
    ]  # fmt: skip


def _box(wide: float, high: float) -> FloatArray:
    x, y = wide / 2.0, high / 2.0
    return np.array([(-x, -y), (x, -y), (x, y), (-x, y)])


def _posed(points: FloatArray, pose: tuple[float, float, float]) -> FloatArray:
    x, y, turn = pose
    return place(points, turn_deg=turn, x=x, y=y)
