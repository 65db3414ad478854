"""Answers as plain text."""
