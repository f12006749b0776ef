"""The house keeps its plan: arrows point one way, modules stay small, heavy things stay out."""

import ast
import functools
import subprocess
import sys
from pathlib import Path

import pytest

from tests.places import ROOT

PACKAGES = ("pieces", "nesting")

# The plan of the house. A room is a folder, or the files at the root of a package; each is named
# with the rooms it may import. Words for errors and findings, languages, the version and how
# processes begin are the ground that every room but the kernels stands on.
GROUND = {"pieces.errors", "pieces.finding"} | {
    f"nesting.{name}" for name in ("errors", "languages", "version", "processes")
}
ROOMS = {
    "pieces.files": "",
    "pieces.measures": "",
    "pieces.outline": "",
    "pieces": "measures outline",
    "pieces.shaping": "outline pieces",
    "pieces.sheet": "files measures outline pieces shaping",
    "pieces.drawing": "files measures outline pieces shaping sheet",
    "pieces.photo": "files measures outline pieces drawing",
    "nesting.cloth": "files measures pieces",
    "nesting.reckoning": "measures pieces shaping",
    "nesting.marker": "files measures outline pieces shaping drawing cloth",
    "nesting.plan": "outline pieces cloth marker",
    "nesting.checks": "measures outline pieces cloth marker",
    "nesting.engine.kernels": "",
    "nesting.engine": "outline kernels",
    "nesting.draw": "files measures outline pieces drawing photo cloth marker plan checks",
    "nesting.lay": "measures outline pieces cloth marker plan checks engine",
    "nesting.answers": "files measures outline pieces cloth reckoning "
    "marker plan checks engine draw lay",
    "nesting": "measures pieces sheet cloth marker plan checks draw lay answers",
    "nesting.web": "files measures pieces sheet drawing photo "
    "cloth marker engine draw lay answers nesting",
    "nesting.cli": "files measures outline pieces sheet drawing photo cloth "
    "marker plan checks engine draw lay answers web",
}
QUESTIONS = ("chart", "fits", "order", "shopping", "what_if")


@functools.cache
def modules() -> tuple[str, ...]:
    """Return the dotted names of all modules of both packages."""
    paths = (path for package in PACKAGES for path in (ROOT / package).rglob("*.py"))
    names = (path.relative_to(ROOT).with_suffix("").parts for path in paths)
    return tuple(
        sorted(".".join(parts[:-1] if parts[-1] == "__init__" else parts) for parts in names)
    )


def path_of(module: str) -> Path:
    """Return the file of a module."""
    base = ROOT.joinpath(*module.split("."))
    return base / "__init__.py" if base.is_dir() else base.with_suffix(".py")


@functools.cache
def tree_of(module: str) -> ast.Module:
    """Return a module's syntax tree."""
    return ast.parse(path_of(module).read_text(encoding="utf-8"))


@functools.cache
def imports_of(module: str) -> frozenset[str]:
    """Return every module of ours and every package of others that ``module`` imports."""
    found = set()
    for node in ast.walk(tree_of(module)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module} has a relative import"
            found.add(node.module or "")
    return frozenset(found)


def room(module: str) -> str:
    """Return the room a module is in: the longest name of the plan that it begins with."""
    if module in GROUND or module.startswith("nesting.languages"):
        return "ground"
    home = module if path_of(module).name == "__init__.py" else module.rpartition(".")[0]
    while home not in ROOMS:
        home = home.rpartition(".")[0]
    return home


def ours(module: str) -> list[str]:
    """Return the modules of both packages that a module imports."""
    return [one for one in imports_of(module) if any(within(one, package) for package in PACKAGES)]


def within(module: str, package: str) -> bool:
    """Tell whether ``module`` is ``package`` or lies in it."""
    return module == package or module.startswith(package + ".")


@pytest.mark.parametrize("module", modules())
def test_rooms_import_what_the_plan_lets_them(module: str) -> None:
    """Data flows one way, from pieces to pages; the judge sees neither plan, lay nor engine."""
    own = room(module)
    for imported in ours(module):
        other = room(imported)
        if other in {own, "ground"} or (own == "nesting" and module == "nesting.__main__"):
            continue
        assert own != "ground", f"{module} is the ground and imports {imported}"
        assert other.rpartition(".")[2] in ROOMS[own].split(), f"{module} imports {imported}"


def test_the_plan_has_no_circle_and_no_arrow_that_nobody_uses() -> None:
    """Each room is listed after all it may import, and imports each of them somewhere."""
    used = {(room(name), room(other)) for name in modules() for other in ours(name)}
    short = {name.rpartition(".")[2]: name for name in ROOMS}
    for place, (name, allowed) in enumerate(ROOMS.items()):
        for other in allowed.split():
            assert list(ROOMS).index(short[other]) < place, f"{name} may import {other}"
            assert (name, short[other]) in used, f"{name} does not import {other}"


@pytest.mark.parametrize("question", QUESTIONS)
def test_questions_stand_apart(question: str) -> None:
    """Each room under answers builds on what they share, never on another question's room."""
    home = f"nesting.answers.{question}"
    others = [f"nesting.answers.{other}" for other in QUESTIONS if other != question]
    for name in modules():
        if within(name, home):
            assert [one for one in ours(name) if any(within(one, o) for o in others)] == []
        elif room(name) == "nesting.answers" and not any(within(name, other) for other in others):
            assert [one for one in ours(name) if within(one, home)] == []


def test_the_judge_never_imports_what_it_judges() -> None:
    """Checks see cloth and marker alone; nothing they judge by is the maker's own."""
    for name in modules():
        if room(name) == "nesting.checks":
            reached = {room(one) for one in ours(name)}
            assert not reached & {"nesting.plan", "nesting.lay", "nesting.engine"}, name


@pytest.mark.parametrize(
    ("package", "home"),
    [
        ("numba", "nesting.engine.kernels.jit"),
        ("matplotlib", "nesting.draw"),
        ("pydantic", None),
        ("typer", "nesting.cli"),
        ("starlette", "nesting.web"),
        ("jinja2", "nesting.web"),
        ("babel", "nesting.languages"),
        ("uvicorn", "nesting.web.server"),
        ("h11", "nesting.web.server"),
        ("rich", "nesting.cli"),
        ("pyclipper", "nesting.engine.no_fit"),
        ("defusedxml", "pieces.drawing.safe_xml"),
        ("ezdxf", "pieces"),
        ("cv2", "pieces.photo.library"),
        ("distributed", "nesting.answers.chart.cluster"),
        ("pyarrow", "nesting.answers.chart.parquet"),
    ],
)
def test_each_dependency_has_one_home(package: str, home: str | None) -> None:
    """Numba in one file, matplotlib under draw, pydantic only where files are read."""
    users = [
        name
        for name in modules()
        if any(within(imported, package) for imported in imports_of(name))
    ]

    assert users, f"nothing imports {package}"
    for user in users:
        if home is None:
            assert user.endswith(("_file", "_sheet")), f"{user} imports {package}"
        else:
            assert within(user, home), f"{user} imports {package}"


@pytest.mark.parametrize("module", modules())
def test_modules_and_functions_stay_small(module: str) -> None:
    """400 lines a module; 40 lines and seven parameters a function, kernels 80 lines."""
    text = path_of(module).read_text()
    assert len(text.splitlines()) <= 400
    is_kernel = within(module, "nesting.engine.kernels")
    for node in ast.walk(tree_of(module)):
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        body = node.body[1:] if ast.get_docstring(node) else node.body
        lines = body[-1].end_lineno - body[0].lineno + 1 if body else 0  # type: ignore[operator]
        assert lines <= (80 if is_kernel else 40), f"{module}.{node.name} has {lines} lines"
        if not is_kernel:
            names = [*node.args.args, *node.args.kwonlyargs]
            given = [name for name in names if name.arg not in {"self", "cls"}]
            is_command = within(module, "nesting.cli")
            assert len(given) <= (30 if is_command else 7), f"{module}.{node.name}"


@pytest.mark.parametrize("module", modules())
def test_nothing_prints_outside_the_command_line(module: str) -> None:
    """Words reach people through the command line alone."""
    if within(module, "nesting.cli"):
        return
    calls = (node for node in ast.walk(tree_of(module)))
    prints = [
        node
        for node in calls
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        if node.func.id == "print"
    ]
    assert prints == []


@pytest.mark.parametrize("module", modules())
def test_no_module_asks_for_the_time_of_day(module: str) -> None:
    """The clock on the wall may be set while a search runs; a deadline needs one that goes on."""
    asked = [
        node.attr
        for node in ast.walk(tree_of(module))
        if isinstance(node, ast.Attribute)
        if isinstance(node.value, ast.Name) and node.value.id == "time"
    ]

    assert not imports_of(module) & {"datetime"}
    assert set(asked) <= {"monotonic", "perf_counter", "process_time", "sleep"}


@pytest.mark.parametrize("module", ["pieces.pattern", "nesting.cloth.bolt", "nesting.draw"])
def test_importing_does_nothing_heavy(module: str) -> None:
    """A noun, or the drawing package, brings neither numba nor matplotlib with it."""
    code = f"import sys, {module}; print([m for m in ('numba', 'matplotlib') if m in sys.modules])"

    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )

    assert done.stdout.strip() == "[]"


# What the judge may take from the rooms of the maker: nouns, as data. Their functions, and the
# properties that reckon, are the maker's own, and a fault in them would be a fault in both.
JUDGES_NOUNS = {
    "nesting.cloth.bolt": {"Bolt"},
    "nesting.cloth.lay_rules": {"LayRules"},
    "nesting.cloth.repeat": {"Axis", "GivenUp"},
    "nesting.cloth.spread": {"Spread", "Stretch"},
    "nesting.marker.cut_list": {"CutItem", "Selection"},
    "nesting.marker.marker": {"Marker"},
    "nesting.marker.placement": {"Placement"},
    "pieces.finding": {"Finding", "Severity"},
    "pieces.grainline": {"Grain", "Point"},
    "pieces.marks": {"MatchWay"},
    "pieces.measures.format": {"format_both"},
    "pieces.outline.polygon": {"FloatArray"},
    "pieces.pattern": {"Pattern"},
    "pieces.piece": {"Piece", "PieceShape"},
}
RECKONING = {
    *("usable_width_mm", "laid_repeat", "has_direction", "extra_repeat_mm", "is_symmetric"),
    *("item_by_key", "table_mm", "end_mm", "angle_deg", "cut_for"),
    *("pieces_for", "cloths_for", "notions_for"),
}


def judges() -> list[str]:
    """Return the modules of the judge."""
    return [name for name in modules() if room(name) == "nesting.checks"]


@pytest.mark.parametrize("module", judges())
def test_the_judge_takes_nothing_but_nouns_from_the_maker(module: str) -> None:
    """A rule that maker and judge share cannot be judged: see the list of nouns above."""
    for node in ast.walk(tree_of(module)):
        if isinstance(node, ast.ImportFrom) and within(node.module or "", "nesting.checks"):
            continue
        if isinstance(node, ast.ImportFrom) and ours(module).count(node.module or ""):
            taken = {alias.name for alias in node.names}
            assert taken <= JUDGES_NOUNS.get(node.module or "", set()), f"{module}: {taken}"
        if isinstance(node, ast.Import):
            assert not {alias.name for alias in node.names if alias.name.startswith(PACKAGES)}


@pytest.mark.parametrize("module", judges())
def test_the_judge_reads_fields_and_no_property_that_reckons(module: str) -> None:
    """Usable width, washed repeat, end of a stretch: the judge works them out for itself."""
    read = {node.attr for node in ast.walk(tree_of(module)) if isinstance(node, ast.Attribute)}

    assert not read & RECKONING
    pairs = {
        f"{getattr(node.value, 'attr', getattr(node.value, 'id', ''))}.{node.attr}"
        for node in ast.walk(tree_of(module))
        if isinstance(node, ast.Attribute)
    }
    reckoned = {"bolt.cut_length_mm", "bolt.shop_length_mm", "repeat.length_mm", "item.count"}
    assert not pairs & reckoned
