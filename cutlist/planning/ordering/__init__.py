"""Layouts and the order of their cuts: the fewest settings, and what more sheets would spare."""
