"""Answers for people: tables and sentences on standard output, notes on standard error."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

import typer
from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from nesting.bolt import Bolt
from nesting.cloth_words import cloth_words
from nesting.compare import CompareRow
from nesting.engine import StoppedBy
from nesting.errors import SpreadRefusedError
from nesting.lay import LayRequest, LayResult
from nesting.lay_plan import refuse_spread
from nesting.marker import Marker
from nesting.spread import SPREAD_WORDS, Spread
from nesting.tables import finished_pieces, money, nap_word
from pieces.finding import Finding, Severity
from pieces.lengths import format_both
from pieces.widths import format_width, format_width_both

WIDE_COLUMNS = 110
"""From this width of the terminal both units stand on one line of a comparison."""

_STOP_WORDS = {
    StoppedBy.EFFORT: "all the work of this effort done",
    StoppedBy.SECONDS: "time was up; another run may differ",
    StoppedBy.REQUEST: "stopped at your request; this is the best marker found so far",
    StoppedBy.PROVEN_BEST: "no marker can be shorter",
}


def say(sentence: str) -> None:
    """Write a line for the person on standard error."""
    typer.echo(sentence, err=True)


def note(sentences: Iterable[str]) -> None:
    """Write notes on standard error, a line each."""
    for sentence in sentences:
        say(f"note: {sentence}")


def print_json(answer: Any) -> None:
    """Print one JSON value on standard output."""
    typer.echo(json.dumps(answer, ensure_ascii=False, indent=2))


def print_lay(request: LayRequest, result: LayResult, *, selvage_told: bool) -> None:
    """Print a lay: the length to ask for first, then what it rests on."""
    bolt = request.bolt
    table = Table(box=box.SIMPLE_HEAVY, show_header=False, pad_edge=False)
    table.add_column(style="bold", no_wrap=True)
    table.add_column()
    ask = Text(format_both(result.shop_length_mm, bolt.units), style="bold green")
    table.add_row(Text("Ask for", style="bold green"), ask)
    if bolt.price is not None:
        cost = money(bolt.price, bolt.price.cost(result.shop_length_mm))
        table.add_row("Cost", Text(f"{cost} at {bolt.price}"))
    spread = _spread(replace(request, rules=result.marker.rules))
    table.add_row("Cloth", Text(f"{request.cloth}, {_bolt_words(bolt)}, {spread}"))
    is_open = all(stretch.spread is Spread.OPEN for stretch in result.marker.stretches)
    if is_open and result.marker.rules.spread is not Spread.OPEN:
        table.add_row("", Text("nothing goes through both layers, so all of it lies open"))
    table.add_section()
    for name, words in cloth_words(bolt):
        table.add_row(name, Text(words))
    table.add_row("Marker length", Text(format_both(result.marker_length_mm, bolt.units)))
    if result.cut_length_mm != result.marker_length_mm:
        table.add_row("Cloth it takes", Text(format_both(result.cut_length_mm, bolt.units)))
    bound = format_both(result.lower_bound.length_mm, bolt.units)
    table.add_row("Cannot be shorter than", Text(f"{bound}: {result.lower_bound.reason}"))
    table.add_row("Utilisation", Text(f"{result.utilisation:.1%} of the usable cloth"))
    usable = format_width_both(bolt.usable_width_mm, bolt.units)
    unsure = "" if selvage_told else "; measure the usable width of your own bolt"
    table.add_row("Usable width", Text(usable + unsure))
    table.add_row("Pieces placed", Text(str(finished_pieces(result.marker))))
    table.add_row("Search", Text(f"{result.seconds:.1f} s, {_STOP_WORDS[result.stopped_by]}"))
    console = Console()
    console.print(Text(_heading(request), style="bold"))
    console.print(table)
    if result.tried:
        console.print(_tried(request, result))


def _tried(request: LayRequest, result: LayResult) -> Table:
    """Return the ways of spreading that were tried, what each takes or why it is refused."""
    units = request.bolt.units
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    for heading in ("Spread", "Ask for", "Cloth it takes"):
        table.add_column(heading)
    for one in result.tried:
        is_best = one.spread is result.marker.rules.spread
        name = Text(SPREAD_WORDS[one.spread], style="bold green" if is_best else "")
        if one.shop_length_mm is None or one.cut_length_mm is None:
            table.add_row(name, Text("no", style="red"), Text(one.refusal))
        else:
            lengths = (one.shop_length_mm, one.cut_length_mm)
            table.add_row(name, *(Text(format_both(length, units)) for length in lengths))
    return table


def print_compare(rows: Sequence[CompareRow], sentences: Sequence[str]) -> None:
    """Print a comparison: a line for each bolt, reasons for those refused, and the advice."""
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False, caption_justify="left")
    table.add_column("Width", no_wrap=True)
    table.add_column("Nap", no_wrap=True)
    is_best = any(row.request.rules.spread is Spread.BEST for row in rows)
    if is_best:
        table.add_column("Spread", no_wrap=True)
    table.add_column("Ask for", style="bold green")
    table.add_column("Marker length")
    table.add_column("Used", justify="right", no_wrap=True)
    table.add_column("Cannot be below")
    priced = any(row.request.bolt.price is not None for row in rows)
    if priced:
        table.add_column("Cost", justify="right", no_wrap=True)
    console = Console()
    between = " (" if console.width >= WIDE_COLUMNS else "\n("
    for row in rows:
        cells = [cell.replace(" (", between) for cell in _cells(row)]
        if is_best:
            cells.insert(2, "" if row.result is None else row.result.marker.rules.spread.value)
        table.add_row(*(Text(cell) for cell in (cells if priced else cells[:-1])))
    reasons = _reasons(rows)
    if reasons:
        table.caption = Text("\n".join(reasons), style="red")
    console.print(Text(_heading(rows[0].request), style="bold"))
    console.print(Text(f"{rows[0].request.cloth}, {_spread(rows[0].request)}"))
    console.print(table)
    for sentence in sentences:
        console.print(Text(sentence))


def print_check(marker: Marker, findings: Sequence[Finding]) -> None:
    """Print what the check of a marker found."""
    console = Console()
    bolt = marker.bolt
    length = format_both(marker.length_mm, bolt.units)
    console.print(Text(f"{marker.pattern}: {marker.cloth}, {length} of {_bolt_words(bolt)}"))
    print_findings(findings)
    if not findings:
        console.print(Text("Nothing found: this marker can be cut.", style="green"))


def has_errors(findings: Iterable[Finding]) -> bool:
    """Tell whether a finding spoils the work; warnings do not."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def print_findings(findings: Sequence[Finding]) -> None:
    """Print each finding with its severity, code and sentence."""
    console = Console()
    for finding in findings:
        colour = "red" if finding.severity is Severity.ERROR else "yellow"
        line = Text(f"{finding.severity} ", style=f"bold {colour}")
        line.append(f"{finding.code}: ", style="bold")
        line.append(f"{finding.sentence}.", style="not bold")
        console.print(line)


def print_sentence(sentence: str) -> None:
    """Print one sentence, wrapped at the width of the terminal."""
    Console().print(Text(sentence))


def print_written(names: Iterable[object]) -> None:
    """Print which files were written."""
    for name in names:
        typer.echo(f"Written: {name}")


def row_heading(request: LayRequest) -> str:
    """Return the words that tell one bolt of a comparison from another."""
    bolt = request.bolt
    return f"{format_width(bolt.width_mm, bolt.units)}, {nap_word(nap=bolt.nap)} nap"


def stop_note(results: Iterable[LayResult]) -> list[str]:
    """Return a note if the person stopped a search that would have gone on."""
    if any(result.stopped_by is StoppedBy.REQUEST for result in results):
        return ["stopped at your request; the best found so far is kept"]
    return []


def _reasons(rows: Sequence[CompareRow]) -> list[str]:
    """Return why bolts were refused, each reason once."""
    refused: dict[str, list[str]] = {}
    for row in rows:
        if row.result is None:
            refused.setdefault(row.refusal, []).append(row_heading(row.request))
    return [f"{'; '.join(bolts)}: {reason}." for reason, bolts in refused.items()]


def _cells(row: CompareRow) -> tuple[str, ...]:
    bolt, result = row.request.bolt, row.result
    width, nap = format_width(bolt.width_mm, bolt.units), nap_word(nap=bolt.nap)
    if result is None:
        return width, nap, _no_words(row), "", "", "", ""
    return (
        width,
        nap,
        format_both(result.shop_length_mm, bolt.units),
        format_both(result.marker_length_mm, bolt.units),
        f"{result.utilisation:.1%}",
        format_both(result.lower_bound.length_mm, bolt.units),
        "" if row.cost is None else money(bolt.price, row.cost),
    )


def _no_words(row: CompareRow) -> str:
    """Return in a few words why there is no lay; the reason stands below the table."""
    rules = row.request.rules
    try:
        if rules.spread is not Spread.BEST:
            refuse_spread(row.request.bolt, rules)
    except SpreadRefusedError:
        return "not spread so"
    return "does not fit"


def _heading(request: LayRequest) -> str:
    parts = [request.pattern.name]
    for one in request.selections:
        number = f", {one.garments} garments" if one.garments > 1 else ""
        parts.append(f"view {one.view}, size {one.size}{number}")
    return ", ".join(parts)


def _bolt_words(bolt: Bolt) -> str:
    width = format_width_both(bolt.width_mm, bolt.units)
    return f"{width} wide, {nap_word(nap=bolt.nap)} nap"


def _spread(request: LayRequest) -> str:
    tilt = f", tilt up to {request.rules.tilt_deg:g} degrees" if request.rules.tilt_deg else ""
    return f"{SPREAD_WORDS[request.rules.spread]}{tilt}"
