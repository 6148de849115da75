"""Sheets broken down at the store: patterns of cuts, the blanks they leave, and which to buy."""
