"""The pages of the browser in the shell that all pages share, and the files that they may load."""

from __future__ import annotations

import re
from pathlib import Path

from viz.page import shell

WWW = Path(__file__).with_name("www")
SCRIPTS = (
    "format",
    "address",
    "dial",
    "changes",
    "undo",
    "fitted",
    "eye",
    "shots",
    "apart",
    "words",
    "view",
    "dressing",
    "corner",
    "lesson",
    "charts",
    "tables",
    "save",
    "bars",
    "readings",
    "lost",
    "app",
)
"""The page's own scripts, as they need one another."""
SECURITY = {
    "Content-Security-Policy": (
        "default-src 'self'; script-src 'self' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
        "img-src 'self' data: blob:; connect-src 'self'; object-src 'none'; base-uri 'self'; "
        "form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-cache",
    "Server": "lockarc",
}
"""Sent with every answer. Vue compiles its templates in the browser, which needs 'unsafe-eval'."""


def roots() -> dict[str, Path]:
    """Folders whose files may be loaded, by the first part of the path under /static/; '' is trame's own."""
    from trame_client.module import vue3
    from trame_vtk.modules.common import serve as vtk_folders

    return {"": Path(vue3.www), "lockarc": WWW, **{name: Path(path) for name, path in vtk_folders.items()}}


def static_file(path: str, folders: dict[str, Path]) -> Path | None:
    """The file behind a path under /static/; None when there is none, or when it is outside the folders."""
    first, _, rest = path.partition("/")
    folder, inside = (folders[first], rest) if first in folders and first else (folders[""], path)
    try:
        file = (folder / inside).resolve()
        return file if file.is_relative_to(folder.resolve()) and file.is_file() else None
    except (OSError, ValueError):  # a name that no file can have: too long, or with a zero byte in it
        return None


def app_page(title: str, meet: str, folders: dict[str, Path]) -> str:
    """The page that starts the app: trame's scripts under our own head, which lets the visitor zoom.

    meet is where trame's client asks for the address of its web socket.
    """
    entry = (folders[""] / "index.html").read_text(encoding="utf-8")
    scripts = re.findall(r"<script[^>]*\bsrc=\"([^\"]+)\"", entry)
    attributes = {"data-session-manager-url": meet}
    return shell.render("app.html", title, shell.styles(), attributes=attributes, scripts=scripts)


def message_page(title: str, message: str, link: str = "") -> str:
    """A plain page with one message, and a way on when there is one."""
    return shell.render("message.html", title, shell.styles(), message=message, link=link)


def saved_page() -> str:
    """The shell into which a visitor's page puts what it saves as one file; it runs no script."""
    return shell.document("", "", shell.styles(WWW / "page.css"))
