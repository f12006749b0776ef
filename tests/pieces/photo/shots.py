"""The rendered photographs that accuracy is measured on: the same ones every time."""

from dataclasses import dataclass, replace

import numpy as np

from tests.pieces.photo.rendering import FLOORS, PAPERS, Shot, laid

LARGE = (
    ("waistcoat", "back"),
    ("waistcoat", "front"),
    ("smock_shirt", "sleeve"),
    ("knapsack", "front_panel"),
    ("cloak", "knee_front"),
    ("waistcoat", "front_facing"),
)
MARKED, ON_A4, ON_LETTER = "four pages of marks", "one A4 sheet", "one Letter sheet"


@dataclass(frozen=True)
class Case:
    """A photograph to render and the sheet to read it by, None for marks."""

    name: str
    kind: str
    sheet: str | None
    shot: Shot


def cases(count: int = 48) -> list[Case]:
    """Return so many photographs: two of three with marks, the others with a blank sheet."""
    return [_case(number) for number in range(count)]


def _case(number: int) -> Case:
    rng = np.random.default_rng(1000 + number)
    sheet, piece = LARGE[number % len(LARGE)]
    paper = list(PAPERS)[number % len(PAPERS)]
    kind = (MARKED, MARKED, ON_A4, MARKED, MARKED, ON_LETTER)[(number // 2) % 6]
    large = laid(
        sheet, piece, at=(0.0, 0.0), turn=float(rng.uniform(-12, 12)), grain=number % 2 == 0,
        paper=paper,
    )  # fmt: skip
    wide, tall = np.ptp(large.outline_mm, axis=0) / 2.0
    pages: tuple[tuple[float, float, float], ...] = ()
    sheets: tuple[tuple[float, float, float, float, float], ...] = ()
    turn = rng.uniform(-15, 15, 4)
    if kind is MARKED:
        x, y = wide + 165.0, max(tall - 130.0, 170.0)
        pages = tuple(
            (sx * x, sy * y, float(t))
            for (sx, sy), t in zip([(-1, 1), (1, 1), (1, -1), (-1, -1)], turn, strict=True)
        )
        view = max(2 * (x + 150), 4 / 3 * 2 * (max(y + 180, tall) + 20))
        aim = (0.0, 0.0)
    else:
        size = (210.0, 297.0) if kind is ON_A4 else (215.9, 279.4)
        sheets = ((*size, -wide - 175.0, 0.0, float(turn[0])),)
        view = max(2 * wide + 460, 4 / 3 * 2 * (tall + 60)) * 1.06
        aim = (-150.0, 0.0)
    shot = Shot(
        pieces=(large,),
        pages=pages,
        sheets=sheets,
        floor=list(FLOORS)[(number // 3) % len(FLOORS)],
        size_px=(3000, 2250),
        aim_mm=aim,
        lean_deg=float(rng.uniform(2.0, 22.0 if kind is MARKED else 14.0)),
        around_deg=float(rng.uniform(0.0, 360.0)),
        roll_deg=float(rng.uniform(-6.0, 6.0)),
        view_mm=float(view) * 1.05,
        bend=float(rng.uniform(-0.008, 0.006)) * (1.0 if kind is MARKED else 0.3),
        blur_px=float(rng.uniform(0.6, 1.5)),
        noise=float(rng.uniform(1.0, 6.0)),
        shadow=float(rng.uniform(0.0, 0.45)),
        uneven=float(rng.uniform(0.0, 0.5)),
        wrinkle_mm=float(rng.uniform(0.1, 0.5)),
        seed=number,
    )  # fmt: skip
    sheet_word = {MARKED: None, ON_A4: "a4", ON_LETTER: "letter"}[kind]
    return Case(f"{number:02d} {sheet} {piece}, {paper}, {kind}", kind, sheet_word, shot)


def small_shot(**changes: object) -> Shot:
    """Return a photograph that is quick to render: a pocket between two pages of marks."""
    shot = Shot(
        pieces=(laid("knapsack", "pocket", at=(0.0, 0.0), turn=4.0, grain=True),),
        pages=((-280.0, 20.0, 6.0), (280.0, -10.0, -4.0)),
        size_px=(1200, 900),
        view_mm=870.0,
        lean_deg=10.0,
        shadow=0.2,
        wrinkle_mm=0.2,
    )
    return replace(shot, **changes)  # type: ignore[arg-type]


def small_shot_on_sheet(wide_mm: float, high_mm: float, **changes: object) -> Shot:
    """Return the same pocket beside one blank sheet."""
    shot = small_shot(pages=(), sheets=((wide_mm, high_mm, -270.0, 0.0, 3.0),), bend=0.0)
    return replace(shot, **{"aim_mm": (-70.0, 0.0), **changes})  # type: ignore[arg-type]
