"""``nesting compare``: the same garment on several bolts."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import CompareTyped, Effort, Naps, OptionError, takes
from nesting.cli.outputs import PICTURE_ENDINGS, check_outputs, write_together

if TYPE_CHECKING:
    from nesting.answers.compare import CompareRow
    from nesting.cloth.bolt_list_file import ListedBolt
    from nesting.languages import Words
    from nesting.lay import LayRequest
    from nesting.marker.marker import Marker

    Entry = tuple[str, Marker, float | None]

_SAID_BY_LIST = (
    "width",
    "price",
    "nap",
    "selvage",
    "step",
    "repeat_along",
    "repeat_across",
    "uneven",
    "cut_on_repeat",
    "flaw",
    "shrink_along",
    "shrink_across",
    "end_allowance",
    "length_left",
)
_NAPS = {Naps.WITH: [True], Naps.WITHOUT: [False], Naps.BOTH: [False, True]}


@takes(CompareTyped)
def compare_command(typed: CompareTyped) -> int:
    """Lay the pieces on several bolts and say which needs less, and which costs less."""
    check_outputs(typed, {"draw": PICTURE_ENDINGS})
    from nesting.answers.compare import compare_bolts
    from nesting.answers.compare_words import advice
    from nesting.answers.rows import compare_row
    from nesting.cli import report
    from nesting.cli.progress import watching
    from nesting.languages import words_of

    listed = _listed(typed)
    requests, notes = _requests(typed, listed)
    report.note(notes)
    bolts = tuple(request.bolt for request in requests)
    with watching(bolts, quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        rows = compare_bolts(requests, progress=watch.row)
    results = [row.result for row in rows if row.result is not None]
    report.note(report.stop_note(results))
    if listed is not None:
        return _rank(typed, listed, rows)
    words = words_of(typed.language.value)
    written = _write(typed, _entries(rows, words))
    if typed.json:
        report.print_json(
            {"rows": [compare_row(row) for row in rows], "advice": list(advice(rows))}
        )
    else:
        report.print_compare(rows, advice(rows, words), words)
        found = (finding for result in results for finding in result.findings)
        report.print_findings(tuple(dict.fromkeys(found)))
        report.print_written(written)
    if not results:
        return 2
    return 1 if any(report.has_errors(result.findings) for result in results) else 0


def _listed(typed: CompareTyped) -> "tuple[ListedBolt, ...] | None":
    """Return the bolts of a list, or None if widths are typed; refuse both, or neither."""
    if typed.bolts is None:
        if not typed.width:
            raise OptionError("--width: no bolt is told; give one or more widths, or --bolts FILE")
        return None
    for name in _SAID_BY_LIST:
        value = getattr(typed, name)
        if value not in (None, False, Naps.WITHOUT):
            option = f"--{name.replace('_', '-')}"
            raise OptionError(f"{option}: --bolts says it of each bolt; leave {option} out")
    from nesting.cloth.bolt_list_file import read_bolt_list

    return read_bolt_list(typed.bolts)


def _requests(
    typed: CompareTyped, listed: "tuple[ListedBolt, ...] | None"
) -> "tuple[tuple[LayRequest, ...], tuple[str, ...]]":
    """Return a lay for each bolt, and what the person should hear about the pattern."""
    from nesting.cli.asking import bolts_of, chosen, lay_on

    choice = chosen(typed)
    bolts = (
        bolts_of(typed, typed.width or [], typed.price or [], _NAPS[typed.nap])
        if listed is None
        else tuple(one.bolt for one in listed)
    )
    return tuple(lay_on(bolt, choice, typed) for bolt in bolts), choice.notes


def _rank(
    typed: CompareTyped, listed: "tuple[ListedBolt, ...]", rows: "Sequence[CompareRow]"
) -> int:
    """Print the bolts of a list by what the garment costs; 1 if none of them will do."""
    from nesting.answers.bolt_ranking import ranked_bolts, ranked_row, ranking_sentences
    from nesting.cli import report
    from nesting.cli.ranking_report import print_ranking
    from nesting.languages import words_of

    ranked = ranked_bolts(listed, rows)
    entries = [
        (one.name, one.row.result.marker, one.row.result.lower_bound.length_mm)
        for one in ranked
        if one.row.result is not None
    ]
    written = _write(typed, entries)
    if typed.json:
        told = [ranked_row(rank, one) for rank, one in enumerate(ranked, start=1)]
        report.print_json({"rows": told, "advice": list(ranking_sentences(ranked))})
    else:
        print_ranking(ranked, words_of(typed.language.value))
        report.print_written(written)
    return 0 if any(one.will_do for one in ranked) else 1


def _entries(rows: "Sequence[CompareRow]", words: "Words") -> "list[Entry]":
    """Return heading, marker and bound of each row that could be laid."""
    from nesting.cli.report import row_heading

    return [
        (row_heading(row.request, words), row.result.marker, row.result.lower_bound.length_mm)
        for row in rows
        if row.result is not None
    ]


def _write(typed: CompareTyped, entries: "Sequence[Entry]") -> list[Path]:
    """Draw the markers, if a picture was asked for and there is one to draw."""
    if typed.draw is None or not entries:
        return []
    from nesting.draw import draw_compare
    from nesting.languages import words_of

    words = words_of(typed.language.value)
    write_together({typed.draw: lambda moment: draw_compare(entries, moment, words=words)})
    return [typed.draw]
