"""The quick part of the tests: all that are not marked as slow."""

from __future__ import annotations

import pytest


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark each test that is not slow as quick, so that ``pytest -m quick`` runs those alone."""
    for item in items:
        if item.get_closest_marker("slow") is None:
            item.add_marker("quick")
