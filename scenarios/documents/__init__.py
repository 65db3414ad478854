"""Answers as data: JSON documents and CSV rows."""
