"""The command line: the only place that prints or sets an exit status."""
