"""What stands in the way of a job, in words, and what would help."""
