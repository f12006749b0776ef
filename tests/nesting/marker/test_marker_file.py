"""The marker file: written and read back equal, and refused with a clear word when spoilt."""

import json
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Axis, GivenUp, Repeat
from nesting.errors import MarkerFileError
from nesting.marker.marker import Marker
from nesting.marker.marker_file import format_marker, parse_marker, read_marker, write_marker
from pieces.marks import MatchWay
from pieces.measures.price import Price
from tests.small_patterns import folded_lay


@pytest.fixture(scope="module")
def marker() -> Marker:
    """Return a folded lay with a half piece, a pair and a single piece, on a priced bolt."""
    laid = folded_lay()
    return replace(laid, bolt=replace(laid.bolt, price=Price("£", Decimal("12.50"), "yd")))


def test_a_marker_read_back_is_equal(marker: Marker, tmp_path: Path) -> None:
    """Every number survives exactly."""
    write_marker(marker, tmp_path / "marker.json")

    assert read_marker(tmp_path / "marker.json") == marker
    assert [path.name for path in tmp_path.iterdir()] == ["marker.json"]


def test_real_cloth_survives_as_well(marker: Marker) -> None:
    """Repeat, flaws, shrinkage, ends, garments, ways of matching and matches given up."""
    bolt = Bolt(
        width_mm=300.0,
        shop_step_mm=None,
        repeat=Repeat(along_mm=10.1, across_mm=20.2, even=False),
        cut_on_repeat=True,
        flaws=(Flaw(at_mm=1.0, across_mm=2.0, long_mm=3.0, wide_mm=4.0),),
        shrink_along=0.03,
        shrink_across=0.02,
        end_allowance_mm=25.4,
        length_left_mm=2743.2,
    )
    real = replace(
        marker,
        bolt=bolt,
        items=tuple(replace(item, garments=(1, 2)) for item in marker.items),
        placements=tuple(replace(at, garment=2) for at in marker.placements),
        matching={"side": MatchWay.BOTH, "hem": MatchWay.NONE},
        given_up=(GivenUp("back M", "side", Axis.ACROSS, "it cannot be"),),
    )

    assert parse_marker(format_marker(real)) == real


def test_a_file_of_version_one_is_still_read(marker: Marker) -> None:
    """It has plain cloth: no repeat, no flaws, nothing shrinks, and garments are not told apart."""
    sheet = json.loads(format_marker(marker))
    sheet["version"] = 1
    for name in ("matching", "given_up", "bought"):
        del sheet[name]
    for name in ("repeat", "cut_on_repeat", "flaws", "shrink_along", "shrink_across",
                 "end_allowance_mm", "length_left_mm"):  # fmt: skip
        del sheet["bolt"][name]
    for item in sheet["items"]:
        del item["garments"]
    for placement in sheet["placements"]:
        del placement["garment"]

    assert parse_marker(json.dumps(sheet)) == marker


@pytest.mark.parametrize("bought", [True, False])
def test_a_file_that_says_whether_a_repeat_was_bought_keeps_its_length(
    marker: Marker, bought: bool
) -> None:
    """Files of before say ``start_on_repeat`` where one repeat was bought beside."""
    striped = replace(marker, bolt=replace(marker.bolt, repeat=Repeat(along_mm=20.0)))
    sheet = json.loads(format_marker(striped))
    del sheet["bolt"]["cut_on_repeat"]
    sheet["bolt"]["start_on_repeat"] = bought

    assert parse_marker(json.dumps(sheet)).bolt.extra_repeat_mm == (20.0 if bought else 0.0)


def test_a_file_says_what_is_bought(marker: Marker) -> None:
    """Cut length, the repeat to begin on and shop length, as they are asked for at the counter."""
    bolt = replace(marker.bolt, shrink_along=0.1, repeat=Repeat(along_mm=50.0))
    real = replace(marker, bolt=bolt, length_mm=900.0)

    read = parse_marker(format_marker(real))

    assert read.bought is not None
    assert read.bought.cut_length_mm == pytest.approx(1050.0)
    assert read.bought.begin_on_repeat_mm == 50.0
    assert read.bought.shop_length_mm == pytest.approx(10 * 114.3)
    assert read == real


def test_a_file_of_version_two_is_read_and_does_not_say_what_is_bought(marker: Marker) -> None:
    """So the check does not ask it; a file of version 3 has to say."""
    sheet = json.loads(format_marker(marker))
    del sheet["bought"]
    sheet["version"] = 2

    read = parse_marker(json.dumps(sheet))

    assert read == marker
    assert read.bought is None
    assert check_marker(read) == ()
    sheet["version"] = 3
    with pytest.raises(MarkerFileError, match='"bought" is missing'):
        parse_marker(json.dumps(sheet))


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("cut_length_mm", "wrong-cut-length"),
        ("begin_on_repeat_mm", "wrong-cut-length"),
        ("shop_length_mm", "wrong-shop-length"),
    ],
)
def test_what_is_said_to_be_bought_is_reckoned_anew(marker: Marker, name: str, code: str) -> None:
    """A tampered number is told, and so is a step too few for a longer marker."""
    sheet = json.loads(format_marker(marker))
    sheet["bought"][name] += 25.0
    assert [one.code for one in check_marker(parse_marker(json.dumps(sheet)))] == [code]
    sheet = json.loads(format_marker(marker))
    sheet["bolt"]["end_allowance_mm"] = 500.0
    told = {one.code for one in check_marker(parse_marker(json.dumps(sheet)))}
    assert told == {"wrong-cut-length", "wrong-shop-length"}


def remove(key: str) -> Callable[[dict[str, Any]], None]:
    """Return a change that takes a key out."""
    return lambda sheet: sheet.pop(key)


def put(value: Any, *keys: Any) -> Callable[[dict[str, Any]], None]:
    """Return a change that sets a value deep in the sheet."""

    def change(sheet: dict[str, Any]) -> None:
        inner: Any = sheet
        for key in keys[:-1]:
            inner = inner[key]
        inner[keys[-1]] = value

    return change


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (remove("bolt"), 'key "bolt" is missing'),
        (remove("version"), "version"),
        (put("layout", "kind"), "kind"),
        (put(99, "version"), "version 99"),
        (put(0, "version"), "version 0"),
        (put("Back \ud800", "items", 0, "title"), "half a letter"),
        (put(-1, "bought", "shop_length_mm"), "shop_length_mm"),
        (put("blue", "colour"), 'unknown key "colour"'),
        (put("long", "length_mm"), 'length_mm must be a number, not "long"'),
        (put(-5, "length_mm"), "length_mm must be at least 0, not -5"),
        (put(-5, "bolt", "width_mm"), "width"),
        (put("12.50", "bolt", "price"), "price"),
        (put("round", "items", 0, "grain"), "grain"),
        (put([[0, 0], [1, 1]], "items", 0, "shape", "outline_mm"), "at least 3"),
        (put([[0, 0], [9, 9], [9, 0], [0, 9]], "items", 0, "shape", "outline_mm"), "crosses"),
        (put("back M", "items", 1, "key"), "share a key"),
        (put(45, "rules", "tilt_deg"), "tilt"),
        (put({"even": True}, "bolt", "repeat"), "repeat"),
        (put({"along_mm": 5, "even": True, "drop": 2}, "bolt", "repeat"), 'unknown key "drop"'),
        (put([{"at_mm": 1}], "bolt", "flaws"), 'flaws 1: key "across_mm" is missing'),
        (put(0.6, "bolt", "shrink_along"), "shrinkage"),
        (put({"side": "sideways"}, "matching"), "matching, side must be one of"),
        (put([], "items", 0, "garments"), "garments"),
        (put(None, "placements", 0, "x_mm"), "x_mm"),
    ],
)
def test_a_spoilt_file_is_refused_with_the_place(
    marker: Marker, change: Callable[[dict[str, Any]], None], message: str
) -> None:
    """The sentence names the field or the value."""
    sheet = json.loads(format_marker(marker))
    change(sheet)

    with pytest.raises(MarkerFileError, match=message):
        parse_marker(json.dumps(sheet))


@pytest.mark.parametrize("text", ["", "[]", "null", "{", '"marker"', "[" * 100_000])
def test_what_is_no_marker_file_is_refused(text: str) -> None:
    """Not JSON, not an object, nested beyond reason."""
    with pytest.raises(MarkerFileError):
        parse_marker(text)


def test_files_that_cannot_be_read_or_written_are_refused(marker: Marker, tmp_path: Path) -> None:
    """No such file, a folder, not UTF-8, a folder that does not exist."""
    (tmp_path / "latin").write_bytes(b"\xff\xfe\xfa")
    with pytest.raises(MarkerFileError, match="does not exist"):
        read_marker(tmp_path / "none.json")
    with pytest.raises(MarkerFileError, match="is a folder"):
        read_marker(tmp_path)
    with pytest.raises(MarkerFileError, match="UTF-8"):
        read_marker(tmp_path / "latin")
    with pytest.raises(MarkerFileError, match="cannot be written"):
        write_marker(marker, tmp_path / "none" / "marker.json")
