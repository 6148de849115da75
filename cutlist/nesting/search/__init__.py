"""The searches that lead the compiled kernels, and their entrance."""
