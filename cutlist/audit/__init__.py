"""The audit: a finished plan replayed from the plan format's rules alone.

It shares no code with the search or the sequencing, so that a mistake there is not made twice.
"""

from cutlist.audit.findings import Code, Finding
from cutlist.audit.plan_audit import audit

__all__ = ["Code", "Finding", "audit"]
