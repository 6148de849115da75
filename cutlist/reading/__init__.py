"""YAML to Job: all faults at once, with line and column."""
