"""Another process that compiles while this one does something else."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path


def compile_beside(code: str) -> subprocess.Popen[bytes] | None:
    """Let another process run code that fills the cache; None where none can be started."""
    root = str(Path(__file__).parents[2])
    path = os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))
    quiet = subprocess.DEVNULL
    try:
        return subprocess.Popen(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONPATH": path},
            stdin=quiet,
            stdout=quiet,
            stderr=quiet,
        )
    except OSError:
        return None
