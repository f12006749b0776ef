"""The house keeps its plan: arrows point one way, modules stay small, heavy things stay out."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("pieces", "nesting")

# Stage of each module, or of a whole package where all its modules share one; a module may import
# from its own stage or an earlier one.
STAGES = {
    "pieces": 3,
    "pieces.errors": 0,
    "pieces.measures.lengths": 0,
    "pieces.finding": 0,
    "pieces.measures.tape": 1,
    "pieces.measures.paper_sizes": 1,
    "pieces.files.atomic_file": 0,
    "pieces.files.text_file": 0,
    "pieces.outline.polygon": 1,
    "pieces.outline.transform": 1,
    "pieces.outline.curves": 1,
    "pieces.outline.simplify": 1,
    "pieces.grainline": 2,
    "pieces.marks": 2,
    "pieces.piece": 2,
    "pieces.shaping.unfold": 2,
    "pieces.pattern": 2,
    "pieces.wearer": 2,
    "nesting.errors": 0,
    "nesting.languages": 0,
    "nesting.cloth.repeat": 4,
    "nesting.cloth.flaw": 4,
    "nesting.cloth.shrinkage": 4,
    "nesting.cloth.bolt": 4,
    "nesting.cloth.spread": 4,
    "nesting.cloth.lay_rules": 4,
    "nesting.marker.cut_list": 4,
    "nesting.plan.lay_plan": 4,
    "nesting.plan.flaw_places": 4,
    "nesting.cloth.words": 4,
    "nesting.plan.repeat_phases": 4,
    "nesting.plan.match_ties": 4,
    "nesting.plan.matching": 4,
    "nesting.marker.placement": 4,
    "nesting.marker.marker": 4,
    "nesting.marker.measure": 4,
    "nesting.marker.marker_file": 4,
    "nesting.marker.marker_drawing": 4,
    "nesting.cli.import_rows": 4,
    "nesting.reckoning": 4,
    "nesting.answers.shopping.cautions": 4,
    "nesting.engine.kernels": 5,
    "nesting.engine": 6,
    "nesting.checks.marker_checks": 6,
    "nesting.checks.laid_pieces": 6,
    "nesting.checks.plies": 6,
    "nesting.lay.unfolding": 6,
    "nesting.checks.match_checks": 6,
    "nesting.checks.cloth_checks": 6,
    "nesting.plan.bounds": 6,
    "nesting.draw": 7,
    "nesting.lay.strips": 7,
    "nesting.cloth.bolt_list_file": 7,
    "nesting.answers.bolt_ranking": 7,
    "nesting.answers.costs": 7,
    "nesting.answers.costs_tables": 7,
    "nesting.lay.any_spread": 7,
    "nesting.lay.one_spread": 7,
    "nesting.lay.best_spread": 7,
    "nesting.answers.compare": 7,
    "nesting.answers.chart.fingerprint": 7,
    "nesting.answers.chart.cell_file": 7,
    "nesting.answers.chart.cells": 7,
    "nesting.answers.chart.chart": 7,
    "nesting.answers.chart.catalogue": 7,
    "nesting.answers.chart.catalogue_page": 7,
    "nesting.answers.chart.cluster": 7,
    "nesting.answers.chart.parquet": 7,
    "nesting.answers.chart.chart_tables": 7,
    "nesting.answers.chart.chart_picture": 7,
    "nesting.answers.fits.allocation": 7,
    "nesting.answers.fits.fits": 7,
    "nesting.answers.fits.fits_tables": 7,
    "nesting.answers.what_if.sensitivity": 7,
    "nesting.answers.what_if.changed_bolt": 7,
    "nesting.marker.tape_table": 7,
    "nesting.answers.order.order": 7,
    "nesting.answers.order.order_file": 7,
    "nesting.answers.order.order_tables": 7,
    "nesting.answers.compare_words": 7,
    "nesting.answers.rows": 7,
    "nesting.answers.shopping.shopping": 7,
    "nesting.answers.shopping.shopping_words": 7,
    "nesting.answers.shopping.shopping_tables": 7,
    "nesting.answers.shopping.shopping_page": 7,
    "nesting": 8,
    "nesting.cli": 9,
    "nesting.web": 9,
    "nesting.__main__": 9,
}
# Arrows that no stage forbids and the plan does: judge and judged, picture and search.
NEVER = [
    ("nesting.checks.marker_checks", "nesting.engine"),
    ("nesting.checks.marker_checks", "nesting.engine.kernels"),
    *(
        (check, other)
        for check in (
            "nesting.checks.laid_pieces",
            "nesting.checks.plies",
            "nesting.checks.match_checks",
            "nesting.checks.cloth_checks",
        )
        for other in ("nesting.engine", "nesting.engine.kernels")
    ),
    ("nesting.checks.match_checks", "nesting.plan.matching"),
    ("nesting.checks.match_checks", "nesting.plan.match_ties"),
    ("nesting.checks.match_checks", "nesting.plan.repeat_phases"),
    ("nesting.checks.cloth_checks", "nesting.plan.flaw_places"),
    ("nesting.checks.plies", "nesting.lay.unfolding"),
    ("nesting.checks.marker_checks", "nesting.lay.unfolding"),
    ("nesting.plan.bounds", "nesting.engine"),
    ("nesting.plan.bounds", "nesting.engine.kernels"),
    ("nesting.engine", "nesting.checks.marker_checks"),
    ("nesting.engine", "nesting.plan.bounds"),
    ("nesting.draw", "nesting.engine"),
    ("nesting.engine.kernels", "pieces"),
]
# What a module may need before its time: the version number alone.
VERSION_ONLY = {"nesting.lay.one_spread", "nesting.answers.chart.cell_file"}


def modules() -> list[str]:
    """Return the dotted names of all modules of both packages."""
    paths = (path for package in PACKAGES for path in (ROOT / package).rglob("*.py"))
    names = (path.relative_to(ROOT).with_suffix("").parts for path in paths)
    return sorted(".".join(parts[:-1] if parts[-1] == "__init__" else parts) for parts in names)


def path_of(module: str) -> Path:
    """Return the file of a module."""
    base = ROOT.joinpath(*module.split("."))
    return base / "__init__.py" if base.is_dir() else base.with_suffix(".py")


def imports_of(module: str) -> set[str]:
    """Return every module of ours and every package of others that ``module`` imports."""
    found = set()
    for node in ast.walk(ast.parse(path_of(module).read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module} has a relative import"
            found.add(node.module or "")
    return found


def stage(module: str) -> int:
    """Return the stage of a module, by its own name or that of the package it is in."""
    while module not in STAGES:
        module = module.rpartition(".")[0]
    return STAGES[module]


def within(module: str, package: str) -> bool:
    """Tell whether ``module`` is ``package`` or lies in it."""
    return module == package or module.startswith(package + ".")


@pytest.mark.parametrize("module", modules())
def test_no_module_imports_from_a_later_stage(module: str) -> None:
    """Data flows one way, from pieces to pages."""
    for imported in imports_of(module):
        if not any(within(imported, package) for package in PACKAGES):
            continue
        if imported == "nesting" and module in VERSION_ONLY:
            continue
        assert stage(imported) <= stage(module), f"{module} imports {imported}"


@pytest.mark.parametrize("module", [m for m in modules() if within(m, "nesting.reckoning")])
def test_sums_of_the_trade_know_pieces_and_errors_alone(module: str) -> None:
    """No bolt, no marker: a rule of thumb can be held against them only if it knows neither."""
    ours = {name for name in imports_of(module) if any(within(name, p) for p in PACKAGES)}
    homes = ("pieces", "nesting.errors", "nesting.reckoning")

    assert [name for name in ours if not any(within(name, home) for home in homes)] == []


@pytest.mark.parametrize(("module", "forbidden"), NEVER)
def test_judge_and_judged_are_strangers(module: str, forbidden: str) -> None:
    """Checks and bounds never import the engine, nor the engine them; pictures need no search."""
    for name in modules():
        if within(name, module):
            reached = [imported for imported in imports_of(name) if within(imported, forbidden)]
            assert reached == [], f"{name} imports {reached}"


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
        ("uvicorn", "nesting.cli.serve_command"),
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
    for node in ast.walk(ast.parse(text)):
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
    calls = (node for node in ast.walk(ast.parse(path_of(module).read_text())))
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
        for node in ast.walk(ast.parse(path_of(module).read_text()))
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
