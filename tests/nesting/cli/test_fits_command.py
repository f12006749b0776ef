"""``nesting fits``: the exit code is the answer, and the files show what fits."""

from pathlib import Path

import pytest

from nesting.marker.marker_file import read_marker
from tests.nesting.cli.conftest import QUICK, Nesting

# The tote takes 60 cm of cloth 100 cm wide: two bodies of 40 x 50 and two straps of 10 x 60 cm.
FITS = ("fits", "tote.toml", *QUICK)


def test_yes_is_zero_and_tells_what_is_left(nesting: Nesting) -> None:
    """Of 65 cm, 5 are left."""
    answer = nesting(*FITS, "--have", "65 cm x 1 m")

    assert answer.code == 0
    assert "Yes, it fits. 5 cm (1.97 in) is left." in answer.out


def test_no_is_one_and_tells_what_is_missing(nesting: Nesting) -> None:
    """Of 55 cm, 5 are missing: the straps are 60 long and are left over."""
    answer = nesting(*FITS, "--have", "55 cm x 1 m", "--json")

    told = answer.json
    assert answer.code == 1
    assert told["lacking_mm"] == pytest.approx(50.0)
    assert [(one["piece"], one["count"]) for one in told["left_over"]] == [("Strap", 2)]
    helping = [way["sentence"] for way in told["ways"] if way["helps"]]
    assert helping == ['cut "Strap" one (2 pieces) from another cloth']


def test_what_is_left_over_is_told_to_people(nesting: Nesting) -> None:
    """With the ways that were tried."""
    out = nesting(*FITS, "--have", "55 cm x 1 m").out

    assert "Left over: 2 Strap one." in out
    assert 'Cut "Strap" one (2 pieces) from another cloth: it fits' in out
    assert 'Cut "Body" one (2 pieces) from another cloth: not enough' in out


def test_a_marker_for_each_length(nesting: Nesting, folder: Path) -> None:
    """Bodies on one, 40 + 40 = 80 cm wide; straps on the other, 10 + 10 = 20 cm wide."""
    have = ("--have", "50 cm x 80 cm", "--have", "60 cm x 20 cm")
    answer = nesting(*FITS, *have, "--out", "m.json", "--draw", "m.svg")

    assert answer.code == 0
    first, second = read_marker(folder / "m-1.json"), read_marker(folder / "m-2.json")
    assert [item.key for item in first.items] == ["body one"]
    assert [item.key for item in second.items] == ["strap one"]
    assert "What lies where" in (folder / "m.svg").read_text(encoding="utf-8")
    assert nesting("check", "m-1.json").code == 0


def test_one_marker_has_the_name_typed(nesting: Nesting, folder: Path) -> None:
    """No number where there is nothing to count."""
    nesting(*FITS, "--have", "65 cm x 1 m", "--out", "m.json", "--draw", "m.pdf")

    assert read_marker(folder / "m.json").bolt.length_left_mm == 650.0
    assert (folder / "m.pdf").exists()


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ((), "--have"),
        (("--have", "2yd"), '--have: cannot read the cloth "2yd"'),
        (("--have", "2 x 54in"), '--have: "2" has no unit'),
        (("--have", "2yd x 54in", "--step", "1/4yd"), "--step: nothing is bought here"),
        (("--have", "2yd x 54in", "--length-left", "3yd"), "--length-left: nothing is bought"),
        (
            ("--have", "2yd x 54in", "--have", "1yd x 45in", "--flaw", "1in,1in,1in,1in"),
            "--flaw: with several --have",
        ),
        (("--have", "2yd x 54in", "--flaw", "80in,1in,1in,1in"), "outside the cloth"),
        (("--have", "2yd x 54in", "--view", "Z"), 'no view "Z"'),
        (("--have", "2yd x 54in", "--out", "m.txt"), "--out: m.txt must end in .json"),
    ],
)
def test_bad_input_is_one_sentence(nesting: Nesting, typed: tuple[str, ...], told: str) -> None:
    """Exit code 2, and what was wrong."""
    answer = nesting(*FITS, *typed)

    assert answer.code == 2
    assert told in answer.err
    assert "Traceback" not in answer.err


def test_a_whole_order_is_shared_out_over_two_lengths(nesting: Nesting, folder: Path) -> None:
    """Two totes of 60 cm each fit on two lengths of 65 cm, and not on one."""
    (folder / "list.csv").write_text("view,size,count\nA,one,2\n", encoding="utf-8")
    wanted = (*FITS, "--order", "list.csv", "--have", "65 cm x 1 m")

    assert nesting(*wanted).code == 1
    assert nesting(*wanted, "--have", "65 cm x 1 m").code == 0


def test_an_order_and_a_size_are_one_too_many(nesting: Nesting, folder: Path) -> None:
    """The sentence says which option the list already answers."""
    (folder / "list.csv").write_text("view,size,count\nA,one,2\n", encoding="utf-8")

    answer = nesting(*FITS, "--order", "list.csv", "--size", "one", "--have", "5m x 1m")

    assert answer.code == 2
    assert "--size: the list of --order says that already" in answer.err
