"""The one HTML shell: the head that hand-out, bench sheet and page share, around a body made elsewhere.

Templates escape all that they are given; style, script, data and body are made here or by code that has
escaped already, and are marked so.
"""

from __future__ import annotations

import json
import re
from base64 import b64encode
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from viz.look import css
from viz.page.looks import drawing_css

HERE = Path(__file__).parent
NO_TEXT = re.compile("[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\ud800-\\udfff\\ufdd0-\\ufdef\\ufffe\\uffff]")
"""What HTML takes for no text: controls, halves of characters, and what is no character."""
SHARED = ("base.css", "charts.css")


@lru_cache(maxsize=1)
def _templates() -> Environment:
    return Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def styles(*own: Path) -> str:
    """The styles of a page: the palette's variables, what all pages share, then the page's own files."""
    files = [*(HERE / "www" / name for name in SHARED), *own]
    return css.look() + drawing_css() + "".join(file.read_text(encoding="utf-8") for file in files)


def document(
    title: str, body: str, style: str, script: str = "", data: object = None, pictures: bool = True
) -> str:
    """A page that is one file: its policy lets its own style, script and pictures work and nothing else.

    body is HTML whose texts are escaped; data is what the script reads.
    """
    kept = {
        "policy": policy(style, script, pictures),
        "body": body,
        "script": script,
        "data": json_text(data),
    }
    marked = {name: Markup(text) for name, text in kept.items()}
    return render("page.html", title, style, pictures=pictures, **marked)


def render(template: str, title: str, style: str, **more: Any) -> str:
    """A template of this folder filled in; more is what it asks for, escaped unless it is Markup."""
    empty = {"body": "", "policy": "", "script": "", "data": "", "attributes": {}, "pictures": True}
    asked = {"title": title, "style": Markup(style), **empty, **more}
    return NO_TEXT.sub("\ufffd", _templates().get_template(template).render(asked))


def policy(style: str, script: str = "", pictures: bool = True) -> str:
    """A content policy that lets a file use its own style, script and pictures and nothing else."""
    pictured = "img-src data:; " if pictures else ""
    scripted = f"script-src 'sha256-{_digest(script)}'; " if script else ""
    return (
        f"default-src 'none'; {pictured}style-src 'sha256-{_digest(style)}'; {scripted}"
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return b64encode(sha256(text.encode()).digest()).decode()


def json_text(value: object) -> str:
    """Strict JSON that no text inside can end early: every '<' is escaped."""
    text = json.dumps(value, allow_nan=False, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c")
