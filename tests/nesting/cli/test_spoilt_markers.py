"""Whatever becomes of a marker file, every command that reads it ends with 0, 1 or 2."""

import copy
import json
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nesting.cli.app import main
from nesting.marker.marker_file import format_marker
from tests.nesting.cli.conftest import Nesting
from tests.small_patterns import folded_lay

Sheet = dict[str, Any]

STRANGE = (
    *(None, True, 0, -1, 3, 10**6, 10**400, 0.5, -0.0, 1e-300, 1e7, 1e308, -1e308),
    *("", "M", "open", "best", "crosswise", "double", "bias", "\ud800", "\x00", "\n", "\x1b[2J"),
    *("£ 1/m", "é" * 300, [], {}, [[0, 0]], [[0, 0], [1, 0], [0, 1]], [0, 0], {"side": "both"}),
)
FILES = ("m.svg", "true.pdf", "m.csv", "e.dxf", "e.svg")
COMMANDS = (
    ("check", "m.json"),
    ("check", "m.json", "--json", "--width", "30cm", "--gap", "1mm"),
    ("draw", "m.json", "--out", "m.svg", "--by-tape", "m.csv"),
    ("export", "m.json", "--out", "e.svg"),
    ("export", "m.json", "--out", "e.dxf"),
)
TRUE_SIZE = ("draw", "m.json", "--out", "true.pdf", "--true-size", "--paper", "a0")


def small_sheet() -> Sheet:
    """Return a marker file of a half piece, a pair and a single one, as plain values."""
    sheet: Sheet = json.loads(format_marker(folded_lay()))
    return sheet


def places(value: Any, before: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the way to every value of a sheet but the sheet itself; of points, the first two."""
    inner: Iterator[Any] = iter(())
    if isinstance(value, dict):
        inner = iter(value)
    elif isinstance(value, list):
        inner = iter(range(min(len(value), 2)))
    for key in inner:
        yield (*before, key)
        yield from places(value[key], (*before, key))


PLACES = tuple(places(small_sheet()))


def spoil(sheet: Sheet, way: tuple[Any, ...], how: str, value: Any) -> None:
    """Put a strange value, leave one out, double it, or take it from elsewhere in the sheet."""
    holder: Any = sheet
    try:
        for key in way[:-1]:
            holder = holder[key]
        if how == "put":
            holder[way[-1]] = copy.deepcopy(value)
        elif how == "drop":
            del holder[way[-1]]
        elif how == "double" and isinstance(holder[way[-1]], list):
            holder[way[-1]] = holder[way[-1]] * 2
        elif how == "nudge" and isinstance(holder[way[-1]], float | int):
            holder[way[-1]] = holder[way[-1]] * 1.01 + 0.3
    except (KeyError, IndexError, TypeError):
        return  # an earlier change took the place away


CHANGES = st.tuples(
    st.sampled_from(PLACES), st.sampled_from(("put", "put", "drop", "double", "nudge")),
    st.sampled_from(STRANGE),
)  # fmt: skip


def ends_well(folder: Path, sheet: Sheet, commands: tuple[tuple[str, ...], ...]) -> None:
    """Run the commands on a spoilt file; each ends with 0, 1 or 2."""
    (folder / "m.json").write_text(json.dumps(sheet), encoding="utf-8")
    for typed in commands:
        for name in FILES:
            (folder / name).unlink(missing_ok=True)
        code = main(typed)
        assert code in (0, 1, 2), (typed, code)
        if code == 2:
            assert not any((folder / name).exists() for name in FILES), typed


@pytest.mark.slow
@settings(
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(changes=st.lists(CHANGES, min_size=1, max_size=3))
def test_a_spoilt_marker_file_is_told_or_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, changes: list[tuple[Any, ...]]
) -> None:
    """One to three values replaced, dropped, doubled or nudged."""
    monkeypatch.chdir(tmp_path)
    sheet = small_sheet()
    for way, how, value in changes:
        spoil(sheet, way, how, value)

    ends_well(tmp_path, sheet, COMMANDS)


@pytest.mark.slow
def test_every_value_of_a_marker_file_may_be_strange(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each place once with each of a few values, and now and then pages at true size."""
    monkeypatch.chdir(tmp_path)
    draw = random.Random(1)
    for number, way in enumerate(PLACES):
        for value in draw.sample(STRANGE, 4):
            sheet = small_sheet()
            spoil(sheet, way, "put", value)
            ends_well(tmp_path, sheet, (*COMMANDS[:3], *([TRUE_SIZE] if number % 9 == 0 else [])))


def changed(change: Callable[[Sheet], object]) -> Sheet:
    """Return the small sheet with one change."""
    sheet = small_sheet()
    change(sheet)
    return sheet


BROKEN = {
    "nothing laid": changed(lambda sheet: sheet.update(placements=[])),
    "no length": changed(lambda sheet: sheet.update(length_mm=0)),
    "an unknown piece": changed(lambda sheet: sheet["placements"][0].update(item="hood M")),
    "no stretches": changed(lambda sheet: sheet.update(stretches=[])),
    "stretch 99": changed(lambda sheet: sheet["placements"][0].update(stretch=99)),
    "stretch -1": changed(lambda sheet: sheet["placements"][0].update(stretch=-1)),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_marker_is_told_by_the_check_and_refused_by_the_rest(
    nesting: Nesting, folder: Path, name: str
) -> None:
    """Exit code 1, and 2 in one sentence; nothing is written."""
    (folder / "m.json").write_text(json.dumps(BROKEN[name]), encoding="utf-8")

    assert nesting("check", "m.json").code == 1
    for typed in (*COMMANDS[2:], TRUE_SIZE):
        answer = nesting(*typed)
        assert (answer.code, answer.err.count("\n")) == (2, 1), (typed, answer.err)
        assert "nesting check" in answer.err
    assert not any((folder / name).exists() for name in FILES)


@pytest.mark.parametrize("gap_mm", [0.0, 5.0])
def test_an_empty_marker_is_a_finding(nesting: Nesting, folder: Path, gap_mm: float) -> None:
    """With a gap as without; so is an empty cut list."""
    sheet = changed(lambda sheet: sheet.update(placements=[], items=[]))
    sheet["rules"]["gap_mm"] = gap_mm
    (folder / "m.json").write_text(json.dumps(sheet), encoding="utf-8")

    found = nesting("check", "m.json", "--json")

    assert found.code == 1
    codes = [one["code"] for one in found.json["findings"]]
    assert codes.count("empty-marker") == 2


def test_half_a_letter_is_refused(nesting: Nesting, folder: Path) -> None:
    """JSON can spell an unpaired surrogate, and no file can hold it."""
    sheet = changed(lambda sheet: sheet["items"][0].update(title="Back \ud800"))
    (folder / "m.json").write_text(json.dumps(sheet), encoding="utf-8")

    for typed in (*COMMANDS, TRUE_SIZE):
        answer = nesting(*typed)
        assert answer.code == 2
        assert "half a letter" in answer.err
