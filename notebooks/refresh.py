"""Run the notebooks of this folder and keep what they show: python notebooks/refresh.py [NAME ...]."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).resolve().parent


def run(path: Path) -> Any:
    """The notebook at path run from its first cell in a fresh kernel of this Python, its outputs in it."""
    import nbformat
    from nbclient import NotebookClient

    notebook = nbformat.read(path, as_version=4)
    NotebookClient(notebook, timeout=300, resources={"metadata": {"path": str(FOLDER)}}).execute()
    for n, cell in enumerate(notebook.cells):
        cell.id = f"cell-{n}"
        cell.metadata = {}
    notebook.metadata = {
        "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }
    return notebook


def main(names: list[str]) -> None:
    """Run the notebooks named, or all, and write them back."""
    import nbformat

    for path in sorted(FOLDER.glob("*.ipynb")):
        if not names or path.name in names or path.stem in names:
            nbformat.write(run(path), path)
            print(f"{path.name}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main(sys.argv[1:])
