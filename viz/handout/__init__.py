"""The hand-out: one HTML file with the sweep to scrub through, its charts, its numbers and the bushes to fit.

`write` makes the file, `page` its text. Nothing in it asks the network for anything.
"""

from viz.handout.writing import SUFFIXES, page, write

__all__ = ["SUFFIXES", "page", "write"]
