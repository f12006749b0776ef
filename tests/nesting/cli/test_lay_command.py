"""``nesting lay``: what it prints, writes and returns."""

import json
from pathlib import Path

import pytest

from nesting.cli.options import Effort
from nesting.engine import EFFORTS
from tests.nesting.cli.conftest import QUICK, Nesting

# Two bodies of 40 x 50 cm and two straps of 10 x 60 cm on a bolt 100 cm wide, grain along it:
# the bodies lie side by side and leave 20 cm for both straps. 60 cm long, area 5,200 of 6,000 cm2.
METRE = ("lay", "tote.toml", "--width", "100cm", *QUICK)


def test_json_has_every_fact_of_the_lay(nesting: Nesting) -> None:
    """One object with the lengths worked out by hand, in mm."""
    answer = nesting(*METRE, "--json")

    row = answer.json

    assert answer.code == 0
    assert row["pattern"] == "Tote of the [bold]prompter"
    assert (row["view"], row["size"], row["cloth"], row["garments"]) == ("A", "one", "shell", 1)
    assert (row["nap"], row["spread"], row["placed"]) == ("without", "open", 4)
    assert row["width_mm"] == row["usable_width_mm"] == 1000.0
    assert row["marker_length_mm"] == row["cut_length_mm"] == pytest.approx(600.0, abs=0.01)
    assert row["shop_length_mm"] == pytest.approx(600.0)
    assert row["shop_length"] == "60 cm"
    assert row["utilisation"] == pytest.approx(5200 / 6000, abs=1e-4)
    assert row["lower_bound_mm"] == pytest.approx(600.0, abs=0.01)
    assert row["lower_bound_reason"] == "longest piece"
    assert row["findings"] == []
    assert row["stopped_by"] in ("effort", "proven best")
    assert row["seconds"] >= 0.0
    assert "cost" not in row


def test_standard_output_holds_only_json(nesting: Nesting) -> None:
    """Nothing is said beside the JSON when all is well and the output is no terminal."""
    answer = nesting(*METRE, "--json")

    assert json.loads(answer.out)["placed"] == 4
    assert answer.err == ""


def test_a_price_adds_the_cost(nesting: Nesting) -> None:
    """60 cm at 10 for a metre cost 6."""
    row = nesting(*METRE, "--price", "€10/m", "--json").json

    assert (row["cost"], row["currency"], row["price"]) == (6.0, "€", "€ 10.00/m")


def test_a_width_in_inches_is_sold_in_eighths_of_a_yard(nesting: Nesting) -> None:
    """40 in are 101.6 cm, so the lay stays 60 cm: 5.25 eighths of 11.43 cm, so 6 are asked for."""
    row = nesting("lay", "tote.toml", "--width", "40in", *QUICK, "--json").json

    assert row["shop_length"] == "3/4 yd"
    assert row["shop_length_mm"] == pytest.approx(685.8)


def test_a_step_of_ones_own(nesting: Nesting) -> None:
    """60 cm in steps of 25 cm are three steps."""
    row = nesting(*METRE, "--step", "25cm", "--json").json

    assert row["shop_length_mm"] == pytest.approx(750.0)


def test_selvage_and_nap_and_spread_are_told(nesting: Nesting) -> None:
    """Two selvages of 2 cm leave 96 cm."""
    answer = nesting(
        *METRE, "--selvage", "2cm", "--nap", "with", "--spread", "lengthwise", "--json"
    )

    assert answer.json["usable_width_mm"] == 960.0
    assert (answer.json["nap"], answer.json["spread"]) == ("with", "lengthwise")


def test_an_exact_shop_cuts_what_is_needed(nesting: Nesting) -> None:
    """60 cm of marker and 2 cm at the end are 62 washed: 62 / 0.98 unwashed, not rounded."""
    typed = ("--step", "exact", "--end-allowance", "2cm", "--shrink-along", "2%")

    row = nesting(*METRE, *typed, "--json").json

    assert row["marker_length_mm"] == pytest.approx(600.0, abs=0.01)
    assert row["cut_length_mm"] == pytest.approx(620.0 / 0.98, abs=0.02)
    assert row["shop_length_mm"] == row["cut_length_mm"]
    assert row["shop_step_mm"] is None


def test_the_extra_repeat_is_bought_named_and_saved_where_the_shop_permits(
    nesting: Nesting,
) -> None:
    """A repeat of 10 cm along: 10 cm more than where the shop cuts at the place one chooses."""
    typed = (*METRE, "--repeat-along", "10cm", "--step", "exact")

    usual, chosen = (nesting(*typed, *more, "--json").json for more in ((), ("--cut-on-repeat",)))
    told = " ".join(nesting(*typed).out.split())

    assert usual["cut_length_mm"] == pytest.approx(chosen["cut_length_mm"] + 100.0)
    assert "nobody chooses where the bolt was cut last" in told
    assert "a shop that cuts where you choose saves it" in told


def test_real_cloth_is_told_in_json_and_in_the_table(nesting: Nesting) -> None:
    """Everything that was typed comes back, in mm and shares."""
    typed = ("--repeat-along", "10cm", "--repeat-across", "8cm", "--uneven",
             "--shrink-along", "20cm to 19.4cm", "--shrink-across", "2%", "--end-allowance", "1cm",
             "--length-left", "9m", "--flaw", "80cm,10cm,2cm,3cm",
             "--flaw", "90cm,10cm,2cm,3cm")  # fmt: skip

    row = nesting(*METRE, *typed, "--json").json
    told = nesting(*METRE, *typed).out

    assert (row["repeat_along_mm"], row["repeat_across_mm"]) == (100.0, 80.0)
    assert (row["repeat_even"], row["cut_on_repeat"]) == (False, False)
    assert row["extra_repeat_mm"] == 100.0
    assert (row["shrink_along"], row["shrink_across"]) == pytest.approx((0.03, 0.02))
    assert (row["end_allowance_mm"], row["length_left_mm"]) == (10.0, 9000.0)
    assert row["flaws"][1] == {
        "at_mm": 900.0, "across_mm": 100.0, "long_mm": 20.0, "wide_mm": 30.0
    }  # fmt: skip
    assert row["usable_width_mm"] == pytest.approx(980.0)
    for words in ("10 cm along, 8 cm across, uneven", "3% along, 2% across", "End allowance",
                  "Left of the bolt", "Flaws", "To begin on the repeat"):  # fmt: skip
        assert words in told


def test_more_than_is_left_is_found(nesting: Nesting) -> None:
    """60 cm are laid where 50 are left: the answer is no."""
    answer = nesting(*METRE, "--length-left", "50cm", "--json")

    assert answer.code == 1
    assert [one["code"] for one in answer.json["findings"]] == ["beyond-length-left"]


def test_garments_multiply_the_pieces(nesting: Nesting) -> None:
    """Three totes are twelve pieces."""
    assert nesting(*METRE, "--garments", "3", "--json").json["placed"] == 12


def test_the_table_begins_with_the_length_to_ask_for(nesting: Nesting) -> None:
    """First what to say at the counter, with both units, then what it rests on."""
    answer = nesting(*METRE, "--price", "£10/m")
    lines = [line.strip() for line in answer.out.splitlines() if line.strip()]

    assert answer.code == 0
    assert lines[0] == "Tote of the [bold]prompter, view A, size one"
    assert lines[1].split("  ")[0] == "Ask for"
    assert "60 cm (23.63 in)" in lines[1]
    assert "£ 6.00 at £ 10.00/m" in answer.out
    assert "longest piece" in answer.out
    assert "86.7%" in answer.out


def test_without_a_selvage_the_person_is_asked_to_measure(nesting: Nesting) -> None:
    """The honest note stands only where no selvage was given."""
    words = "measure the usable width of your own bolt"

    assert words in nesting(*METRE).out
    assert words not in nesting(*METRE, "--selvage", "0cm").out


def test_marker_and_picture_are_written_and_named(nesting: Nesting, folder: Path) -> None:
    """Both files are there, and nothing else."""
    answer = nesting(*METRE, "--out", "m.json", "--draw", "m.svg")

    assert "Written: m.svg" in answer.out
    assert "Written: m.json" in answer.out
    assert {path.name for path in folder.iterdir()} == {"tote.toml", "m.json", "m.svg"}
    assert json.loads((folder / "m.json").read_text(encoding="utf-8"))["kind"] == "marker"


def test_a_failed_picture_leaves_no_marker(
    nesting: Nesting, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """If one file cannot be written, the folder stays as it was, and exit is 2."""

    def full(*_arguments: object, **_options: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("nesting.draw.draw_marker", full)

    answer = nesting(*METRE, "--out", "m.json", "--draw", "m.svg")

    assert answer.code == 2
    assert "No space left" in answer.err
    assert [path.name for path in folder.iterdir()] == ["tote.toml"]


def test_findings_make_the_exit_code_one(nesting: Nesting, monkeypatch: pytest.MonkeyPatch) -> None:
    """A marker that the check refuses is shown with its findings."""
    from pieces.finding import Finding, Severity

    finding = Finding("overlap", Severity.ERROR, "Body and Strap overlap", ("Body", "Strap"))
    monkeypatch.setattr("nesting.lay.judging.check_marker", lambda *_: (finding,))

    answer = nesting(*METRE)
    row = nesting(*METRE, "--json").json

    assert answer.code == 1
    assert "error overlap: Body and Strap overlap." in answer.out
    assert row["findings"][0]["pieces"] == ["Body", "Strap"]


def test_warnings_alone_leave_the_exit_code_zero(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A match that was given up is told, and the marker can be cut."""
    from pieces.finding import Finding, Severity

    finding = Finding("match-given-up", Severity.WARNING, "Hem is not matched", ("Body",))
    monkeypatch.setattr("nesting.lay.judging.check_marker", lambda *_: (finding,))

    answer = nesting(*METRE)

    assert answer.code == 0
    assert "warning match-given-up: Hem is not matched." in answer.out


def test_warnings_about_the_pattern_are_notes(nesting: Nesting, folder: Path) -> None:
    """A cloth that no piece is cut from is worth a note, not a refusal."""
    sheet = folder / "tote.toml"
    sheet.write_text(
        sheet.read_text(encoding="utf-8").replace("[views.A]", "[cloths.felt]\n[views.A]"),
        encoding="utf-8",
    )

    answer = nesting(*METRE, "--json")

    assert answer.code == 0
    assert 'note: no piece is cut from cloth "felt"' in answer.err
    assert "note: cloth shell, the first of shell, felt" in answer.err


def test_a_view_that_must_be_chosen_is_asked_for(nesting: Nesting, folder: Path) -> None:
    """The refusal lists what there is."""
    sheet = folder / "tote.toml"
    sheet.write_text(
        sheet.read_text(encoding="utf-8") + '\n[views.B]\npieces = ["body"]\n', encoding="utf-8"
    )

    answer = nesting(*METRE)

    assert answer.code == 2
    assert "--view" in answer.err
    assert "choose one of A, B" in answer.err


def test_the_efforts_are_those_of_the_engine() -> None:
    """The words of the option and of the search are the same."""
    assert [effort.value for effort in Effort] == list(EFFORTS)


def test_seconds_alone_limit_the_search(nesting: Nesting) -> None:
    """A time limit without an effort searches until then, or until nothing can be better."""
    row = nesting(
        "lay", "tote.toml", "--width", "90cm", "--seconds", "0.2", "--workers", "1", "--json"
    ).json

    assert row["stopped_by"] in ("seconds", "proven best")


def test_what_if_the_bolt_is_narrower(nesting: Nesting) -> None:
    """The tote takes 60 cm of a cloth 100 cm wide: bodies and straps fill 40 + 40 + 10 + 10 cm.

    On 99 cm a strap no longer lies beside, so more is asked for at once.
    """
    typed = ("lay", "tote.toml", "--width", "100cm", *QUICK, "--what-if-narrower")

    told = nesting(*typed, "--json").json["what_if_narrower"]
    out = nesting(*typed).out

    assert [row["width_mm"] for row in told["rows"]] == [1000.0, 990.0, 980.0, 970.0, 960.0, 950.0]
    assert told["rows"][0]["steps_more"] == 0
    assert told["rows"][1]["steps_more"] > 0
    assert "If the bolt is 1 cm narrower, 99 cm (38.98 in), ask for" in out
    assert "what_if_narrower" not in nesting(*typed[:-1], "--json").json


def test_explaining_tells_what_each_rule_costs(nesting: Nesting) -> None:
    """Rules in a table, with what is asked for without each, and a sentence on what saves."""
    answer = nesting(*METRE, "--nap", "with", "--price", "10/m", "--selvage", "1cm", "--explain")

    printed = " ".join(answer.out.split())
    assert answer.code == 0
    for words in ("What each rule costs", "Bare cloth", "Selvage", "Nap", "Shop rounding"):
        assert words in printed


def test_explaining_for_machines_and_as_a_picture(nesting: Nesting) -> None:
    """The picture alone asks for the explanation as well; the shares add up."""
    answer = nesting(*METRE, "--nap", "with", "--draw-explain", "costs.svg", "--json")

    told = answer.json["explain"]
    assert [one["rule"] for one in told["rules"]] == ["shop rounding", "nap"]
    made_up_mm = told["bare_mm"] + sum(one["adds_mm"] for one in told["rules"])
    assert made_up_mm == pytest.approx(told["asked_mm"])
    assert told["asked_mm"] == answer.json["shop_length_mm"]
    assert "bare_cost" not in told
    assert "<svg" in Path("costs.svg").read_text(encoding="utf-8")


def test_nothing_is_explained_unasked(nesting: Nesting) -> None:
    """Explaining takes time, so it has to be asked for."""
    assert "explain" not in nesting(*METRE, "--json").json
