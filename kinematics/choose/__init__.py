"""Choosing from the box: what can be built, what is wanted, and which pair comes nearest."""
