"""The documentation is complete, its links lead somewhere, and its commands and code run."""

import contextlib
import re
import shlex
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
import typer

from nesting.cli.app import app, main
from tests.places import ROOT

DOCS = ROOT / "docs"
PAGES = sorted(DOCS.glob("*.md"))
TOLD = [*PAGES, *(ROOT / name for name in ("README.md",) if (ROOT / name).exists())]
COMMANDS: dict[str, Any] = typer.main.get_command(app).commands  # type: ignore[attr-defined]

FENCE = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
GUIDES = [*TOLD, ROOT / "demo" / "README.md", ROOT / "DEVELOPERS.md"]
STATED_EXIT = re.compile(r"#\s*exit (\d+)\s*$")
SERVERS = {"serve"}  # these answer until they are stopped

TRADE_WORDS = re.split(
    r",\s+",
    """marker, lay, ply, bolt, usable width, selvage, grainline, lengthwise grain, crosswise grain,
    bias, nap, one-way, right side, cut 2, pair, on fold, open lay, folded lay, notch, drill hole,
    seam allowance, repeat, match point, splice, marker length, end allowance, cut length,
    shop length, yardage chart, utilisation, shell, lining, interfacing, notions""",
)
CODE_WORDS = re.split(
    r",\s+",
    """outline, turn, flip, cut item, cut list, placement, reference point, no-fit polygon,
    inner-fit rectangle, candidate, fill, order, search, stop rule, prepared piece, kernel,
    finding, scene, writer""",
)


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
def test_every_command_has_a_section_with_its_options(command: str) -> None:
    """The section of a command names each of its options, and shows a call and its twin."""
    text = (DOCS / "command-line.md").read_text(encoding="utf-8")
    assert f"## `nesting {command}`\n" in text
    section = text.split(f"## `nesting {command}`\n")[1].split("\n## ")[0]

    missing = [
        name
        for name in _options(command)
        if name != "--help" and re.search(rf"`{re.escape(name)}\b", section) is None
    ]

    assert missing == []
    assert f"nesting {command} " in section
    assert command in SERVERS or "```python" in section


@pytest.mark.parametrize("page", TOLD, ids=lambda page: page.name)
def test_no_page_names_an_option_that_is_not_there(page: Path) -> None:
    """An option in backquotes belongs to some command."""
    known = {name for command in COMMANDS for name in _options(command)} | {"--version", "--help"}
    text = FENCE.sub("", page.read_text(encoding="utf-8"))

    named = set(re.findall(r"`(?:nesting[^`]*? )?(--[a-z][a-z-]*)", text))

    assert named <= known


@pytest.mark.parametrize("page", TOLD, ids=lambda page: page.name)
def test_what_a_page_shows_runs(
    page: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Its sheets are saved, its commands run in their order, then its Python.

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
    if page.name == "marker-file.md":  # the page speaks of a marker that is there
        sheet = "demo/knapsack.toml --view B --size S --cloth lining --width 1m --out marker.json"
        assert main(_quick(f"nesting lay {sheet}")) == 0

    for typed, stated in _commands(page):
        if typed.split()[1] not in SERVERS:
            assert (typed, main(_quick(typed))) == (typed, stated), capsys.readouterr().err
    for block in _blocks(page, "python"):
        exec(compile(block, page.name, "exec"), {"__name__": "shown"})


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


@pytest.mark.parametrize("word", [*TRADE_WORDS, *CODE_WORDS])
def test_the_glossary_has_the_word(word: str) -> None:
    """Each word of the trade and of the code begins an entry."""
    entries = re.findall(
        r"^\*\*(.+?)\*\*:", (DOCS / "glossary.md").read_text(encoding="utf-8"), re.MULTILINE
    )

    assert word in [entry.lower() for entry in entries]


@pytest.mark.parametrize("half", ["trade", "program"])
def test_the_glossary_is_sorted(half: str) -> None:
    """Each half stands in the order of the alphabet, no word twice."""
    text = (DOCS / "glossary.md").read_text(encoding="utf-8")
    section = text.split(f"## Words of the {half}\n")[1].split("\n## ")[0]
    entries = [entry.lower() for entry in re.findall(r"^\*\*(.+?)\*\*:", section, re.MULTILINE)]

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
        r"^\| `(.+?)` \| \S", (DOCS / "dependencies.md").read_text(encoding="utf-8"), re.MULTILINE
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
