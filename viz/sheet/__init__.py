"""The bench sheet: a change of setting as pages for the workshop, HTML and PDF from one layout."""

from viz.sheet.content import sheet_of
from viz.sheet.writing import SUFFIXES, render, write

__all__ = ["SUFFIXES", "render", "sheet_of", "write"]
