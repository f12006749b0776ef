"""Every sentence is marked, gathered and translated, and can be filled in in every language."""

import io
import re
import string
from importlib.resources import files
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from docs.make_messages import gathered, written
from nesting.languages import ENGLISH, LANGUAGES, words_of
from tests.places import ROOT

HOME = files("nesting.languages")
WEB = ROOT / "nesting" / "web"
OTHERS = [code for code in LANGUAGES if code != "en"]


def catalogue(code: str) -> Catalog:
    """Return a translation as it is kept."""
    data = HOME.joinpath(f"{code}.po").read_bytes()
    return read_po(io.BytesIO(data), locale=code)


def forms(text: str | tuple[str, ...] | list[str]) -> list[str]:
    """Return the forms of a message: one, or one for each plural."""
    return [text] if isinstance(text, str) else list(text)


def blanks(text: str) -> set[str]:
    """Return the names of what is filled in."""
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def key_of(message: Message) -> str:
    """Return the English of a message, in the singular."""
    return forms(message.id)[0]


def messages(code: str) -> list[Message]:
    """Return the messages of a translation without its head."""
    return [message for message in catalogue(code) if message.id]


def told(template: str) -> dict[str, tuple[object, ...]]:
    """Return what a template says of each message, however its lines are broken.

    Where it stands is left out: what stands within an f-string is seen since Python 3.12 alone.
    """
    return {
        key_of(message): (message.id, message.flags, message.auto_comments)
        for message in read_po(io.StringIO(template))
        if message.id
    }


def test_the_template_has_every_marked_sentence_of_today() -> None:
    """After a sentence is changed, docs/make_messages.py is run."""
    kept = HOME.joinpath("messages.pot").read_text(encoding="utf-8")

    assert told(kept) == told(written(gathered(), is_template=True))


@pytest.mark.parametrize("code", OTHERS)
def test_no_message_is_missing_or_doubtful(code: str) -> None:
    """Each message of the template has all its forms in each language, and none is fuzzy."""
    wanted = {key_of(message) for message in gathered()}
    there = {key_of(message): message for message in messages(code)}

    assert set(there) == wanted - {""}
    empty = [key for key, message in there.items() if not all(forms(message.string))]
    assert empty == []
    assert [key for key, message in there.items() if message.fuzzy] == []


@pytest.mark.parametrize("code", OTHERS)
def test_a_translation_is_filled_in_with_the_same_values(code: str) -> None:
    """No name of a value is lost, added or misspelt."""
    wrong = [
        message.id
        for message in messages(code)
        for form in forms(message.string)
        if blanks(form) != set().union(*(blanks(one) for one in forms(message.id)))
    ]

    assert wrong == []


@pytest.mark.parametrize("code", OTHERS)
def test_trade_words_say_where_they_are_from(code: str) -> None:
    """A message with a trade word has a comment: from memory, or checked against a source."""
    trade = re.compile(r"\b(selvage|grainline|nap|fold|marker|interfacing|lining|bolt|bias)s?\b")
    bare = [
        message.id
        for message in messages(code)
        if trade.search(forms(message.id)[0].lower()) and not message.user_comments
    ]

    assert bare == []


@pytest.mark.parametrize("page", sorted(WEB.glob("templates/*.html")), ids=lambda page: page.stem)
def test_a_template_says_nothing_that_is_not_marked(page: Path) -> None:
    """What is left of a template without tags, expressions and comments has no words."""
    text = page.read_text(encoding="utf-8")
    named = re.findall(r'(?:aria-label|alt|title)="([^"{]*[A-Za-z][^"{]*)"', text)
    bare = re.sub(r"{[{%#].*?[}%#]}", " ", text, flags=re.DOTALL)
    bare = re.sub(r"<[^>]*>|&\w+;|&#\d+;", " ", bare)

    assert re.findall(r"[A-Za-z]{2,}", bare) == []
    assert named == []


def test_plural_forms_follow_the_language() -> None:
    """In French one and none go together (CLDR plural rules), in Spanish none goes with many."""
    one, many = "the {widths} bolt", "the {widths} bolts"

    assert words_of("fr").say_many(one, many, 0, widths="x") == "le rouleau de x"
    assert words_of("fr").say_many(one, many, 2, widths="x") == "les rouleaux de x"
    assert words_of("es").say_many(one, many, 0, widths="x") == "los rollos de x"


def test_an_unknown_language_is_refused() -> None:
    """Words are never guessed."""
    with pytest.raises(KeyError):
        words_of("de")


def test_figures_keep_their_units_and_fractions() -> None:
    """Only the decimal sign changes; sentences end as they did."""
    assert words_of("es").figures("2 3/8 yd (2.17 m).") == "2 3/8 yd (2,17 m)."
    assert ENGLISH.figures("2.17 m") == "2.17 m"
