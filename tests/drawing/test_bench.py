from __future__ import annotations

import pytest

from cutlist.audit.plan_audit import audit
from tests.drawing.plans import all_plans


@pytest.mark.parametrize("name", sorted(all_plans()))
def test_the_plans_drawn_here_are_sound(name: str) -> None:
    """Every plan of the drawing tests passes the audit."""
    assert audit(all_plans()[name]) == ()
