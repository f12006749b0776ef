"""A yardage chart as plain values for JSON, as CSV and Markdown text, and what it should say."""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from nesting.bolt import Bolt
from nesting.chart import Chart
from nesting.compare import CompareRow
from nesting.lay import LayResult
from nesting.spread import SPREAD_WORDS
from nesting.tables import Row, compare_row, nap_word
from pieces.finding import Severity
from pieces.lengths import format_both, format_length
from pieces.widths import format_width

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
NO_CELL = "\N{EM DASH}"


def cell_words(row: CompareRow) -> str:
    """Return what to ask for in the person's system, or a dash where a piece is too wide."""
    if row.result is None:
        return NO_CELL
    return format_length(row.result.shop_length_mm, row.request.bolt.units)


def bolt_words(bolt: Bolt) -> str:
    """Return width and nap, such as ``"45 in, with nap"``."""
    return f"{format_width(bolt.width_mm, bolt.units)}, {nap_word(nap=bolt.nap)} nap"


def foot_words(chart: Chart) -> tuple[str, ...]:
    """Return what a chart rests on, why cells are empty, and what looks odd in it."""
    request = chart.request
    bolt, search = request.bolts[0], request.search
    usable = "the whole width"
    if bolt.selvage_mm:
        usable = f"the width less two selvages of {format_width(bolt.selvage_mm, bolt.units)}"
    searched = f"{search.effort} search" if search.effort else f"{search.seconds:g} s of search"
    return (
        f"Every figure is a cutting layout on {usable}, {SPREAD_WORDS[request.rules.spread]}, "
        f"found by a {searched} with seed {search.seed}.",
        *_dash_words(chart),
        *odd_words(chart),
        *_finding_words(chart),
    )


def _dash_words(chart: Chart) -> Iterator[str]:
    """Yield for each view and width with dashes the sizes, and the reason of the first."""
    refused: dict[tuple[str, float], dict[str, CompareRow]] = {}
    for row in chart.all_rows:
        if row.result is None:
            chosen = row.request.selections[0]
            sizes = refused.setdefault((chosen.view, row.request.bolt.width_mm), {})
            sizes.setdefault(chosen.size, row)
    for (view, width_mm), sizes in refused.items():
        first = next(iter(sizes.values()))
        width = format_width(width_mm, first.request.bolt.units)
        yield f"{NO_CELL} View {view}, {width}, size {', '.join(sizes)}: {first.refusal}."


def odd_words(chart: Chart) -> tuple[str, ...]:
    """Return a sentence for each size that takes less cloth than a smaller one."""
    return tuple(_odd(chart))


def _odd(chart: Chart) -> Iterator[str]:
    sizes = sorted(chart.request.sizes, key=chart.request.pattern.sizes.index)
    for view in chart.request.views:
        for bolt in chart.request.bolts:
            laid = [(size, chart.cell(view, size, bolt).result) for size in sizes]
            for (small, less), (large, more) in pairwise(laid):
                if less is not None and more is not None and _is_shorter(more, less):
                    yield (
                        f"View {view}, {bolt_words(bolt)}: size {large} asks for less than size "
                        f"{small}, since the search found a better layout for it; a longer "
                        "search may shorten the other."
                    )


def _is_shorter(one: LayResult, other: LayResult) -> bool:
    return one.shop_length_mm < other.shop_length_mm - 1e-6


def _finding_words(chart: Chart) -> Iterator[str]:
    for row in chart.all_rows:
        if row.result is None:
            continue
        for finding in row.result.findings:
            if finding.severity is Severity.ERROR:
                chosen = row.request.selections[0]
                yield (
                    f"Not ready to cut: view {chosen.view}, size {chosen.size}, "
                    f"{bolt_words(row.request.bolt)}: {finding.sentence}."
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

    A cell that a spreadsheet would take for a formula has an apostrophe before it.
    """
    return csv_text((CSV_COLUMNS, *csv_lines(chart)))


def csv_lines(chart: Chart) -> Iterator[tuple[object, ...]]:
    """Yield the values of each cell, in the order of ``CSV_COLUMNS``."""
    for row in chart.all_rows:
        told = compare_row(row)
        yield tuple(told[name] for name in CSV_COLUMNS)


def csv_text(lines: Iterable[Sequence[object]]) -> str:
    """Return lines of values as CSV; what a spreadsheet would compute has an apostrophe before."""
    stream = io.StringIO()
    table = csv.writer(stream, lineterminator="\n")
    table.writerows([_harmless(value) for value in line] for line in lines)
    return stream.getvalue()


def _harmless(value: object) -> object:
    return f"'{value}" if isinstance(value, str) and value[:1] in set("=+-@\t\r") else value


def chart_markdown(chart: Chart) -> str:
    """Return a chart as Markdown: a table for each view, a row for each bolt."""
    request = chart.request
    lines = [f"# {_plain(request.pattern.name)}", "", f"Yardage chart, {_plain(request.cloth)}."]
    for view in request.views:
        head = "".join(f" {_plain(size)} |" for size in request.sizes)
        lines += ["", f"## View {_plain(view)}", "", f"| Width |{head}"]
        lines.append("|---|" + "---:|" * len(request.sizes))
        for bolt in request.bolts:
            rows = (chart.cell(view, size, bolt) for size in request.sizes)
            cells = "".join(f" {_plain(both_words(row))} |" for row in rows)
            lines.append(f"| {_plain(bolt_words(bolt))} |{cells}")
    lines += ["", *(f"- {_plain(told)}" for told in foot_words(chart))]
    return "\n".join(lines) + "\n"


def both_words(row: CompareRow) -> str:
    """Return what to ask for in both systems, or a dash where a piece is too wide."""
    if row.result is None:
        return NO_CELL
    return format_both(row.result.shop_length_mm, row.request.bolt.units)


def _plain(text: str) -> str:
    """Return text that stays in its line and its cell, and keeps its letters."""
    return re.sub(r"([\\|<>`\[\]_*])", r"\\\1", " ".join(text.split()))
