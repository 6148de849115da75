"""Exact plans for cutting sheet goods: what to buy, how to lay it out, in what order to cut."""
