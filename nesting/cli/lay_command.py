"""``nesting lay``: one garment on one bolt."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import Effort, LayTyped, Nap, takes
from nesting.cli.outputs import (
    MARKER_ENDINGS,
    PICTURE_ENDINGS,
    check_outputs,
    write_together,
)

if TYPE_CHECKING:
    from nesting.answers.costs import Explanation
    from nesting.answers.what_if.sensitivity import Sensitivity
    from nesting.lay import LayRequest, LayResult


@takes(LayTyped)
def lay_command(typed: LayTyped) -> int:
    """Lay the pieces on one bolt and say how much cloth to ask for."""
    endings = {"out": MARKER_ENDINGS, "draw": PICTURE_ENDINGS, "draw_explain": PICTURE_ENDINGS}
    check_outputs(typed, endings)
    from nesting.answers.costs_tables import explain_row
    from nesting.answers.rows import lay_row
    from nesting.answers.what_if.sensitivity import sensitivity_row, sensitivity_words
    from nesting.cli import report
    from nesting.cli.explain_report import print_explanation
    from nesting.cli.progress import watching
    from nesting.languages import words_of
    from nesting.lay import lay_pieces

    request, notes = _request(typed)
    report.note(notes)
    with watching(
        (request.bolt,), quiet=typed.json, only_fills=typed.effort is Effort.QUICK
    ) as watch:
        result = lay_pieces(request, progress=watch.lay)
    narrower = _narrower(request, result, typed) if typed.what_if_narrower else None
    if narrower is not None and narrower.rows[0].row.result is not None:
        result = narrower.rows[0].row.result
    wanted = typed.explain or typed.draw_explain is not None
    explanation = _explained(request, result, quiet=typed.json) if wanted else None
    written = _write(typed, result, explanation)
    if typed.json:
        report.note(report.stop_note([result]))
        more = {} if narrower is None else {"what_if_narrower": sensitivity_row(narrower)}
        more |= {} if explanation is None else {"explain": explain_row(explanation)}
        report.print_json(lay_row(request, result) | more)
    else:
        words = words_of(typed.language.value)
        report.print_lay(request, result, selvage_told=typed.selvage is not None, words=words)
        if explanation is not None:
            print_explanation(explanation, words)
        for sentence in () if narrower is None else sensitivity_words(narrower, words):
            report.print_sentence(sentence)
        report.print_findings(result.findings)
        report.print_written(written)
    return 1 if report.has_errors(result.findings) else 0


def _request(typed: LayTyped) -> "tuple[LayRequest, tuple[str, ...]]":
    """Return what to lay, and what the person should hear about the pattern."""
    from nesting.cli.asking import bolts_of, chosen, lay_on

    choice = chosen(typed)
    prices = [] if typed.price is None else [typed.price]
    (bolt,) = bolts_of(typed, [typed.width], prices, [typed.nap is Nap.WITH])
    return lay_on(bolt, choice, typed), choice.notes


def _narrower(request: "LayRequest", result: "LayResult", typed: LayTyped) -> "Sensitivity":
    """Lay the same on narrower bolts."""
    from nesting.answers.what_if.sensitivity import WIDTHS, what_if_narrower
    from nesting.cli.progress import watching

    only_fills = typed.effort is Effort.QUICK
    with watching((request.bolt,) * WIDTHS, quiet=typed.json, only_fills=only_fills) as watch:
        return what_if_narrower(request, result, progress=watch.row)


def _explained(request: "LayRequest", result: "LayResult", *, quiet: bool) -> "Explanation":
    """Lay the same without each rule of the cloth."""
    from nesting.answers.costs import explain, lays_to_explain
    from nesting.cli.progress import watching

    bolts = (request.bolt,) * max(1, lays_to_explain(request))
    only_fills = request.search.effort == "quick"
    with watching(bolts, quiet=quiet, only_fills=only_fills) as watch:
        return explain(request, result, progress=watch.row)


def _write(typed: LayTyped, result: "LayResult", explanation: "Explanation | None") -> list[Path]:
    """Write the marker and the pictures, all or none, and return their names."""
    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.draw is not None:
        from nesting.draw import draw_marker
        from nesting.languages import words_of

        writers[typed.draw] = partial(
            draw_marker,
            result.marker,
            lower_bound_mm=None if result.tried else result.lower_bound.length_mm,
            open_bound_mm=result.open_bound.length_mm,
            words=words_of(typed.language.value),
        )
    if typed.draw_explain is not None and explanation is not None:
        from nesting.answers.costs_tables import explain_scene
        from nesting.draw import save_scene
        from nesting.languages import words_of

        scene = explain_scene(explanation, words_of(typed.language.value))
        writers[typed.draw_explain] = partial(save_scene, scene)
    if typed.out is not None:
        from nesting.marker.marker_file import write_marker

        writers[typed.out] = partial(write_marker, result.marker)
    write_together(writers)
    return list(writers)
