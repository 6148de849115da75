"""Parts on sheets: search, layout pool, selection, bounds."""
