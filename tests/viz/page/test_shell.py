"""One shell around every page: escaped, with a policy of its own digests; no other head stands anywhere."""

from __future__ import annotations

import base64
import re
from hashlib import sha256
from pathlib import Path

import viz
from viz.browser import page
from viz.page import shell

HOSTILE = "</title><script>alert(1)</script>'\"&"


def digest(text):
    return base64.b64encode(sha256(text.encode()).digest()).decode()


def test_texts_are_escaped_whatever_the_template():
    made = [
        shell.document(HOSTILE, "<p>body</p>", "p{}"),
        page.message_page(HOSTILE, HOSTILE, HOSTILE),
        page.app_page(HOSTILE, HOSTILE, page.roots()),
    ]
    for text in made:
        assert "alert(1)</script>" not in text
        assert "&lt;/title&gt;&lt;script&gt;" in text
    assert "<p>body</p>" in made[0], "the body is HTML already"


def test_a_file_allows_itself_and_nothing_else():
    style, script = "p{color:var(--ink)}", "const data = '<p>';"
    text = shell.document("x", "<p>a</p>", style, script, {"name": "</script>"})
    [policy] = re.findall(r'http-equiv="Content-Security-Policy" content="([^"]+)"', text)
    assert f"style-src 'sha256-{digest(style)}'; script-src 'sha256-{digest(script)}'" in policy
    assert f"<style>{style}</style>" in text
    assert f"<script>{script}</script>" in text
    assert text.count("</script>") == 2, "the data cannot end its element"
    assert text.index("Content-Security-Policy") < text.index("<style>")


def test_a_file_without_pictures_or_script_has_no_word_of_them():
    text = shell.document("x", "<p>a</p>", "p{}", pictures=False)
    assert not re.search("<script|<link|img-src|script-src", text)


def test_every_page_starts_in_the_shell():
    root = Path(viz.__file__).parent
    files = [f for kind in ("*.py", "*.js", "*.html") for f in root.rglob(kind)]
    heads = [f for f in files if re.search("(?i)<head>|<title>", f.read_text("utf-8"))]
    assert [f.relative_to(root).as_posix() for f in heads] == ["page/templates/page.html"]


def test_all_pages_share_one_set_of_variables():
    """A style asks for no variable that the palette and the rule do not make."""
    root = Path(viz.__file__).parent
    made = set(re.findall(r"--([\w-]+):", shell.styles()))
    for file in root.rglob("*.css"):
        text = file.read_text("utf-8")
        assert set(re.findall(r"var\(--([\w-]+)\)", text)) <= made, file
        assert not re.search(r"--[\w-]+\s*:", text), file
