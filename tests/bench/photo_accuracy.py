"""Trace rendered photographs of known outlines, and print how far each is off.

Run it from the root of the repository: ``python -m tests.bench.photo_accuracy [COUNT]``. It renders
48 photographs if COUNT does not say otherwise, and prints a line for each and a table.
"""

import statistics
import sys
import time

from pieces.errors import PhotoError
from pieces.photo.photo_file import PhotoReading, drawing_of_photos
from pieces.photo.reading import parse_photo
from pieces.photo.sheets import sheet_named
from tests.pieces.photo.measuring import Match, match
from tests.pieces.photo.rendering import jpeg, render
from tests.pieces.photo.shots import MARKED, ON_A4, ON_LETTER, Case, cases


def measured(case: Case) -> tuple[Match, PhotoReading]:
    """Render a photograph, trace it and measure."""
    photo = parse_photo(jpeg(render(case.shot)))
    sheet = None if case.sheet is None else sheet_named(case.sheet)
    reading = drawing_of_photos([photo], sheet=sheet)
    (drawn,) = reading.drawing.shapes
    return match(drawn.shape.outline_mm, case.shot.pieces[0]), reading


def main(count: int) -> None:
    """Measure every photograph."""
    found: dict[str, list[Match]] = {}
    for case in cases(count):
        before = time.monotonic()
        try:
            got, reading = measured(case)
        except PhotoError as error:
            print(f"{case.name}: REFUSED: {error}", flush=True)
            continue
        found.setdefault(case.kind, []).append(got)
        grain = sum(not shape.assumed for shape in reading.drawing.shapes)
        print(
            f"{case.name}: within 2 mm {100 * got.within_2mm:.1f} %, area "
            f"{100 * got.area_error:+.2f} %, most {got.most_mm:.1f} mm, largest "
            f"{got.largest_mm:.1f} mm, told {reading.accuracy.error_mm:.1f} mm, "
            f"{1 / reading.accuracy.mm_per_px:.1f} px/mm, "
            f"grainline {'found' if grain else 'none'}"
            f"{'' if bool(grain) == (case.shot.pieces[0].grain_mm is not None) else ' WRONG'}, "
            f"{time.monotonic() - before:.0f} s",
            flush=True,
        )
    print("\n| Beside the piece | Photographs | Share of the edge within 2 mm | Area off |")
    print("|---|---|---|---|")
    for kind in (MARKED, ON_A4, ON_LETTER):
        shares = [100 * one.within_2mm for one in found.get(kind, [])]
        areas = [100 * abs(one.area_error) for one in found.get(kind, [])]
        if shares:
            print(f"| {kind} | {len(shares)} | {_spread(shares, 1)} | {_spread(areas, 2)} |")


def _spread(values: list[float], digits: int) -> str:
    """Return the least, the middle and the largest of some percentages."""
    told = (min(values), statistics.median(values), max(values))
    return " / ".join(f"{value:.{digits}f}" for value in told) + " %"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 48)
