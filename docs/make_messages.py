"""Gather every marked sentence: ``python docs/make_messages.py``, after sentences were changed.

The template ``messages.pot`` is written anew, and the translations are brought in line with it:
what is new stands there without a translation, and what is no longer said is dropped.
"""

import io
from pathlib import Path

from babel.messages import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from nesting.languages import LANGUAGES

ROOT = Path(__file__).resolve().parents[1]
HOME = ROOT / "nesting" / "languages"
KEYWORDS = {"_": None, "say": None, "marked": None, "many": (1, 2), "say_many": (1, 2)}
METHODS = [("**.py", "python"), ("**/templates/*.html", "jinja2.ext:babel_extract")]
WIDTH = 96


def gathered() -> Catalog:
    """Return all marked messages with the files they stand in."""
    template = Catalog(project="nesting", charset="utf-8")
    options = {"**/templates/*.html": {"trim_blocks": "true", "silent": "false"}}
    found = extract_from_dir(
        ROOT / "nesting",
        method_map=METHODS,
        options_map=options,
        keywords=KEYWORDS,
        comment_tags=("For translators:",),
        strip_comment_tags=True,
    )
    for name, _, message, comments, context in sorted(found, key=lambda one: one[:2]):
        template.add(
            message,
            None,
            [(f"nesting/{name}", 0)],
            auto_comments=comments,
            context=context,
        )
    return template


def written(catalog: Catalog, *, is_template: bool = False) -> str:
    """Return a catalogue as text, without dates and line numbers that change every time."""
    stream = io.BytesIO()
    write_po(
        stream,
        catalog,
        width=WIDTH,
        omit_header=is_template,
        include_lineno=False,
        ignore_obsolete=True,
    )
    text = stream.getvalue().decode("utf-8")
    dropped = (
        "POT-Creation-Date",
        "PO-Revision-Date",
        "Generated-By",
        "Report-Msgid-Bugs-To",
        "Last-Translator",
        "Language-Team",
        "Project-Id-Version",
    )
    return "".join(
        line for line in text.splitlines(keepends=True) if not any(word in line for word in dropped)
    )


def main() -> None:
    """Write the template and bring every translation in line."""
    template = gathered()
    (HOME / "messages.pot").write_text(written(template, is_template=True), encoding="utf-8")
    for code in LANGUAGES:
        if code == "en":
            continue
        path = HOME / f"{code}.po"
        known = Catalog(locale=code, header_comment=f"# {LANGUAGES[code]}", fuzzy=False)
        if path.exists():
            known = read_po(io.BytesIO(path.read_bytes()), locale=code)
        known.update(template, no_fuzzy_matching=True)
        path.write_text(written(known), encoding="utf-8")


if __name__ == "__main__":
    main()
