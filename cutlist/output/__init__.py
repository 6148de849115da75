"""Documents: what they hold, and files that are whole or not there."""
