"""Plan to drawing primitives to pages."""
