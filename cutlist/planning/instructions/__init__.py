"""What is said at the saw: device, mark, reference edge, cautions."""
