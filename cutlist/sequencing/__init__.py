"""Cuts in an order: the fewest settings for given layouts."""
