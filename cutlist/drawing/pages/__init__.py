"""The pages of every document, composed of primitives."""
