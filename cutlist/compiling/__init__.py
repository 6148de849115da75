"""What compiled kernels have in common, told without loading the compiler."""
