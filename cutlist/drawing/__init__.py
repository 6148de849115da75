"""A plan on paper: plan → drawing primitives → pages → a backend that writes them.

Nothing here but the backends and :mod:`cutlist.drawing.metrics` knows a PDF library. The import
order is paper, primitives, theme ← metrics ← fitting ← the page modules ← document ← backends.
"""
