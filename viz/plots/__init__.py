"""Curves and maps, drawn by Matplotlib."""
