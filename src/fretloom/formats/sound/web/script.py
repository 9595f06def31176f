"""The script that makes the notes of a page heard, and JSON that can stand in a page."""

from __future__ import annotations

import json
from functools import cache

from fretloom.package_data import packaged_text

#: In a page these would end a script, begin a comment, or be read as the end of a line.
_ESCAPED = {one: f"\\u{ord(one):04x}" for one in "<>&\u2028\u2029"}


@cache
def sound_script() -> str:
    """Return what turns the notes of a page into sound, without its comments."""
    return "\n".join(lean(packaged_text(__package__, f"{name}.js")) for name in ("synth", "notes"))


def lean(script: str) -> str:
    """Return a script without lines that are comments, and without indents."""
    lines = (line.strip() for line in script.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def json_in_page(value: object) -> str:
    """Return a value as JSON that may stand in a script element, whatever texts are in it."""
    written = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return "".join(_ESCAPED.get(one, one) for one in written)
