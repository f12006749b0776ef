"""``nesting fits``: whether it fits on the cloth that is owned."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.fits_options import FitsTyped
from nesting.cli.options import Effort, Nap, OptionError, read_option, takes
from nesting.cli.outputs import MARKER_ENDINGS, PICTURE_ENDINGS, check_outputs, write_together

if TYPE_CHECKING:
    from nesting.answers.fits.allocation import Share
    from nesting.answers.fits.fits import FitsAnswer
    from nesting.cli.asking import WhatToCut
    from nesting.cloth.bolt import Bolt


@takes(FitsTyped)
def fits_command(typed: FitsTyped) -> int:
    """Say whether the pieces fit on the cloth you own, and if not, what would help."""
    endings = {"out": MARKER_ENDINGS, "draw": PICTURE_ENDINGS}
    check_outputs(typed, endings, derived=[("--out", path) for path in _numbered(typed)])
    from nesting.answers.fits.fits import USUAL_SECONDS, FitsRequest, does_it_fit
    from nesting.answers.fits.fits_tables import fits_row
    from nesting.cli import report
    from nesting.cli.asking import lay_on
    from nesting.cli.fits_report import print_fits
    from nesting.cli.progress import watching_cells

    choice = _choice(typed)
    owned = _owned(typed)
    lay = lay_on(owned[0], choice, typed)
    report.note(choice.notes)
    with watching_cells(quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        asked = FitsRequest(lay=lay, owned=owned, seconds=typed.seconds or USUAL_SECONDS)
        answer = does_it_fit(asked, progress=watch.tried)
    written = _write(typed, answer)
    if typed.json:
        report.print_json(fits_row(answer))
    else:
        print_fits(answer)
        report.print_written(written)
    return 0 if answer.fits else 1


def _choice(typed: FitsTyped) -> "WhatToCut":
    """Return what to cut: one view and size, or a whole list of them."""
    from nesting.answers.order.order_file import read_order
    from nesting.cli.asking import chosen, chosen_for
    from nesting.marker.cut_list import Selection
    from pieces.sheet.pattern_file import read_pattern

    if typed.order is None:
        return chosen(typed)
    for name, is_said in (
        ("--view", typed.view is not None),
        ("--size", typed.size is not None),
        ("--garments", typed.garments != 1),
    ):
        if is_said:
            raise OptionError(f"{name}: the list of --order says that already; leave one out")
    pattern = read_pattern(typed.pattern)
    count: Counter[tuple[str, str]] = Counter()
    for line in read_order(typed.order, pattern):
        count[line.view, line.size] += line.count
    return chosen_for(typed, pattern, tuple(Selection(*garment, n) for garment, n in count.items()))


def _owned(typed: FitsTyped) -> "tuple[Bolt, ...]":
    """Return each cloth owned as a bolt with its length; the first width sets the units."""
    from nesting.cli.asking import naming_options, told_of_cloth
    from pieces.measures.remnants import parse_remnant

    for name, is_said in (("--step", typed.step), ("--length-left", typed.length_left)):
        if is_said is not None:
            raise OptionError(f"{name}: nothing is bought here; --have says how much there is")
    if typed.flaw and len(typed.have) > 1:
        raise OptionError("--flaw: with several --have nobody knows on which it is; ask for one")
    remnants = [read_option("--have", parse_remnant, text) for text in typed.have]
    told = replace(told_of_cloth(typed), nap=typed.nap is Nap.WITH, step="exact")
    with naming_options():
        return tuple(
            replace(
                told.bolt(units=remnants[0].units, width_mm=one.width_mm),
                length_left_mm=one.length_mm,
            )
            for one in remnants
        )


def _write(typed: FitsTyped, answer: "FitsAnswer") -> list[Path]:
    """Write a marker for each cloth used, and one picture of them all."""
    used = [share for share in answer.sharing.shares if share.result is not None]
    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.draw is not None and used:
        writers[typed.draw] = _picture(used)
    if typed.out is not None:
        from nesting.marker.marker_file import write_marker

        paths = _numbered(typed) if len(used) > 1 else [typed.out]
        for path, share in zip(paths, used, strict=False):
            if share.result is not None:
                writers[path] = partial(write_marker, share.result.marker)
    write_together(writers)
    return list(writers)


def _numbered(typed: FitsTyped) -> list[Path]:
    """Return the marker files to be written if several cloths are used."""
    if typed.out is None or len(typed.have) == 1:
        return []
    several = range(1, 1 + len(typed.have))
    return [typed.out.with_stem(f"{typed.out.stem}-{number}") for number in several]


def _picture(used: "list[Share]") -> Callable[[Path], None]:
    from nesting.answers.fits.fits_tables import owned_words
    from nesting.draw import draw_compare, draw_marker

    entries = [
        (f"On {owned_words(share)}", share.result.marker, None)
        for share in used
        if share.result is not None
    ]
    if len(entries) == 1:
        return partial(draw_marker, entries[0][1])
    return partial(draw_compare, entries, is_choice=False)
