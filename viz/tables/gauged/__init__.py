"""What readings mean, in words and tables."""
