"""Faults planted between pattern and marker: the judge, or a law of the answers, sees each.

Forty of them, in the rules of the cloth, the cut list, the plan, the way to the engine and back,
and in orders and sharing out. Some dozen would stay unseen if the judge used the maker's rules.
"""

import pytest

from nesting.errors import NestingError
from tests.mutations import ASKED, MUTATIONS, NAMED, Mutation, Patch


def said() -> set[str]:
    """Return what is said of the first job of which anything is said; a refusal says nothing."""
    for ask in ASKED.values():
        try:
            told = ask()
        except NestingError:
            continue
        if told:
            return told
    return set()


@pytest.mark.parametrize("name", ASKED)
def test_without_a_fault_nothing_is_said(name: str) -> None:
    """Every job is laid without a word of either judge, and keeps the laws."""
    assert ASKED[name]() == set()


@pytest.mark.parametrize("mutation", NAMED, ids=lambda mutation: mutation.__name__)
def test_the_rules_of_the_cloth_are_the_judges_own(
    mutation: Mutation, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nap, grain, selvage and shrinkage: what the maker has wrong the judge has right."""
    mutation(monkeypatch)

    assert {one for one in said() if not one.startswith("law") and one != "second judge"}


@pytest.mark.slow
@pytest.mark.parametrize(
    "mutation", [one for one in MUTATIONS if one not in NAMED], ids=lambda one: one.__name__
)
def test_a_planted_fault_is_seen(mutation: Mutation, monkeypatch: Patch) -> None:
    """By the judge, or by a law that the answers have to keep."""
    mutation(monkeypatch)

    assert said() - {"second judge"}


def test_every_fault_has_its_sentence() -> None:
    """Forty in all, each named and told."""
    assert len({one.__name__ for one in MUTATIONS}) == len(MUTATIONS) >= 40
    assert all(one.__doc__ for one in MUTATIONS)
