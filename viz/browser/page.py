"""The HTML around the app, the plain message pages, and the files that a page may load."""

from __future__ import annotations

import re
from html import escape
from pathlib import Path

from viz.browser.visits import WWW

SECURITY = {
    "Content-Security-Policy": (
        "default-src 'self'; script-src 'self' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
        "img-src 'self' data: blob:; connect-src 'self'; object-src 'none'; base-uri 'self'; "
        "form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-cache",
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
    file = (folder / inside).resolve()
    return file if file.is_relative_to(folder.resolve()) and file.is_file() else None


def app_page(title: str, meet: str, folders: dict[str, Path]) -> str:
    """The page that starts the app: trame's scripts under our own head, which lets the visitor zoom.

    meet is where trame's client asks for the address of its web socket.
    """
    entry = (folders[""] / "index.html").read_text(encoding="utf-8")
    scripts = re.findall(r"<script[^>]*\bsrc=\"([^\"]+)\"", entry)
    tags = "".join(
        f'<script type="module" src="{escape(s)}"></script>'
        if "assets" in s
        else f'<script src="{escape(s)}"></script>'
        for s in scripts
    )
    return _document(
        title,
        '<noscript><p class="plain">This page needs JavaScript, which is switched off.</p></noscript>'
        '<div id="app"><main class="plain"><p role="status">Setting up the kart …</p></main></div>',
        f'<base href="/static/"><link rel="stylesheet" href="lockarc/page.css">{tags}',
        f' data-session-manager-url="{escape(meet)}"',
    )


def message_page(title: str, message: str, link: str = "") -> str:
    """A plain page with one message, and a way on when there is one."""
    way = f'<p><a href="{escape(link)}">Open the page anew</a></p>' if link else ""
    body = f'<main class="plain"><h1>{escape(title)}</h1><p>{escape(message)}</p>{way}</main>'
    return _document(title, body, '<link rel="stylesheet" href="/static/lockarc/page.css">')


def _document(title: str, body: str, head: str, data: str = "") -> str:
    return (
        f'<!doctype html><html lang="en"{data}><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<link rel="icon" href="data:,"><title>{escape(title)}</title>{head}</head>'
        f"<body>{body}</body></html>"
    )
