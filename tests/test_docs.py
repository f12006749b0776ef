"""The documentation is complete, its links lead somewhere, and its commands and code run."""

import ast
import contextlib
import re
import runpy
import shlex
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
import typer

import nesting
from nesting.cli.app import app, main
from tests.places import DOCS, ROOT

PAGES = sorted(DOCS.glob("*.md"))
TOLD = [*PAGES, *(ROOT / name for name in ("README.md",) if (ROOT / name).exists())]
COMMANDS: dict[str, Any] = typer.main.get_command(app).commands  # type: ignore[attr-defined]

FENCE = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
GUIDES = [*TOLD, ROOT / "demo" / "README.md", ROOT / "DEVELOPERS.md"]
STATED_EXIT = re.compile(r"#\s*exit (\d+)\s*$")
SHOWN_FIRST = {"README.md", "tutorial.md", "compare-bolts.md", "marker-file.md"}
"""Pages whose commands run with every test; those of the others are slow."""
SERVERS = {"serve"}  # these answer until they are stopped


def _blocks(page: Path, *kinds: str) -> list[str]:
    """Return the fenced blocks of these kinds in a page."""
    text = page.read_text(encoding="utf-8")
    return [block for kind, block in FENCE.findall(text) if kind in kinds]


def _commands(page: Path) -> list[tuple[str, int]]:
    """Return each `nesting` line of a page with the exit code it states, else 0."""
    found = []
    for block in _blocks(page, "console", "bash", "sh"):
        for line in block.replace("\\\n", " ").splitlines():
            typed = line.strip().removeprefix("$ ")
            if not typed.startswith("nesting "):
                continue
            stated = STATED_EXIT.search(typed)
            found.append((STATED_EXIT.sub("", typed), int(stated[1]) if stated else 0))
    return found


def _options(command: str) -> list[str]:
    """Return every long option of a command."""
    return [
        name for param in COMMANDS[command].params for name in param.opts if name.startswith("--")
    ]


def _quick(typed: str) -> list[str]:
    """Return the words after `nesting`, with a search that takes no time."""
    words = shlex.split(typed)[1:]
    if words[0] in COMMANDS and "--effort" in _options(words[0]):
        for name, value in (("--effort", "quick"), ("--workers", "1")):
            if name in words:
                words[words.index(name) + 1] = value
            else:
                words += [name, value]
    return words


def _anchors(page: Path) -> set[str]:
    """Return the anchors of the headings of a page."""
    headings = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {
        re.sub(r"[^\w\- ]", "", heading.lower()).strip().replace(" ", "-") for heading in headings
    }


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_a_section_with_a_call(command: str) -> None:
    """Its options are in the tables, which the next test compares with the command."""
    text = (DOCS / "command-line.md").read_text(encoding="utf-8")
    assert f"## `nesting {command}`\n" in text
    section = text.split(f"## `nesting {command}`\n")[1].split("\n## ")[0]

    assert f"nesting {command} " in section
    assert f"<!--options:{command}-->" in section


def test_the_option_tables_are_those_of_the_commands() -> None:
    """The page is what its script makes of the commands as they are now."""
    script = runpy.run_path(str(DOCS / "make_command_reference.py"))
    page = (DOCS / "command-line.md").read_text(encoding="utf-8")

    assert script["written"](page) == page, "run python docs/make_command_reference.py"


def test_the_finding_codes_are_those_of_the_check() -> None:
    """Every code that the check gives is in the table of the command page, and no other."""
    calls = [
        node
        for path in (ROOT / "nesting" / "checks").glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in {"error", "Finding"}
    ]
    given = {str(node.args[0].value) for node in calls if isinstance(node.args[0], ast.Constant)}
    section = (DOCS / "command-line.md").read_text("utf-8").split("## `nesting check`\n")[1]
    table = section.split("| Code |")[1].split("\n\n")[0]
    told = re.findall(r"`([a-z-]+)`", "\n".join(re.findall(r"^\| (`.*?) \|", table, re.MULTILINE)))

    assert len(given) >= 17
    assert sorted(told) == sorted(given)


def test_the_python_page_shows_every_public_name() -> None:
    """Each name of the package stands in the table of the page."""
    table = (DOCS / "python.md").read_text(encoding="utf-8").split("## All public names\n")[1]

    assert sorted(re.findall(r"`(\w+)`", table)) == sorted(nesting.__all__)


@pytest.mark.parametrize("page", TOLD, ids=lambda page: page.name)
def test_no_page_names_an_option_that_is_not_there(page: Path) -> None:
    """An option in backquotes belongs to some command."""
    known = {name for command in COMMANDS for name in _options(command)} | {"--version", "--help"}
    text = FENCE.sub("", page.read_text(encoding="utf-8"))

    named = set(re.findall(r"`(?:nesting[^`]*? )?(--[a-z][a-z-]*)", text))

    assert named <= known


@pytest.mark.parametrize(
    "page",
    [
        page if page.name in SHOWN_FIRST else pytest.param(page, marks=pytest.mark.slow)
        for page in TOLD
    ],
    ids=lambda page: page.name,
)
def test_what_a_page_shows_runs(
    page: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Its sheets are saved, its commands run in their order, then its Python, in one namespace.

    A TOML block whose first line is a remark with a name is saved under that name. A command
    ends with 0, or with the code stated behind it as `# exit N`. Of the chorus two lines are
    enough: all of it takes a quarter of a minute.
    """
    shutil.copytree(ROOT / "demo", tmp_path / "demo")
    monkeypatch.chdir(tmp_path)
    chorus = Path("demo/chorus.csv")
    chorus.write_text("".join(chorus.read_text("utf-8").splitlines(keepends=True)[:3]), "utf-8")
    for block in _blocks(page, "toml"):
        name = re.match(r"# (\w+\.toml)\n", block)
        if name is not None:
            Path(name[1]).write_text(block, encoding="utf-8")

    for typed, stated in _commands(page):
        if typed.split()[1] not in SERVERS:
            assert (typed, main(_quick(typed))) == (typed, stated), capsys.readouterr().err
    names: dict[str, Any] = {"__name__": "shown"}
    for block in _blocks(page, "python"):
        exec(compile(block, page.name, "exec"), names)


def _shown_and_not_run(page: Path) -> list[str]:
    """Return the commands of a page that no test runs: of servers, other computers, in a sentence.

    What stands for something, such as `FILE` or an ellipsis, is no command.
    """
    text = page.read_text(encoding="utf-8")
    lines = [line for block in _blocks(page, "text") for line in block.splitlines()]
    lines += [typed for typed, _ in _commands(page) if typed.split()[1] in SERVERS]
    lines += re.findall(r"`(nesting [a-z]+ [\w/]+\.\w+ [^`\n]+)`", FENCE.sub("", text))
    commands = [line for line in lines if line.startswith("nesting ")]
    return [line for line in commands if not re.search(r"[A-Z]{3,}|\N{HORIZONTAL ELLIPSIS}", line)]


@pytest.mark.parametrize("page", GUIDES, ids=lambda page: page.name)
def test_what_is_shown_and_not_run_can_be_typed(page: Path) -> None:
    """The command line takes the command apart without a complaint; nothing is run."""
    for line in _shown_and_not_run(page):
        _, name, *words = shlex.split(line)
        with contextlib.suppress(typer.Exit):  # --help has said all
            COMMANDS[name].make_context(name, words)


@pytest.mark.parametrize("page", GUIDES, ids=lambda page: page.name)
def test_the_files_a_page_names_are_there(page: Path) -> None:
    """Scripts, modules and tests named in backquotes, from the root of the checkout."""
    text = page.read_text(encoding="utf-8")
    named = re.findall(r"(?:`|python )((?:docs|nesting|pieces|tests)/[\w/.-]+)", text)

    assert [name for name in named if not (ROOT / name).exists()] == []


def test_there_are_commands_to_run() -> None:
    """The tutorial and the command page show commands, and the reader of pages finds them."""
    assert len(_commands(DOCS / "tutorial.md")) >= 6
    assert len(_commands(DOCS / "command-line.md")) >= 6


def _entries(text: str) -> list[str]:
    """Return the words that a part of the glossary explains."""
    return [entry.lower() for entry in re.findall(r"^\*\*(.+?)\*\*:", text, re.MULTILINE)]


def test_the_glossary_explains_words_that_are_used() -> None:
    """Each of its words stands in another page, or in what a command or the page says."""
    glossary = DOCS / "glossary.md"
    pages = [
        *(page for page in GUIDES if page != glossary),
        ROOT / "nesting/languages/messages.pot",
    ]
    helps = [param.help or "" for command in COMMANDS.values() for param in command.params]
    used = " ".join([*(page.read_text(encoding="utf-8") for page in pages), *helps]).lower()
    used = re.sub(r"\s+", " ", used)

    entries = _entries(glossary.read_text(encoding="utf-8"))

    assert len(entries) > 20
    assert [entry for entry in entries if re.search(rf"\b{entry}", used) is None] == []


@pytest.mark.parametrize("half", ["trade", "program"])
def test_the_glossary_is_sorted(half: str) -> None:
    """Each half stands in the order of the alphabet, no word twice."""
    text = (DOCS / "glossary.md").read_text(encoding="utf-8")
    section = text.split(f"## Words of the {half}\n")[1].split("\n## ")[0]
    entries = _entries(section)

    assert entries == sorted(set(entries))


@pytest.mark.parametrize("page", GUIDES, ids=lambda page: page.name)
def test_links_lead_somewhere(page: Path) -> None:
    """Every link to a file of the project, and to a heading in it, has its target."""
    for link in LINK.findall(FENCE.sub("", page.read_text(encoding="utf-8"))):
        if "://" in link or link.startswith("mailto:"):
            continue
        name, _, anchor = link.partition("#")
        target = page if not name else (page.parent / name).resolve()
        assert target.exists(), link
        assert not anchor or anchor in _anchors(target), link


def test_every_page_can_be_found() -> None:
    """The front page of the handbook links each other page."""
    linked = LINK.findall((DOCS / "index.md").read_text(encoding="utf-8"))

    assert {page.name for page in PAGES} - {"index.md"} <= set(linked)


def test_every_dependency_has_its_reason() -> None:
    """Each library of pyproject stands in a line of its own, and no other."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"]]
    for extra in project.get("optional-dependencies", {}).values():
        wanted += extra
    names = {re.split(r"[\[<>=~! ;]", requirement)[0].lower() for requirement in wanted}
    lines = re.findall(
        r"^- `(.+?)`: \S", (DOCS / "dependencies.md").read_text(encoding="utf-8"), re.MULTILINE
    )

    assert {line.lower() for line in lines} == names


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_the_spelling_is_british(page: Path) -> None:
    """A few words that are easily spelled the other way."""
    words = re.findall(r"[a-z]+", FENCE.sub("", page.read_text(encoding="utf-8")).lower())
    american = {
        "color",
        "colors",
        "center",
        "millimeter",
        "millimeters",
        "meter",
        "gray",
        "utilization",
    }

    assert american & set(words) == set()
