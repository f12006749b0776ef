"""The page in each language: chosen by a switch, by the browser, kept in the address."""

import re

import pytest
from starlette.testclient import TestClient

TOTE = "pattern=tote&width=1m"


@pytest.mark.parametrize(
    ("query", "accepted", "language", "words"),
    [
        ("", "", "en", "Ask for <strong>60 cm"),
        ("", "fr-CH, en;q=0.5", "fr", "Demandez <strong>60 cm"),
        ("", "de, es;q=0.7, en;q=0.3", "es", "Pida <strong>60 cm"),
        ("&lang=es", "fr", "es", "Pida <strong>60 cm"),
        ("&lang=fr", "", "fr", "Demandez <strong>60 cm"),
        ("&lang=tlh", "fr;q=0", "en", "Ask for <strong>60 cm"),
    ],
)
def test_the_language_is_that_of_the_address_then_of_the_browser(
    client: TestClient, query: str, accepted: str, language: str, words: str
) -> None:
    """The page says which it is, to readers aloud as well."""
    page = client.get(f"/?{TOTE}&plain=1{query}", headers={"accept-language": accepted}).text

    assert f'<html lang="{language}">' in page
    assert words in page


def test_figures_have_the_decimal_sign_of_the_language(client: TestClient) -> None:
    """60 cm are 23.62 in, and the units stay."""
    english, french = (client.get(f"/?{TOTE}&plain=1&lang={lang}").text for lang in ("en", "fr"))

    assert "60 cm (23.62 in)" in english
    assert "60 cm (23,62 in)" in french
    assert "23.62" not in french


def test_the_switch_keeps_the_choice(client: TestClient) -> None:
    """Every language is offered under its own name, with the address of the same page."""
    page = client.get(f"/compare?{TOTE}&with=150cm&lang=fr").text

    for code, name in (("en", "English"), ("fr", "Français"), ("es", "Español")):
        link = re.search(rf'<a href="(/compare[^"]*)" lang="{code}"[^>]*>{name}</a>', page)
        assert link is not None
        assert "with=150cm" in link[1]
        assert f"lang={code}" in link[1]
    assert 'name="lang" value="fr"' in page


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (f"/compare?{TOTE}&with=150cm&change=nap", "le rouleau de 100 cm"),
        ("/fits?pattern=tote&have=65cm+x+1m", "Oui, cela tient. Il reste 5 cm (1,97 in)."),
        ("/fits?pattern=tote&have=55cm+x+1m", "il manque 5 cm (1,97 in)"),
        ("/list?pattern=tote&view=A&size=one&width-0=1m&price-0=10/m", "6,00"),
        ("/pieces?pattern=tote", "couper 2 shell"),
        ("/order?pattern=tote", "Qui reçoit quoi"),
    ],
)
def test_answers_are_in_the_language(client: TestClient, path: str, words: str) -> None:
    """Sentences made deep inside come out translated too."""
    page = client.get(f"{path}&lang=fr").text.replace("\N{NO-BREAK SPACE}", " ")

    assert words in page


def test_what_has_no_translation_says_that_it_is_english(client: TestClient) -> None:
    """A refusal of the program keeps its own words, marked as English, after a French lead."""
    page = client.get("/?pattern=tote&width=20cm&plain=1&lang=fr").text

    assert "La raison, en anglais" in page
    assert '<span lang="en">' in page
    assert "needs" in page
