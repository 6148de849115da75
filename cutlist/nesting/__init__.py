"""Parts on sheets: search, layout pool, selection, bounds.

``cutlist.nesting.search.solve.nest`` is the entrance; importing it loads the compiler, so that
callers do so only when they search.
"""
