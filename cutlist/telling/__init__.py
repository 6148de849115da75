"""Everything that is said in words and figures, for paper, terminal and screen alike."""
