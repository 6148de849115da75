"""Every test checks something, read from the source of all tests."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path

from tests.test_imports import MAY_IMPORT, PACKAGE

FOLDER = Path(__file__).parent
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.rglob("*.py"))}
TESTS = {
    f"{path.relative_to(FOLDER)}::{node.name}": node
    for path, tree in TREES.items()
    if path.name.startswith("test_")
    for node in tree.body
    if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
}
#: What pytest itself calls a check.
PYTEST = {"raises", "warns", "fail"}
#: Errors so wide that the one of a failed assert is among them.
WIDE = {"AssertionError", "Exception", "BaseException"}
#: Folders of tests that have no room of their own in the package.
APART = {"benchmarks"}


def called(node: ast.AST) -> Iterator[str]:
    """Yield the name of everything called below a node, without what it belongs to."""
    for one in ast.walk(node):
        if isinstance(one, ast.Call):
            if isinstance(one.func, ast.Name):
                yield one.func.id
            elif isinstance(one.func, ast.Attribute):
                yield one.func.attr


def has_assert(node: ast.AST) -> bool:
    """Say whether an assert stands below a node, or a call of pytest that checks."""
    return any(isinstance(one, ast.Assert) for one in ast.walk(node)) or bool(
        PYTEST & set(called(node))
    )


def checkers() -> set[str]:
    """Return the names of the tests' own functions that check, or call one that does."""
    functions = [
        node
        for tree in TREES.values()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
    ]
    found = {one.name for one in functions if has_assert(one)}
    while True:
        more = {one.name for one in functions if found & set(called(one))} - found
        if not more:
            return found
        found |= more


CHECKERS = checkers()


def checks(node: ast.AST) -> bool:
    """Say whether something below a node can fail a test."""
    return has_assert(node) or bool(CHECKERS & set(called(node)))


def is_there(loop: ast.expr, test: ast.FunctionDef) -> bool:
    """Say whether what a loop goes over is known to hold something, as far as can be read.

    A range, a constant or an enumeration of the module, a literal or a variable that is one, and
    whatever is returned by a function that checks it.
    """
    if isinstance(loop, ast.Call):
        if isinstance(loop.func, ast.Attribute) and loop.func.attr in {"items", "values"}:
            return is_there(loop.func.value, test)
        if isinstance(loop.func, ast.Name) and loop.func.id == "range":
            return True
        if isinstance(loop.func, ast.Name) and loop.func.id in {"enumerate", "sorted", "zip"}:
            return all(is_there(one, test) for one in loop.args)
        return bool(CHECKERS & set(called(loop)))
    if isinstance(loop, ast.Tuple | ast.List | ast.Set):
        return bool(loop.elts)
    if isinstance(loop, ast.Dict):
        return bool(loop.keys)
    if not isinstance(loop, ast.Name):
        return False
    literals = [
        node.value
        for node in ast.walk(test)
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name) and target.id == loop.id
    ]
    if literals:
        kinds = ast.Tuple | ast.List | ast.Set | ast.Dict
        return all(isinstance(one, kinds) and is_there(one, test) for one in literals)
    return loop.id[0].isupper()


def always_checks(body: Iterable[ast.stmt], test: ast.FunctionDef) -> bool:
    """Say whether whoever runs these statements to their end has come by a check."""
    for one in body:
        if isinstance(one, ast.For):
            found = is_there(one.iter, test) and always_checks(one.body, test)
        elif isinstance(one, ast.If):
            found = always_checks(one.body, test) and always_checks(one.orelse, test)
        elif isinstance(one, ast.With):
            found = any(checks(item.context_expr) for item in one.items)
            found = found or always_checks(one.body, test)
        elif isinstance(one, ast.Try):
            found = always_checks([*one.body, *one.orelse, *one.finalbody], test)
        else:
            found = not isinstance(one, ast.While | ast.FunctionDef | ast.ClassDef) and checks(one)
        if found:
            return True
    return False


def own_statements(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what stands in a function, without the functions inside it."""
    for below in ast.iter_child_nodes(node):
        if not isinstance(below, ast.FunctionDef | ast.Lambda | ast.ClassDef):
            yield below
            yield from own_statements(below)


def is_drawn(test: ast.FunctionDef) -> bool:
    """Say whether a test is run many times, on cases that are drawn."""
    return any("given" in called(one) for one in test.decorator_list)


def caught(node: ast.AST) -> Iterator[str]:
    """Yield the names of the errors that a handler, or ``suppress``, keeps from the test."""
    kinds: list[ast.expr] = []
    if isinstance(node, ast.ExceptHandler):
        kinds = [node.type or ast.Name("BaseException")]
    elif isinstance(node, ast.With):
        calls = [item.context_expr for item in node.items]
        kinds = [call for call in calls if "suppress" in called(ast.Expr(call))]
    for kind in kinds:
        yield from (one.id for one in ast.walk(kind) if isinstance(one, ast.Name))


def test_every_test_checks_something() -> None:
    """No test is without a check, and none has all its checks where it may never come.

    Cases that are drawn may differ: there a check may depend on the case.
    """
    assert len(TESTS) > 1000
    assert [name for name, test in TESTS.items() if not checks(test)] == []
    named = {name: test for name, test in TESTS.items() if not is_drawn(test)}
    assert [name for name, test in named.items() if not always_checks(test.body, test)] == []


def test_no_test_ends_early() -> None:
    """A test that returns passes; one that has nothing to check has to say so to pytest."""
    assert [
        (name, node.lineno)
        for name, test in TESTS.items()
        for node in own_statements(test)
        if isinstance(node, ast.Return)
    ] == []


def test_no_failed_check_is_caught() -> None:
    """Nothing around a check catches errors as wide as its own."""
    assert [
        name for name, test in TESTS.items() for node in ast.walk(test) if WIDE & set(caught(node))
    ] == []


def test_a_test_without_a_check_is_found() -> None:
    """The readers above tell tests that check from such as do not."""
    good = (
        "assert f()",
        "with pytest.raises(ValueError):\n  f()",
        "for one in (1, 2):\n  assert one",
        "seen = f()\nassert seen\nfor one in seen:\n  assert one",
    )
    bad = (
        "f()",
        "for one in f():\n  assert one",
        "if f():\n  assert g()",
        "for one in ():\n  assert one",
        "seen = f()\nfor one in seen:\n  assert one",
    )
    for text, expected in (*((one, True) for one in good), *((one, False) for one in bad)):
        (test,) = ast.parse("def test():\n  " + text.replace("\n", "\n  ")).body
        assert isinstance(test, ast.FunctionDef)
        assert (checks(test) and always_checks(test.body, test)) is expected, text


def test_every_folder_of_tests_has_its_room() -> None:
    """The tests lie in the rooms of what they test, each beneath the room of its name."""
    rooms = {path.name for path in FOLDER.iterdir() if (path / "__init__.py").is_file()} - APART
    assert rooms
    assert rooms <= {name for name in MAY_IMPORT if (PACKAGE / name).is_dir()}
