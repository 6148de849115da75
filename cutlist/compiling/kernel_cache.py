"""Where compiled kernels are kept between runs, told without loading the compiler.

Numba keeps an index file for each cached function beside the source, or below ``NUMBA_CACHE_DIR``,
and takes the function for compiled while its own source is unchanged. A kernel holds what it calls
from other modules, and its index names the named tuples that it takes; so a change in any of these
modules makes all of them old.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class KernelCache:
    """The cached kernels of some modules.

    Parameters
    ----------
    sources
        The modules that kernels are made of.
    """

    sources: tuple[Path, ...]

    def changed(self) -> float:
        """Return when a kernel's source was changed last, as seconds since the epoch."""
        return max(source.stat().st_mtime for source in self.sources)

    def holds(self, names: tuple[str, ...]) -> bool:
        """Say whether it has kernels of this version of the modules so called."""
        since = self.changed()
        return all(
            any(index.stat().st_mtime >= since for index in indexes_of(source))
            for source in self.sources
            if source.stem in names
        )

    def discard_old(self) -> None:
        """Delete index files older than a source, so that their kernels are compiled anew."""
        since = self.changed()
        for source in self.sources:
            for index in indexes_of(source):
                try:
                    if index.stat().st_mtime < since:
                        index.unlink()
                except OSError:
                    # Gone meanwhile, or not ours to delete: then Numba judges by the source alone.
                    continue


def indexes_of(source: Path) -> Iterator[Path]:
    """Yield the index files of a module's kernels."""
    folder = os.environ.get("NUMBA_CACHE_DIR")
    if folder:
        yield from Path(folder).glob(f"{source.parent.name}_*/{source.stem}.*.nbi")
    else:
        yield from (source.parent / "__pycache__").glob(f"{source.stem}.*.nbi")
