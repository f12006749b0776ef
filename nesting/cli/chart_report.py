"""A yardage chart for people, on standard output."""

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.chart.chart import Chart
from nesting.answers.chart.chart_tables import both_words, cell_words, foot_words
from nesting.cli.report import WIDE_COLUMNS
from nesting.cli.terminal import CleanConsole
from nesting.cloth.words import nap_cell
from nesting.languages import Words
from pieces.measures.widths import format_width

_ROOM_FOR_BOTH = 18
"""Columns that a figure in both systems takes."""


def print_chart(chart: Chart, words: Words) -> None:
    """Print a table for each view, and what the chart rests on."""
    console = CleanConsole()
    console.print(Text(chart.request.pattern.name, style="bold"))
    for view in chart.request.views:
        about = chart.request.pattern.view(view).about
        title = words.say("View {view}", view=view)
        line = Text(f"{title}, {chart.request.cloth}", style="bold")
        line.append(f"  {about}" if about else "", style="not bold")
        console.print(line)
        console.print(_table(chart, view, console.width, words))
    for sentence in foot_words(chart, words):
        console.print(Text(sentence))


def _table(chart: Chart, view: str, columns: int, words: Words) -> Table:
    sizes = chart.request.sizes
    roomy = columns >= max(WIDE_COLUMNS, 24 + _ROOM_FOR_BOTH * len(sizes))
    told = both_words if roomy else cell_words
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    table.add_column(words.say("Width"), no_wrap=True)
    table.add_column(words.say("Nap"), no_wrap=True)
    for size in sizes:
        table.add_column(Text(size), justify="right", style="bold green")
    for bolt in chart.request.bolts:
        cells = [told(chart.cell(view, size, bolt), words) for size in sizes]
        width = words.figures(format_width(bolt.width_mm, bolt.units))
        table.add_row(*(Text(cell) for cell in (width, nap_cell(bolt, words), *cells)))
    return table
