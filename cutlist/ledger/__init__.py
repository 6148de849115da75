"""What follows from a plan: where pieces come from and go, visits, matches, charges, sums."""
