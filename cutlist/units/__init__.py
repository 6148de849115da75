"""Exact lengths and weights, and the integer grid of a job."""
