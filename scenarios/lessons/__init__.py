"""Lessons: what a teacher shows and says, step by step, as a small text file."""
