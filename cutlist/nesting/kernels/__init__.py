"""The compiled search: node tables, and what fills, ruins and counts in them."""
