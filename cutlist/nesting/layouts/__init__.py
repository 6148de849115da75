"""Layouts as trees: made from node tables, measured, checked."""
