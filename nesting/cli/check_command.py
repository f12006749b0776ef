"""``nesting check``: whether a marker can be cut, and is what was asked."""

# ruff: noqa: PLC0415 - shapely and pydantic load only when there is something to check
from nesting.cli.check_options import CheckTyped
from nesting.cli.options import takes


@takes(CheckTyped)
def check_command(typed: CheckTyped) -> int:
    """Check a marker anew, by itself, and against a pattern sheet and a bolt if they are given."""
    from nesting.answers.rows import finding_row
    from nesting.checks import check_marker
    from nesting.cli import report
    from nesting.cli.check_asking import asked_of
    from nesting.marker.hands import hand_doubts
    from nesting.marker.marker_file import read_marker

    marker = read_marker(typed.marker)
    findings = check_marker(marker, asked_of(typed, marker))
    doubts = hand_doubts(marker.items)
    if typed.json:
        rows = [finding_row(finding) for finding in findings]
        told = {"clean": not rows, "findings": rows, "doubts": [finding_row(one) for one in doubts]}
        report.print_json({"marker": str(typed.marker), **told})
    else:
        report.print_check(marker, findings)
        report.print_findings(doubts)
    return 1 if findings else 0
