"""Command line, tables, plots, 3D and pages: it draws what the solver computed, and only that."""
