"""The audit as a whole: sound plans pass, and each rule broken alone gives its code."""

from __future__ import annotations

import ast
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import cutlist.audit
from cutlist.audit import Code, Finding, audit
from tests.audit.broken import BROKEN, STILL_SOUND, Edit
from tests.audit.edits import with_bounds, with_item, with_totals
from tests.audit.plans import SOUND


@pytest.mark.parametrize("name", SOUND)
def test_sound_plan_has_no_findings(name: str) -> None:
    """A plan worked out by hand passes."""
    assert audit(SOUND[name]()) == ()


@pytest.mark.parametrize(
    ("plan", "edit", "codes"),
    [pytest.param(plan, edit, codes, id=name) for name, plan, edit, codes in BROKEN],
)
def test_each_rule_broken_gives_its_code(plan: str, edit: Edit, codes: set[int]) -> None:
    """One thing changed in a sound plan gives the codes expected, and no others."""
    findings = audit(edit(SOUND[plan]()))
    assert {int(finding.code) for finding in findings} == codes, [str(x) for x in findings]


def test_every_code_is_tried() -> None:
    """Every code is expected by one of the broken plans, but for the check that fails itself."""
    tried = {code for _, _, _, codes in BROKEN for code in codes}
    assert tried == set(Code) - {Code.CHECK_FAILED}


def test_all_findings_are_listed_in_order_of_code() -> None:
    """Several faults in one plan all come out, sorted by code."""
    plan = SOUND["plain"]()
    plan = with_totals(with_bounds(plan, sheets=7), cuts=99, parts=99)
    plan = with_item(plan, "panels", 0, part="lid")
    codes = [finding.code for finding in audit(plan)]
    assert codes == [401, 403, 704, 705, 713]


def test_empty_plan_of_a_job_misses_its_parts() -> None:
    """A plan without anything raises nothing and lists what is missing."""
    plan = SOUND["plain"]()
    empty = replace(plan, buy=(), workpieces=(), setups=(), panels=(), leftovers=())
    assert {403, 701, 705} <= {int(finding.code) for finding in audit(empty)}


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("buy", None),
        ("totals", None),
        ("bounds", None),
        ("workpieces", (None,)),
        ("setups", ("setting",)),
        ("panels", (1,)),
        ("leftovers", 0),
        ("job", None),
    ],
)
def test_content_that_cannot_be_read_is_a_finding(field: str, value: object) -> None:
    """Content of the wrong kind never raises."""
    broken: dict[str, Any] = {field: value}
    findings = audit(replace(SOUND["plain"](), **broken))
    assert Code.CHECK_FAILED in {finding.code for finding in findings}


def test_finding_reads_as_a_line() -> None:
    """A finding prints its code, its place and its message."""
    finding = Finding(Code.CUT_NUMBER, "cut 7", "is numbered 7, expected 6")
    assert str(finding) == "[201] cut 7: is numbered 7, expected 6"


def test_audit_imports_nothing_of_the_search() -> None:
    """The audit's modules import the model, lengths, errors, themselves and shapely, no more."""
    folder = Path(cutlist.audit.__file__).parent
    allowed = ("cutlist.model", "cutlist.audit", "cutlist.units", "cutlist.errors")
    modules = sorted(folder.glob("*.py"))
    assert len(modules) > 5
    for module in modules:
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom):
                assert node.level == 0
                names = [node.module or ""]
            for name in names:
                is_ours = name.split(".")[0] == "cutlist"
                is_known = name == "shapely" or name.split(".")[0] in sys.stdlib_module_names
                assert name.startswith(allowed) if is_ours else is_known, (module.name, name)


def test_every_code_stands_in_the_documentation() -> None:
    """The table of the plan format tells each code once, under its name."""
    text = (Path(__file__).parents[2] / "docs" / "plan-format.md").read_text(encoding="utf-8")
    for code in Code:
        assert text.count(f"| {code.value} | `{code.name}` |") == 1


@pytest.mark.parametrize(
    ("plan", "edit"),
    [pytest.param(plan, edit, id=name) for name, plan, edit in STILL_SOUND],
)
def test_limit_reached_exactly_is_sound(plan: str, edit: Edit) -> None:
    """A limit is the last value that passes."""
    assert audit(edit(SOUND[plan]())) == ()
