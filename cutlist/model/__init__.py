"""The values that flow through the program: frozen dataclasses, and what follows from them."""
