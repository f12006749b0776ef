"""Answers for people: tables and sentences on standard output, notes on standard error."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.compare import CompareRow
from nesting.answers.rows import finished_pieces, money
from nesting.answers.spare import spare_words
from nesting.cli.terminal import CleanConsole, clean_json, echo
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import SPREAD_WORDS, Spread
from nesting.cloth.words import cloth_name_words, cloth_words, nap_cell, nap_words
from nesting.engine import StoppedBy
from nesting.errors import SpreadRefusedError
from nesting.languages import ENGLISH, Words, marked
from nesting.lay import LayRequest, LayResult
from nesting.marker.marker import Marker
from nesting.plan.bounds import LowerBound
from nesting.plan.lay_plan import refuse_spread
from pieces.finding import Finding, Severity
from pieces.measures.format import format_both
from pieces.measures.widths import format_width, format_width_both

WIDE_COLUMNS = 110
"""From this width of the terminal both units stand on one line of a comparison."""

_STOP_WORDS = {
    StoppedBy.EFFORT: marked("all the work of this effort done"),
    StoppedBy.SECONDS: marked("time was up; another run may differ"),
    StoppedBy.REQUEST: marked("stopped at your request; this is the best marker found so far"),
    StoppedBy.PROVEN_BEST: marked("no layout spread this way can be shorter"),
}


def say(sentence: str) -> None:
    """Write a line for the person on standard error."""
    echo(sentence, err=True)


def note(sentences: Iterable[str]) -> None:
    """Write notes on standard error, a line each."""
    for sentence in sentences:
        say(f"note: {sentence}")


def print_json(answer: Any) -> None:
    """Print one JSON value on standard output."""
    echo(clean_json(answer))


def print_lay(
    request: LayRequest, result: LayResult, *, selvage_told: bool, words: Words = ENGLISH
) -> None:
    """Print a lay: the length to ask for first, then what it rests on."""
    table = Table(box=box.SIMPLE_HEAVY, show_header=False, pad_edge=False)
    table.add_column(style="bold", no_wrap=True)
    table.add_column()
    first, *more = _bought(request, result, words)
    table.add_row(*(Text(cell, style="bold green") for cell in first))
    for row in more:
        table.add_row(*map(Text, row))
    table.add_section()
    for row in _rests_on(request, result, words, selvage_told=selvage_told):
        table.add_row(*map(Text, row))
    console = CleanConsole()
    console.print(Text(_heading(request, words), style="bold"))
    console.print(table)
    if result.tried:
        console.print(_tried(request, result, words))


def _bought(request: LayRequest, result: LayResult, words: Words) -> Iterator[tuple[str, str]]:
    """Yield what to ask for, what it costs and which cloth it is, each with its name."""
    bolt, rules = request.bolt, result.marker.rules
    yield (
        words.say("Ask for"),
        words.figures(format_both(result.shop_length_mm, bolt.units, up=True)),
    )
    if bolt.price is not None:
        cost = money(bolt.price, bolt.price.cost(result.shop_length_mm))
        told = words.say("{cost} at {price}", cost=cost, price=bolt.price)
        yield words.say("Cost"), words.figures(told)
    spread = _spread(replace(request, rules=rules), words)
    cloth = cloth_name_words(request.cloth, words)
    yield words.say("Cloth"), f"{cloth}, {_bolt_words(bolt, words)}, {spread}"
    is_open = all(stretch.spread is Spread.OPEN for stretch in result.marker.stretches)
    if is_open and rules.spread is not Spread.OPEN:
        yield "", words.say("nothing goes through both layers, so all of it lies open")


def _rests_on(
    request: LayRequest, result: LayResult, words: Words, *, selvage_told: bool
) -> Iterator[tuple[str, str]]:
    """Yield what the length rests on, each with its name."""
    bolt = request.bolt

    def both(length_mm: float) -> str:
        return words.figures(format_both(length_mm, bolt.units))

    yield from cloth_words(bolt, words)
    yield words.say("Layout (marker) length"), both(result.marker_length_mm)
    if result.cut_length_mm != result.marker_length_mm:
        yield words.say("Cloth it takes"), both(result.cut_length_mm)
    yield words.say("To spare"), spare_words(result, words)
    for name, bound in _bounds(result, words):
        yield name, words.joined(":", both(bound.length_mm), bound.said(words))
    used = words.say("{share} of the usable cloth", share=f"{result.utilisation:.1%}")
    yield words.say("Utilisation"), words.figures(used)
    usable = words.figures(format_width_both(bolt.usable_width_mm, bolt.units))
    if not selvage_told:
        own = words.say("measure the usable width of your own bolt")
        usable = words.joined(";", usable, own)
    yield words.say("Usable width"), usable
    yield words.say("Pieces placed"), str(finished_pieces(result.marker))
    seconds = words.figures(f"{result.seconds:.1f} s")
    yield words.say("Search"), f"{seconds}, {words.say(_STOP_WORDS[result.stopped_by])}"


def _bounds(result: LayResult, words: Words) -> Iterator[tuple[str, LowerBound]]:
    """Yield what no layout can be shorter than, each with what it is true of."""
    if result.tried or result.marker.rules.spread is Spread.OPEN:
        yield words.say("Cannot be shorter than"), result.open_bound
        return
    yield words.say("Spread like this, not shorter than"), result.lower_bound
    yield words.say("Laid open, not shorter than"), result.open_bound


def _tried(request: LayRequest, result: LayResult, words: Words) -> Table:
    """Return the ways of spreading that were tried, what each takes or why it is refused."""
    units = request.bolt.units
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    for heading in (words.say("Folded or open"), words.say("Ask for"), words.say("Cloth it takes")):
        table.add_column(heading)
    for one in result.tried:
        is_best = one.spread is result.marker.rules.spread
        name = Text(words.say(SPREAD_WORDS[one.spread]), style="bold green" if is_best else "")
        if one.shop_length_mm is None or one.cut_length_mm is None:
            table.add_row(name, Text(words.say("no"), style="red"), Text(one.refusal))
        else:
            lengths = (one.shop_length_mm, one.cut_length_mm)
            told = (words.figures(format_both(length, units, up=True)) for length in lengths)
            table.add_row(name, *map(Text, told))
    return table


def print_compare(
    rows: Sequence[CompareRow], sentences: Sequence[str], words: Words = ENGLISH
) -> None:
    """Print a comparison: a line for each bolt, reasons for those refused, and the advice."""
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False, caption_justify="left")
    table.add_column(words.say("Width"), no_wrap=True)
    table.add_column(words.say("Nap"), no_wrap=True)
    is_best = any(row.request.rules.spread is Spread.BEST for row in rows)
    if is_best:
        table.add_column(words.say("Folded or open"), no_wrap=True)
    table.add_column(words.say("Ask for"), style="bold green")
    table.add_column(words.say("Layout (marker) length"))
    table.add_column(words.say("Used"), justify="right", no_wrap=True)
    is_folded = rows[0].request.rules.spread not in (Spread.OPEN, Spread.BEST)
    table.add_column(
        words.say("Spread so, not below") if is_folded else words.say("Cannot be below")
    )
    priced = any(row.request.bolt.price is not None for row in rows)
    if priced:
        table.add_column(words.say("Cost"), justify="right", no_wrap=True)
    console = CleanConsole()
    between = " (" if console.width >= WIDE_COLUMNS else "\n("
    for row in rows:
        cells = [cell.replace(" (", between) for cell in _cells(row, words)]
        if is_best:
            cells.insert(2, _best_words(row, words))
        table.add_row(*(Text(cell) for cell in (cells if priced else cells[:-1])))
    reasons = _reasons(rows, words)
    if reasons:
        table.caption = Text("\n".join(reasons), style="red")
    console.print(Text(_heading(rows[0].request, words), style="bold"))
    console.print(Text(f"{rows[0].request.cloth}, {_spread(rows[0].request, words)}"))
    console.print(table)
    for sentence in sentences:
        console.print(Text(sentence))


def print_check(marker: Marker, findings: Sequence[Finding]) -> None:
    """Print what the check of a marker found."""
    console = CleanConsole()
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
    console = CleanConsole()
    for finding in findings:
        colour = "red" if finding.severity is Severity.ERROR else "yellow"
        line = Text(f"{finding.severity} ", style=f"bold {colour}")
        line.append(f"{finding.code}: ", style="bold")
        line.append(f"{finding.sentence}.", style="not bold")
        console.print(line)


def print_sentence(sentence: str) -> None:
    """Print one sentence, wrapped at the width of the terminal."""
    CleanConsole().print(Text(sentence))


def print_written(names: Iterable[object]) -> None:
    """Print which files were written."""
    for name in names:
        echo(f"Written: {name}")


def row_heading(request: LayRequest, words: Words = ENGLISH) -> str:
    """Return the words that tell one bolt of a comparison from another."""
    bolt = request.bolt
    return f"{words.figures(format_width(bolt.width_mm, bolt.units))}, {nap_words(bolt, words)}"


def stop_note(results: Iterable[LayResult]) -> list[str]:
    """Return a note if the person stopped a search that would have gone on."""
    if any(result.stopped_by is StoppedBy.REQUEST for result in results):
        return ["stopped at your request; the best found so far is kept"]
    return []


def _reasons(rows: Sequence[CompareRow], words: Words) -> list[str]:
    """Return why bolts were refused, each reason once."""
    refused: dict[str, list[str]] = {}
    for row in rows:
        if row.result is None:
            refused.setdefault(row.refusal, []).append(row_heading(row.request, words))
    return [f"{'; '.join(bolts)}: {reason}." for reason, bolts in refused.items()]


def _best_words(row: CompareRow, words: Words) -> str:
    """Return which way of spreading was the best of a row, in a word."""
    if row.result is None:
        return ""
    return words.say(SPREAD_WORDS[row.result.marker.rules.spread])


def _cells(row: CompareRow, words: Words) -> tuple[str, ...]:
    bolt, result = row.request.bolt, row.result
    width = words.figures(format_width(bolt.width_mm, bolt.units))
    if result is None:
        return width, nap_cell(bolt, words), _no_words(row, words), "", "", "", ""
    cells = (
        format_both(result.shop_length_mm, bolt.units, up=True),
        format_both(result.marker_length_mm, bolt.units),
        f"{result.utilisation:.1%}",
        format_both(result.lower_bound.length_mm, bolt.units),
        "" if row.cost is None else money(bolt.price, row.cost),
    )
    return width, nap_cell(bolt, words), *map(words.figures, cells)


def _no_words(row: CompareRow, words: Words) -> str:
    """Return in a few words why there is no lay; the reason stands below the table."""
    rules = row.request.rules
    try:
        if rules.spread is not Spread.BEST:
            refuse_spread(row.request.bolt, rules)
    except SpreadRefusedError:
        return words.say("not spread so")
    return words.say("does not fit")


def _heading(request: LayRequest, words: Words) -> str:
    parts = [request.pattern.name]
    for one in request.selections:
        parts.append(words.say("view {view}, size {size}", view=one.view, size=one.size))
        if one.garments > 1:
            parts.append(words.say("{count} garments", count=one.garments))
    return ", ".join(parts)


def _bolt_words(bolt: Bolt, words: Words = ENGLISH) -> str:
    width = words.figures(format_width_both(bolt.width_mm, bolt.units))
    return f"{words.say('{width} wide', width=width)}, {nap_words(bolt, words)}"


def _spread(request: LayRequest, words: Words) -> str:
    told = words.say(SPREAD_WORDS[request.rules.spread])
    if request.rules.tilt_deg:
        degrees = words.figures(f"{request.rules.tilt_deg:g}")
        told += ", " + words.say("tilt up to {degrees} degrees", degrees=degrees)
    return told
