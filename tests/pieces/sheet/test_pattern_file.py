"""Pattern sheets are read, refused with a clear sentence, and written without loss."""

import dataclasses
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pieces.errors import PatternFileError
from pieces.grainline import Grain
from pieces.marks import DrillHole, MatchPoint, MatchWay, Notch
from pieces.outline.polygon import area_mm2
from pieces.pattern import Notion, NotionKind, Pattern
from pieces.piece import Cut
from pieces.shaping.unfold import unfold
from pieces.sheet.pattern_file import (
    LARGEST_BYTES,
    MOST_VERTICES,
    format_pattern,
    parse_pattern,
    read_pattern,
    write_pattern,
)
from pieces.sheet.pattern_sheet import read_sheet
from pieces.wearer import ChildWearer, GarmentKind
from tests.places import DOCS
from tests.strategies import patterns

MANUAL = DOCS / "pattern-file.md"
BLOCKS = dict(re.findall(r"```(\w+)\n(.*?)```", MANUAL.read_text(encoding="utf-8"), re.DOTALL))
EXAMPLE = BLOCKS["toml"]


def changed(old: str, new: str) -> str:
    """Return the manual's example with one place changed, which must be there."""
    assert old in EXAMPLE
    return EXAMPLE.replace(old, new, 1)


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(patterns())
def test_write_then_read_gives_an_equal_pattern(pattern: Pattern) -> None:
    """Whatever names, digits and marks a pattern has, its sheet holds all of them."""
    assert parse_pattern(format_pattern(pattern)) == pattern


def test_the_example_of_the_manual_is_read_as_it_says() -> None:
    """Every value of the example arrives: 25 cm are 250 mm, 1 3/4 yd are 1600.2 mm."""
    pattern = parse_pattern(EXAMPLE)

    body, tab = pattern.piece("body"), pattern.piece("tab")
    assert (pattern.name, pattern.sizes) == ("Laundry bag", ("S", "L"))
    assert pattern.seam_allowance_mm == 15.0
    assert pattern.notions == (
        Notion(
            name="cord",
            detail="cotton",
            lengths_mm={"S": 1200.0, "L": 1600.2},
            kind=NotionKind.CORD,
            size_mm=6.0,
        ),
        Notion(name="eyelet", views=("A",), counts={"S": 2, "L": 2}),
    )
    assert body.shape("S").outline_mm.tolist() == [[0, 0], [250, 0], [250, 600], [0, 600]]
    assert body.shape("S").fold_edge_mm == ((0.0, 0.0), (0.0, 600.0))
    assert body.shape("S").notches == (Notch((250.0, 500.0)),)
    assert area_mm2(unfold(body.shape("L")).outline_mm) == 600.0 * 700.0
    assert body.cuts == (Cut("shell", 2),)
    assert tab.cuts == (Cut("shell", 2, pair=True),)
    assert tab.grain is Grain.CROSSWISE
    assert tab.shape("S").match_points == (MatchPoint("side seam", (0.0, 25.0)),)
    assert tab.shape("L").drill_holes == (DrillHole((40.0, 25.0)),)
    assert tab.shape("L").internal_lines[0].points_mm.tolist() == [[5.0, 5.0], [5.0, 45.0]]


def test_what_a_learner_needs_is_read() -> None:
    """Which cloth to ask for, how another would hang, and thread without an amount."""
    thread = '[[notions]]\nname = "eyelet"\nviews = ["A"]\ncount = 2'
    pattern = parse_pattern(changed(thread, '[[notions]]\nname = "thread"\nkind = "thread"'))

    assert pattern.cloth("shell").ask_for.startswith("Cotton drill, since")
    assert pattern.cloth("shell").hang.startswith("A slippery cloth slides")
    assert pattern.notions[1] == Notion(name="thread", kind=NotionKind.THREAD)


def test_a_sheet_for_children_says_for_which() -> None:
    """Ages and garment arrive; a sheet for adults, and one that says nothing, have neither."""
    head = 'format = 1\nwearer = "child"\nages = [3, 8]\n'

    assert parse_pattern(EXAMPLE).child is None
    assert parse_pattern(changed("format = 1", 'format = 1\nwearer = "adult"')).child is None
    assert parse_pattern(changed("format = 1\n", head)).child == ChildWearer(3, 8)
    sleepwear = parse_pattern(changed("format = 1\n", head + 'garment = "sleepwear"\n')).child
    assert sleepwear == ChildWearer(3, 8, GarmentKind.SLEEPWEAR)


def test_inches_are_read_as_25_point_4_mm() -> None:
    """In a sheet in inches, 25 is 635 mm."""
    pattern = parse_pattern(changed('units = "cm"', 'units = "in"'))

    assert pattern.piece("body").shape("S").outline_mm[1].tolist() == [635.0, 0.0]


def test_a_title_left_out_is_the_name() -> None:
    """A piece without title is called by its name."""
    assert parse_pattern(changed('title = "Tab"\n', "")).piece("tab").title == "tab"


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("[pieces.tab.sizes.S]", '[pieces.tab.sizes."S\\n"]', 'piece "tab" has no size "S"'),
        ('views = ["A"]', 'views = ["B\\nC"]', 'is for view "B\\nC", which does not exist'),
        (
            "[[0, 0], [25, 0], [25, 60], [0, 60]]",
            "[[0, 0], [24, 68], [24, 0], [0, 68]]",
            'piece "body", size S: outline crosses itself near (120, 340) mm',
        ),
        ("count = 2, pair", "count = -1, pair", 'piece "tab", cut "shell": count -1 is below 1'),
        ("count = 2, pair", "count = 3, pair", 'piece "tab", cut "shell": count 3 is odd'),
        ("count = 2, pair", "pair", 'piece "tab", cut "shell": key "count" is missing'),
        ("count = 2, pair", "count = 2, pear", 'unknown key "pear"; did you mean "pair"?'),
        ("cut.shell = 2", 'cut.shell = "2"', 'cut "shell": this must be a whole number, not "2"'),
        ("cut.shell = 2", "cut.shell = true", "must be a whole number, not true"),
        ("cut.shell = 2", "", 'piece "body": key "cut" is missing'),
        ("cut.shell = 2", "cut.lining = 2", 'is cut from "lining", which the pattern does not'),
        ("cut.shell = 2", "cut = {}", 'piece "body" is cut from no cloth'),
        (
            "cut.shell = 2",
            "cut.shell = { count = 2, pair = true }",
            'piece "body" is a half piece on a fold',
        ),
        ("grainline = [[10, 10]", "grainlin = [[10, 10]", 'did you mean "grainline"?'),
        ("grainline = [[10, 10], [10, 50]]", "", 'piece "body", size S: key "grainline" is'),
        ("[[10, 10], [10, 50]]", "[[10, 10]]", "grainline must be two points"),
        ("[[10, 10], [10, 50]]", "[[10, 10], [10, 10]]", "size S: grainline from"),
        (
            "notches = [[25, 50]]",
            "notches = [[25, 50, 1]]",
            "with a point and no comma inside a number",
        ),
        ("notches = [[25, 50]]", 'notches = [[25, "a"]]', "notches point 1 y must be a number"),
        ("notches = [[25, 50]]", "notches = [[nan, 50]]", "point 1 x must be a finite number"),
        ("notches = [[25, 50]]", "notches = 7", "notches must be a list in [ ], not 7"),
        ("[[25, 50]]", f"[[1{'0' * 400}, 0]]", "point 1 x must be a number"),
        ("[[25, 50]]", f"[[1{'0' * 5000}, 0]]", "a number of thousands of digits"),
        ("[[0.5, 0.5], [0.5, 4.5]]", "[]", 'internal line "stitching line" needs at least two'),
        ("[[0, 0], [25, 0], [25, 60], [0, 60]]", "[]", "size S: outline has 0 different"),
        ('{ "side seam" = [0, 2.5] }', "[[0, 2.5]]", "match_points must be a table"),
        ('grain = "crosswise"', 'grain = "sideways"', "grain must be one of 'lengthwise'"),
        ('grain = "crosswise"', 'grain = "free"\none_way = 1', "one_way must be true or false"),
        ('title = "Tab"', "title = 3", 'piece "tab": title must be text in quotes, not 3'),
        ("[pieces.tab.sizes.S]", "[pieces.tab.sizes.M]", 'piece "tab" has no size "S"'),
        ('pieces = ["body", "tab"]', 'pieces = ["body", "tabb"]', 'view "A" uses "tabb"'),
        ('pieces = ["body", "tab"]', "", 'view "A": key "pieces" is missing'),
        ("[cloths.shell]", "[cloth.shell]", 'unknown key "cloth"; did you mean "cloths"?'),
        ("[cloths.shell]", "[cloths]\nshell = 3\n[cloths.b]", 'cloth "shell": this must be a ta'),
        ("count = 2\n", 'count = "two"\n', 'notion "eyelet": count must be a whole number'),
        ("count = 2\n", "count = 0\n", 'notion "eyelet", size S: amount 0 is not above zero'),
        ("count = 2\n", "count = { S = 2 }\n", 'notion "eyelet" has no size "L"'),
        ("count = 2\n", 'count = { S = 2, L = "x" }\n', 'count "L" must be a whole number'),
        ("count = 2\n", "", 'notion "eyelet" needs either a count or a length'),
        ('"1.2 m"', '"12 parsecs"', 'notion "cord": "12 parsecs" has the unknown unit'),
        ('name = "eyelet"', "", 'notion number 2: key "name" is missing'),
        ('kind = "cord"', 'kind = "rope"', "kind must be one of 'button', 'elastic', 'cord'"),
        ('size = "6 mm"', 'size = "6"', 'notion "cord": "6" has no unit'),
        ('size = "6 mm"', 'size = "0 mm"', 'notion "cord": length "0 mm" is zero'),
        ('size = "6 mm"', "size = 6", 'notion "cord": size must be text in quotes, not 6'),
        ("Wash the cloth", 'a"\nwearer = "baby', "wearer must be one of 'adult' or 'child'"),
        ("format = 1", 'format = 1\nwearer = "child"', "needs the ages the sizes are for"),
        ("format = 1", "format = 1\nages = [3, 8]", "ages is only for patterns for children; add"),
        ("format = 1", 'format = 1\ngarment = "sleepwear"', "garment is only for patterns for chi"),
        (
            "format = 1",
            'format = 1\nwearer = "child"\nages = [8, 3]',
            "ages 8 to 3 are no range for a child; give the youngest, then the oldest",
        ),
        (
            "format = 1",
            'format = 1\nwearer = "child"\nages = [3]',
            "ages must be two whole numbers [youngest, oldest], not [3]",
        ),
        (
            "format = 1",
            'format = 1\nwearer = "child"\nages = [3, 8]\ngarment = "coat"',
            "garment must be one of 'sleepwear', 'upper outerwear'",
        ),
        ('"15 mm"', '"15"', 'seam_allowance: "15" has no unit'),
        ('"15 mm"', "15", "seam_allowance must be text in quotes, not 15"),
        ('units = "cm"', 'units = "yd"', "units must be one of 'mm', 'cm' or 'in'"),
        ('units = "cm"', "", 'key "units" of the sheet is missing'),
        ("format = 1", "format = 2", "the sheet has format 2, and this version reads format 1"),
        ("format = 1", "format = 0", "write format = 1"),
        ("format = 1", 'format = "1"', "format must be a whole number"),
        ("format = 1", "", 'key "format" of the sheet is missing'),
        ("format = 1", "format = = 1", "line 1, column 10 is not valid TOML"),
        ("format = 1", 'format = 1\nname = "a"', "line 3, column"),
        ('name = "Laundry bag"', f"name = {'[' * 3000}{']' * 3000}", "nested too deeply"),
    ],
)
def test_a_faulty_sheet_is_refused_with_the_place(old: str, new: str, sentence: str) -> None:
    """One sentence names the table and the value, in the words of the sheet."""
    with pytest.raises(PatternFileError) as refusal:
        parse_pattern(changed(old, new))

    assert sentence in str(refusal.value)
    assert "\n" not in str(refusal.value)


@pytest.mark.parametrize("line", BLOCKS["text"].splitlines())
def test_the_errors_shown_in_the_manual_are_the_real_ones(line: str) -> None:
    """Each sentence of the manual comes from the fault it tells of."""
    told = line.removeprefix("bag.toml: ")
    faults = {
        "line 12": "\n" * 10 + "a = 1\nunit = cm\n",
        "outline crosses": changed(
            "[[0, 0], [25, 0], [25, 60], [0, 60]]", "[[0, 0], [24, 68], [24, 0], [0, 68]]"
        ),
        "count -1": changed("count = 2, pair", "count = -1, pair"),
        "grainlin": EXAMPLE.replace("grainline = [[2, 1]", "grainlin = [[2, 1]").replace(
            "grainlin =", "grainline =", 1
        ),
        "tabb": changed('pieces = ["body", "tab"]', 'pieces = ["body", "tabb"]'),
        "15": changed('"15 mm"', '"15"'),
        "format 2": changed("format = 1", "format = 2"),
    }
    sheet = next(sheet for words, sheet in faults.items() if words in told)

    with pytest.raises(PatternFileError) as refusal:
        parse_pattern(sheet)
    assert str(refusal.value) == told


PLACES = [
    *(("format",), ("sizes",), ("note",), ("notions",), ("pieces",), ("cloths",), ("units",)),
    *(("views", "A"), ("notions", 0), ("notions", 1, "count"), ("pieces", "tab", "cut")),
    *(("pieces", "tab", "cut", "shell"), ("pieces", "tab", "sizes"), ("pieces", "tab", "extra")),
    ("pieces", "tab", "sizes", "L", "outline"),
    ("pieces", "tab", "sizes", "L", "outline", 1),
    ("pieces", "tab", "sizes", "L", "match_points"),
    ("pieces", "tab", "sizes", "L", "internal_lines", 0),
]
odd_values = st.recursive(
    st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner),
    max_leaves=6,
)


@settings(deadline=None, max_examples=200)
@given(st.sampled_from(PLACES), odd_values)
def test_an_odd_value_anywhere_is_taken_or_refused(
    place: tuple[str | int, ...], value: object
) -> None:
    """Whatever stands in whatever place, the answer is a sheet or a refusal of one line."""
    tables: Any = tomllib.loads(EXAMPLE)
    table = tables
    for key in place[:-1]:
        table = table[key]
    table[place[-1]] = value

    told = ""
    try:
        read_sheet(tables)
    except PatternFileError as refusal:
        told = str(refusal)
    assert "\n" not in told
    assert "pydantic" not in told.lower()


def test_a_file_is_written_and_read(tmp_path: Path) -> None:
    """The file holds the pattern, and nothing else is left in the folder."""
    pattern = parse_pattern(EXAMPLE)
    path = tmp_path / "bag.toml"
    write_pattern(pattern, path)

    assert read_pattern(path) == pattern
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_from_another_editor_is_read(tmp_path: Path) -> None:
    """A byte order mark and Windows line ends do no harm."""
    path = tmp_path / "bag.toml"
    path.write_bytes(b"\xef\xbb\xbf" + EXAMPLE.replace("\n", "\r\n").encode())

    assert read_pattern(path) == parse_pattern(EXAMPLE)


def test_files_that_cannot_be_read_are_refused(tmp_path: Path) -> None:
    """A missing file, a folder, another encoding and an endless file are told apart."""
    latin, large = tmp_path / "latin.toml", tmp_path / "large.toml"
    latin.write_bytes('format = 1\nname = "Blus\xe9"\n'.encode("latin-1"))
    with large.open("wb") as file:
        file.truncate(LARGEST_BYTES + 1)

    for path, sentence in (
        (tmp_path / "none.toml", "none.toml does not exist"),
        (tmp_path, "is a folder"),
        (latin, "latin.toml, line 2: it is not text in UTF-8"),
        (large, "larger than 20 MB"),
        (tmp_path / "a\0b", "cannot be read"),
    ):
        with pytest.raises(PatternFileError, match=sentence):
            read_pattern(path)


def test_a_refusal_of_a_file_names_the_file(tmp_path: Path) -> None:
    """Among several sheets, a person must know which one is meant."""
    path = tmp_path / "bag.toml"
    path.write_text(changed("format = 1", "format = 9"), encoding="utf-8")

    with pytest.raises(PatternFileError, match=r"bag\.toml: the sheet has format 9"):
        read_pattern(path)


@pytest.mark.slow
def test_an_outline_of_too_many_vertices_is_refused() -> None:
    """The limit of 100,000 vertices is told before any geometry is done."""
    many = "[" + "[0, 0], " * (MOST_VERTICES + 1) + "]"

    with pytest.raises(PatternFileError, match="100,001 vertices, more than 100,000"):
        parse_pattern(changed("[[0, 0], [25, 0], [25, 60], [0, 60]]", many))


def test_two_match_points_of_one_name_cannot_be_written() -> None:
    """A sheet keeps one match point of each name in a shape."""
    pattern = parse_pattern(EXAMPLE)
    tab = pattern.piece("tab")
    twice = dataclasses.replace(
        tab.shape("S"), match_points=(MatchPoint("a", (0, 0)), MatchPoint("a", (1, 1)))
    )
    tab = dataclasses.replace(tab, shapes={**tab.shapes, "S": twice})
    pattern = dataclasses.replace(pattern, pieces=(pattern.piece("body"), tab))

    with pytest.raises(PatternFileError, match='piece "tab", size S: two match points have one'):
        format_pattern(pattern)


def test_what_no_sheet_can_hold_is_not_written(tmp_path: Path) -> None:
    """A mark nowhere, an endless length and a broken letter are refused; no file appears."""
    pattern = parse_pattern(EXAMPLE)
    tab = pattern.piece("tab")
    nowhere = dataclasses.replace(tab.shape("S"), notches=(Notch((float("nan"), 0.0)),))
    lost = dataclasses.replace(tab, shapes={**tab.shapes, "S": nowhere})
    endless = Notion(name="cord", lengths_mm={"S": 1e9, "L": 1.0})

    for faulty, sentence in (
        (dataclasses.replace(pattern, pieces=(pattern.piece("body"), lost)), "must be finite"),
        (dataclasses.replace(pattern, notions=(endless,)), 'notion "cord": .* above 10 km'),
        (dataclasses.replace(pattern, name="\ud800"), "broken letter"),
    ):
        with pytest.raises(PatternFileError, match=sentence):
            write_pattern(faulty, tmp_path / "bag.toml")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_missing_is_told(tmp_path: Path) -> None:
    """Writing into no folder is refused with the path."""
    with pytest.raises(PatternFileError, match=r"bag\.toml cannot be written: No such file"):
        write_pattern(parse_pattern(EXAMPLE), tmp_path / "none" / "bag.toml")


def test_long_outlines_are_written_several_points_a_line() -> None:
    """A person can read the file: no line is longer than 100 letters."""
    points = ", ".join(f"[{x}, {60 + x % 2}]" for x in range(24, 0, -1))
    pattern = parse_pattern(
        changed("[[0, 0], [25, 0], [25, 60], [0, 60]]", f"[[0, 0], [25, 0], [25, 60], {points}, "
                "[0, 60]]")
    )  # fmt: skip
    text = format_pattern(pattern)

    assert max(map(len, text.splitlines())) <= 100
    assert any(line.count("],") > 4 for line in text.splitlines())


def test_ways_of_matching_are_read() -> None:
    """The side seam of the example meets along; a point it says nothing of does so as well."""
    both = parse_pattern(changed('"side seam" = "along"', '"side seam" = "both"'))

    assert parse_pattern(EXAMPLE).matching == {"side seam": MatchWay.ALONG}
    assert both.matching == {"side seam": MatchWay.BOTH}


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ('"side seam" = "diagonal"', 'matching "side seam": this must be one of .*"diagonal"'),
        ('"side seem" = "both"', 'matching names "side seem".*its match points are "side seam"'),
        ('"side seam" = true', 'matching "side seam"'),
    ],
)
def test_a_wrong_way_of_matching_is_told(entry: str, sentence: str) -> None:
    """An unknown way, or a point that no piece has."""
    with pytest.raises(PatternFileError, match=sentence):
        parse_pattern(changed('"side seam" = "along"', entry))
