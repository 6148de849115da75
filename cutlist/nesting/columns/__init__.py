"""Fillings of single sheets: priced, generated, chosen."""
