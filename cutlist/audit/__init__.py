"""Replays a plan from the contract alone; shares no code with nesting or sequencing."""
