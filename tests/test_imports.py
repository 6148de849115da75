"""The one-way flow of imports, read from the source of the whole package."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "cutlist"
MODULES = sorted(PACKAGE.rglob("*.py"))

#: For each layer the layers of this package that its modules may import, itself aside.
MAY_IMPORT = {
    "errors": set[str](),
    "units": {"errors"},
    "model": {"errors", "units"},
    "ledger": {"units", "model"},
    "rack": {"errors", "units", "model", "ledger"},
    "reading": {"errors", "units", "model", "rack"},
    "compiling": set(),
    "nesting": {"errors", "model", "compiling"},
    "sequencing": {"model", "nesting", "compiling"},
    "breakdown": {"errors", "units", "model", "nesting", "sequencing"},
    "audit": {"units", "model"},
    "planning": {"errors", "units", "model", "ledger", "nesting", "sequencing", "breakdown"}
    | {"audit", "compiling"},
    "telling": {"errors", "units", "model", "ledger", "rack"},
    "drawing": {"units", "model", "ledger", "telling"},
    "output": {"errors", "units", "model", "ledger", "rack", "drawing", "telling"},
    "__init__": {"errors", "units", "model", "reading", "nesting", "planning", "drawing", "output"},
    "command": {"errors", "units", "model", "reading", "nesting", "planning"}
    | {"rack", "telling", "drawing", "output", "__init__"},
    "__main__": {"command"},
}

#: The same inside a room that has rooms of its own: from the innermost outwards. "" are its other
#: modules; one of them may have a place of its own.
INNER_ORDER = {
    "nesting": ("", "bounds", "kernels", "layouts", "columns", "search"),
    "sequencing": ("kernel_cache", "order_kernels", ""),
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


@cache
def tree_of(path: Path) -> ast.Module:
    """Return what stands in a module."""
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def imports(path: Path) -> tuple[str, ...]:
    """Return every module that a module imports, at its head or inside a function."""
    return tuple(imported(path))


def imported(path: Path) -> Iterator[str]:
    """Yield the modules as they stand in the source."""
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            assert node.module
            if node.module == "cutlist":
                yield from (f"cutlist.{name.name}" for name in node.names)
            else:
                yield node.module


def folders(path: Path) -> set[str]:
    """Return the names of the rooms in a folder."""
    return {below.parent.name for below in path.glob("*/__init__.py")}


def test_every_layer_is_known() -> None:
    """A new folder or module has to say what it may import, and the tables name no other."""
    layers = {layer_of(path) for path in MODULES}
    assert layers == set(MAY_IMPORT)
    assert {name for names in MAY_IMPORT.values() for name in names} <= layers
    assert set(MAY_USE) <= layers


def test_every_inner_room_has_its_place() -> None:
    """Each room with rooms of its own has an order, of all of these and of what is there."""
    inner = {room: folders(PACKAGE / room) for room in folders(PACKAGE)}
    assert {room for room, names in inner.items() if names} == set(INNER_ORDER)
    for room, order in INNER_ORDER.items():
        modules = {path.stem for path in (PACKAGE / room).glob("*.py")}
        assert len(order) == len(set(order)), room
        assert inner[room] | {""} <= set(order) <= inner[room] | {""} | modules, room


def test_no_leave_is_idle() -> None:
    """A layer has no leave for a layer or a package that none of its modules imports."""
    layers = {layer: [path for path in MODULES if layer_of(path) == layer] for layer in MAY_IMPORT}
    names = {layer: {n for path in layers[layer] for n in imports(path)} for layer in layers}
    for layer, used in names.items():
        packages = {name.split(".")[0] for name in used}
        assert MAY_USE.get(layer, set()) <= packages, layer
        own = [[*name.split("."), "__init__"] for name in used]
        below = {second for first, second, *_ in own if first == "cutlist"}
        assert MAY_IMPORT[layer] <= below, layer


def test_no_layer_may_lead_back_to_itself() -> None:
    """The table itself has no circle: layers can be taken away, each after all that import it."""
    left = dict(MAY_IMPORT)
    for _ in MAY_IMPORT:
        free = {name for name in left if not any(name in others for others in left.values())}
        left = {name: below for name, below in left.items() if name not in free}
    assert left == {}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_go_one_way(path: Path) -> None:
    """A module imports from the layers below its own, and only the packages its layer needs."""
    layer = layer_of(path)
    assert layer in MAY_IMPORT
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
    forbidden = {"print", "exit", "quit", "input", "SystemExit"}
    forbidden |= {"sys.exit", "sys.stdout", "sys.stderr", "os._exit"}
    found = []
    for node in ast.walk(tree_of(path)):
        name = ""
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            name = node.func.id
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            name = f"{node.value.id}.{node.attr}"
        elif isinstance(node, ast.Raise) and isinstance(node.exc, ast.Name):
            name = node.exc.id
        if name in forbidden:
            found.append((name, getattr(node, "lineno", 0)))
    assert found == []


def name_of(path: Path) -> str:
    """Return the dotted name of a module; a package has that of its folder."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def graph() -> dict[str, set[str]]:
    """Return for each module the modules of this package that it imports."""
    known = {name_of(path): path for path in MODULES}
    arrows: dict[str, set[str]] = {}
    for name, path in known.items():
        targets = arrows.setdefault(name, set())
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.Import):
                targets |= {one.name for one in node.names if one.name in known}
            elif isinstance(node, ast.ImportFrom):
                assert node.module
                for one in node.names:
                    inner = f"{node.module}.{one.name}"
                    targets |= {inner if inner in known else node.module} & set(known)
        targets.discard(name)
    return arrows


def test_no_module_leads_back_to_itself() -> None:
    """There is no circle of imports, neither between rooms nor inside one."""
    arrows = graph()
    assert len(arrows) == len(MODULES)
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


@pytest.mark.parametrize("room", INNER_ORDER)
def test_inner_rooms_import_inwards_only(room: str) -> None:
    """A room inside a room imports none that stands further out."""
    order = INNER_ORDER[room]

    def place(name: str) -> int | None:
        parts = name.split(".")
        if parts[1:2] != [room]:
            return None
        return order.index(parts[2] if parts[2:3] and parts[2] in order else "")

    assert any(place(name) for name in graph())
    for name, targets in graph().items():
        mine = place(name)
        for target in targets:
            theirs = place(target)
            if mine is not None and theirs is not None:
                assert theirs <= mine, f"{name} imports {target}"


def test_no_two_classes_share_a_name() -> None:
    """Whoever reads a class's name knows which one is meant, in whatever room."""
    told: dict[str, str] = {}
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                assert node.name not in told, f"{node.name}: {told[node.name]}, {path.name}"
                told[node.name] = path.name
    assert len(told) > 100
