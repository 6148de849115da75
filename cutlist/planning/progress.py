"""The old place of what progress is told by."""

from cutlist.planning.terms.progress import GroupObserver, PlanSoFar, Watcher

Standing = PlanSoFar

__all__ = ["GroupObserver", "Standing", "Watcher"]
