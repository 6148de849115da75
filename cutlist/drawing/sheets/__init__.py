"""Sheets and what is cut from them, drawn to scale."""
