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
    "units": {"errors"},
    "model": {"units"},
    "ledger": {"model", "units"},
    "rack": {"errors", "units", "model", "ledger"},
    "reading": {"errors", "units", "model", "rack"},
    "compiling": set(),
    "nesting": {"errors", "model", "compiling"},
    "sequencing": {"model", "compiling"},
    "breakdown": {"errors", "units", "model", "nesting", "sequencing"},
    "audit": {"errors", "units", "model"},
    "planning": {"errors", "units", "model", "ledger", "nesting", "sequencing", "breakdown"}
    | {"audit", "compiling"},
    "telling": {"errors", "units", "model", "ledger", "rack"},
    "drawing": {"errors", "units", "model", "ledger", "telling"},
    "output": {"errors", "units", "model", "ledger", "rack", "telling", "drawing"},
    "__init__": {"errors", "units", "model", "reading", "nesting", "planning", "drawing", "output"},
    "command": {"errors", "units", "model", "ledger", "reading", "nesting", "planning"}
    | {"rack", "telling", "drawing", "output", "__init__"},
    "__main__": {"command"},
}

#: The same inside a room that has rooms of its own: from the innermost outwards.
INNER_ORDER = {
    "nesting": ("", "bounds", "kernels", "layouts", "columns", "search"),
    "drawing": ("", "sheets", "pages"),
    "planning": (
        *("instructions", "remedies", "terms", "dividing", "packing", "ordering", "assembling"),
        "",
    ),
}

#: Packages of others that a layer may use; every layer may use the standard library.
MAY_USE = {
    "audit": {"shapely"},
    "drawing": {"reportlab"},
    "nesting": {"numba", "numpy", "ortools"},
    "sequencing": {"numba", "numpy", "ortools"},
    "breakdown": {"numpy"},
    "reading": {"yaml"},
    "command": {"rich", "typer"},
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


@pytest.mark.parametrize(
    "path",
    [path for path in MODULES if layer_of(path) != "command"],
    ids=lambda path: str(path.relative_to(PACKAGE)),
)
def test_only_the_command_line_prints_or_ends(path: Path) -> None:
    """Library modules print nothing, end nothing, and do not touch the standard streams."""
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


def name_of(path: Path) -> str:
    """Return the dotted name of a module; a package has that of its folder."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def graph() -> dict[str, set[str]]:
    """Return for each module the modules of this package that it imports."""
    known = {name_of(path): path for path in MODULES}
    arrows: dict[str, set[str]] = {}
    for name, path in known.items():
        targets = arrows.setdefault(name, set())
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.ImportFrom) or not node.module:
                continue
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                target = inner if inner in known else node.module
                if target in known and target != name:
                    targets.add(target)
    return arrows


def test_no_module_leads_back_to_itself() -> None:
    """There is no circle of imports, neither between rooms nor inside one."""
    arrows = graph()
    done: set[str] = set()

    def follow(name: str, way: tuple[str, ...]) -> None:
        assert name not in way, " > ".join((*way[way.index(name) :], name))
        if name in done:
            return
        for target in sorted(arrows[name]):
            follow(target, (*way, name))
        done.add(name)

    for name in sorted(arrows):
        follow(name, ())


@pytest.mark.slow
@pytest.mark.parametrize("room", INNER_ORDER)
def test_inner_rooms_import_inwards_only(room: str) -> None:
    """A room inside a room imports none that stands further out."""
    order = INNER_ORDER[room]

    def place(name: str) -> int | None:
        parts = name.split(".")
        if parts[1:2] != [room]:
            return None
        return order.index(parts[2] if parts[2:3] and parts[2] in order else "")

    for name, targets in graph().items():
        mine = place(name)
        for target in targets:
            theirs = place(target)
            if mine is not None and theirs is not None:
                assert theirs <= mine, f"{name} imports {target}"
