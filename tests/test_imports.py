"""The one-way flow of imports, read from the source of the whole package."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "cutlist"
MODULES = sorted(PACKAGE.rglob("*.py"))

#: For each layer the layers of this package that its modules may import, itself aside.
MAY_IMPORT = {
    "errors": set[str](),
    "model": set[str](),
    "lengths": {"errors", "model"},
    "grid": {"errors"},
    "tables": set[str](),
    "plan_json": {"model"},
    "rack": {"errors", "model", "lengths"},
    "reading": {"errors", "model", "lengths", "grid", "tables", "rack"},
    "nesting": {"errors", "model"},
    "sequencing": {"model"},
    "audit": {"errors", "model", "lengths"},
    "drawing": {"errors", "model", "lengths"},
    "breakdown": {"errors", "model", "grid", "nesting", "sequencing"},
    "planning": {"errors", "model", "lengths", "grid", "nesting", "sequencing", "breakdown"}
    | {"audit"},
    "progress": {"model", "planning", "drawing"},
    "compare_report": {"model", "tables", "drawing", "plan_json"},
    "report": {"errors", "model", "lengths", "tables", "drawing", "planning", "plan_json"},
    "writing": {"errors", "model", "drawing", "plan_json", "rack"},
    "taking": {"errors", "model", "rack", "writing"},
    "terminal": {"errors", "tables", "report"},
    "rack_report": {"model", "tables", "drawing", "rack"},
    "offcuts": {"errors", "model", "reading", "rack", "drawing", "writing"}
    | {"rack_report", "terminal"},
    "__init__": {"model", "reading", "nesting", "planning", "writing"},
    "cli": {"errors", "model", "reading", "nesting", "planning", "drawing"}
    | {"progress", "report", "writing", "plan_json", "tables", "__init__"}
    | {"offcuts", "rack", "rack_report", "taking", "terminal", "compare_report"},
    "__main__": {"cli"},
}

#: Packages of others that a layer may use; every layer may use the standard library.
MAY_USE = {
    "audit": {"shapely"},
    "drawing": {"reportlab"},
    "nesting": {"numba", "numpy", "ortools"},
    "sequencing": {"numpy", "ortools"},
    "breakdown": {"numpy"},
    "reading": {"pydantic", "yaml"},
    "progress": {"rich"},
    "cli": {"typer"},
    "offcuts": {"typer"},
    "terminal": {"typer"},
}


def layer_of(path: Path) -> str:
    """Return the layer of a module: its folder, or its own name at the top."""
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def imports(path: Path) -> Iterator[str]:
    """Yield every module that a module imports, at its head or inside a function."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            assert node.module
            if node.module == "cutlist":
                yield from (f"cutlist.{name.name}" for name in node.names)
            else:
                yield node.module


def test_every_layer_is_known() -> None:
    """A new folder or module has to say what it may import."""
    assert {layer_of(path) for path in MODULES} == set(MAY_IMPORT)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_go_one_way(path: Path) -> None:
    """A module imports from the layers below its own, and only the packages its layer needs."""
    layer = layer_of(path)
    for name in imports(path):
        first, *below = name.split(".")
        if first == "cutlist":
            target = below[0] if below else "__init__"
            assert target == layer or target in MAY_IMPORT[layer], f"{path.name} imports {name}"
        elif first not in sys.stdlib_module_names:
            assert first in MAY_USE.get(layer, set()), f"{path.name} imports {name}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_only_the_command_line_prints_or_ends(path: Path) -> None:
    """Library modules print nothing, end nothing, and do not touch the standard streams."""
    if layer_of(path) in {"cli", "terminal"}:
        return
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in {"print", "exit", "quit", "input"}, f"line {node.lineno}"
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            name = f"{node.value.id}.{node.attr}"
            forbidden = {"sys.exit", "sys.stdout", "sys.stderr", "os._exit"}
            assert name not in forbidden, f"{name} in line {node.lineno}"
        if isinstance(node, ast.Raise) and node.exc is not None:
            raised = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
            is_exit = isinstance(raised, ast.Name) and raised.id == "SystemExit"
            assert not is_exit, f"line {node.lineno}"
