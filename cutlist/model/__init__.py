"""The values that flow through the program: frozen dataclasses and nothing else."""
