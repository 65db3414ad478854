"""Text that goes whole into JSON or TOML, without a character in it that would steer a terminal."""

from __future__ import annotations

import json
import re

ODD = re.compile(r"[^\n -~]")
"""What is neither a line feed nor a plain character; most of it is letters all the same."""


def json_escaped(text: str) -> str:
    """JSON text that means the same, with control, format and other unseen characters escaped."""
    return ODD.sub(lambda odd: odd[0] if odd[0].isprintable() else json.dumps(odd[0])[1:-1], text)


def toml_string(text: str) -> str:
    """A TOML string of one line that reads back as the text."""
    quoted = json.dumps(text, ensure_ascii=False)
    return ODD.sub(lambda odd: odd[0] if odd[0].isprintable() else f"\\U{ord(odd[0]):08x}", quoted)
