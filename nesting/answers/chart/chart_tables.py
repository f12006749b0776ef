"""A yardage chart as plain values for JSON, as CSV and Markdown text, and what it should say."""

import re
from collections.abc import Iterator
from itertools import pairwise

from nesting.answers.chart.chart import Chart
from nesting.answers.compare import CompareRow
from nesting.answers.rows import Row, compare_row
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import SPREAD_WORDS
from nesting.cloth.words import nap_words
from nesting.languages import ENGLISH, Words, marked
from nesting.lay import LayResult
from pieces.files.csv_text import csv_text
from pieces.finding import Severity
from pieces.measures.format import format_both, format_length
from pieces.measures.widths import format_width

CSV_COLUMNS = (
    "view",
    "size",
    "width_mm",
    "nap",
    "shop_length",
    "shop_length_mm",
    "cut_length_mm",
    "marker_length_mm",
    "utilisation",
    "lower_bound_mm",
    "refusal",
)
SEARCHES = {
    "quick": marked("a quick search"),
    "standard": marked("a standard search"),
    "thorough": marked("a thorough search"),
}
NO_CELL = "\N{EM DASH}"


def cell_words(row: CompareRow, words: Words = ENGLISH) -> str:
    """Return what to ask for in the person's system, or a dash where a piece is too wide."""
    if row.result is None:
        return NO_CELL
    return words.figures(format_length(row.result.shop_length_mm, row.request.bolt.units, up=True))


def bolt_words(bolt: Bolt, words: Words = ENGLISH) -> str:
    """Return width and nap, such as ``"45 in, with nap"``."""
    return f"{words.figures(format_width(bolt.width_mm, bolt.units))}, {nap_words(bolt, words)}"


def foot_words(chart: Chart, words: Words = ENGLISH) -> tuple[str, ...]:
    """Return what a chart rests on, why cells are empty, and what looks odd in it."""
    request = chart.request
    bolt, search = request.bolts[0], request.search
    usable = words.say("the whole width")
    if bolt.selvage_mm:
        selvage = words.figures(format_width(bolt.selvage_mm, bolt.units))
        usable = words.say("the width less two selvages of {width}", width=selvage)
    searched = (
        words.say(SEARCHES[search.effort])
        if search.effort
        else words.say("{seconds} s of search", seconds=words.figures(f"{search.seconds:g}"))
    )
    return (
        words.say(
            "Every figure is a cutting layout on {usable}, {spread}, found by {search} with seed "
            "{seed}.",
            usable=usable,
            spread=words.say(SPREAD_WORDS[request.rules.spread]),
            search=searched,
            seed=search.seed,
        ),
        *_dash_words(chart, words),
        *odd_words(chart, words),
        *_finding_words(chart, words),
    )


def _dash_words(chart: Chart, words: Words) -> Iterator[str]:
    """Yield for each view and width with dashes the sizes, and the reason of the first."""
    refused: dict[tuple[str, float], dict[str, CompareRow]] = {}
    for row in chart.all_rows:
        if row.result is None:
            chosen = row.request.selections[0]
            sizes = refused.setdefault((chosen.view, row.request.bolt.width_mm), {})
            sizes.setdefault(chosen.size, row)
    for (view, width_mm), sizes in refused.items():
        first = next(iter(sizes.values()))
        yield words.say(
            "{dash} View {view}, {width}, size {sizes}: {reason}.",
            dash=NO_CELL,
            view=view,
            width=words.figures(format_width(width_mm, first.request.bolt.units)),
            sizes=", ".join(sizes),
            reason=first.refusal,
        )


def odd_words(chart: Chart, words: Words = ENGLISH) -> tuple[str, ...]:
    """Return a sentence for each size that takes less cloth than a smaller one."""
    return tuple(_odd(chart, words))


def _odd(chart: Chart, words: Words) -> Iterator[str]:
    sizes = sorted(chart.request.sizes, key=chart.request.pattern.sizes.index)
    for view in chart.request.views:
        for bolt in chart.request.bolts:
            laid = [(size, chart.cell(view, size, bolt).result) for size in sizes]
            for (small, less), (large, more) in pairwise(laid):
                if less is not None and more is not None and _is_shorter(more, less):
                    yield words.say(
                        "View {view}, {bolt}: size {large} asks for less than size {small}, since "
                        "the search found a better layout for it; a longer search may shorten the "
                        "other.",
                        view=view,
                        bolt=bolt_words(bolt, words),
                        large=large,
                        small=small,
                    )


def _is_shorter(one: LayResult, other: LayResult) -> bool:
    return one.shop_length_mm < other.shop_length_mm - 1e-6


def _finding_words(chart: Chart, words: Words) -> Iterator[str]:
    for row in chart.all_rows:
        if row.result is None:
            continue
        for finding in row.result.findings:
            if finding.severity is Severity.ERROR:
                chosen = row.request.selections[0]
                yield words.say(
                    "Not ready to cut: view {view}, size {size}, {bolt}: {finding}.",
                    view=chosen.view,
                    size=chosen.size,
                    bolt=bolt_words(row.request.bolt, words),
                    finding=finding.sentence,
                )


def chart_row(chart: Chart) -> Row:
    """Return a chart as plain values; each cell has the fields of a row of a comparison."""
    request = chart.request
    return {
        "pattern": request.pattern.name,
        "cloth": request.cloth,
        "views": list(request.views),
        "sizes": list(request.sizes),
        "rows": [compare_row(row) for row in chart.all_rows],
        "notes": list(foot_words(chart)),
    }


def chart_csv(chart: Chart) -> str:
    """Return a chart as CSV: a line for each cell, lengths in mm beside their words.

    Headings and words are English in every language, since programs read them.
    """
    return csv_text((CSV_COLUMNS, *csv_lines(chart)))


def csv_lines(chart: Chart) -> Iterator[tuple[object, ...]]:
    """Yield the values of each cell, in the order of ``CSV_COLUMNS``."""
    for row in chart.all_rows:
        told = compare_row(row)
        yield tuple(told[name] for name in CSV_COLUMNS)


def chart_markdown(chart: Chart, words: Words = ENGLISH) -> str:
    """Return a chart as Markdown: a table for each view, a row for each bolt."""
    request = chart.request
    told = words.say("Yardage chart, {cloth}.", cloth=request.cloth)
    lines = [f"# {_plain(request.pattern.name)}", "", _plain(told)]
    for view in request.views:
        head = "".join(f" {_plain(size)} |" for size in request.sizes)
        title = _plain(words.say("View {view}", view=view))
        lines += ["", f"## {title}", "", f"| {words.say('Width')} |{head}"]
        lines.append("|---|" + "---:|" * len(request.sizes))
        for bolt in request.bolts:
            rows = (chart.cell(view, size, bolt) for size in request.sizes)
            cells = "".join(f" {_plain(both_words(row, words))} |" for row in rows)
            lines.append(f"| {_plain(bolt_words(bolt, words))} |{cells}")
    lines += ["", *(f"- {_plain(told)}" for told in foot_words(chart, words))]
    return "\n".join(lines) + "\n"


def both_words(row: CompareRow, words: Words = ENGLISH) -> str:
    """Return what to ask for in both systems, or a dash where a piece is too wide."""
    if row.result is None:
        return NO_CELL
    return words.figures(format_both(row.result.shop_length_mm, row.request.bolt.units, up=True))


def _plain(text: str) -> str:
    """Return text that stays in its line and its cell, and keeps its letters."""
    return re.sub(r"([\\|<>`\[\]_*])", r"\\\1", " ".join(text.split()))
