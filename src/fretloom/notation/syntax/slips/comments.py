"""Signs that begin a comment elsewhere, and words for people where only the notation is read."""

from __future__ import annotations

import re

from fretloom.notation.syntax.slips.slip import Slip

_SIGN = r"//+|/\*|<!--|--+|;+|%%?|\*+"
_RULER = re.compile(r"([-=*_~+.])\1{2,}")
#: A sign at the start of a line, with words behind it.
_LINE = re.compile(rf"({_SIGN})\s*(?=[^\W\d_]{{2,}})|(//)$")
#: Words that go on with a bar `%`.
_BAR_WORDS = re.compile(r"(?:using|with|without|early|release|stop|fermata|x\d)\b")
_BEHIND = re.compile(rf"(?:^|\s)({_SIGN}|#)\s*(?=[^\W\d_]{{3,}})")
_IN_BRACKETS = re.compile(r"\s(\([^()\"{}|,+]*[^\W\d_]{3,}[^()\"{}|,+]*\))\s*$")
_IN_QUOTES = re.compile(r'\s("(?:[^"\\]|\\.)*")\s*$')
_CLOSING = re.compile(r"\s*(?:\*/|-->)\s*$")
#: Blocks in whose lines no text in quotes stands at the end.
_WITHOUT_TEXTS = ("voicings", "picking", "form")


def comment_sign(statement: str) -> Slip | None:
    """Return the slip if a whole line is a comment by a sign of another language."""
    if statement[:1].isalnum() or statement[:1] in '"|{[(&':
        return None
    ruler = _RULER.match(statement)
    if ruler is not None and "|" not in statement and not re.search(r"\d", statement):
        return _slip(statement, 0, ruler.end(), ruler[0])
    found = _LINE.match(statement)
    if found is None or ((found[1] or found[2]) in ("%", "--", "*") and "|" in statement):
        return None
    if found[1] == "%" and (_BAR_WORDS.match(statement, found.end()) or found.end() == 1):
        return None
    return _slip(statement, 0, found.end(), found[1] or found[2])


def _slip(statement: str, start: int, end: int, sign: str) -> Slip:
    words = _CLOSING.sub("", statement[end:].strip())
    line = f"# {words}".rstrip()
    message = f"`{sign}` does not begin a comment: that is the sign #"
    return Slip("not-understood", start, len(statement), message, f"write {line[:60]}", meant=line)


def comment_behind(text: str, blank: str, block: str) -> Slip | None:
    """Return the slip if a line that cannot be read ends with a comment by another sign."""
    found = _BEHIND.search(blank)
    if found is not None and _words_only(text[found.end() :], found[1]):
        return _behind(text, found)
    inside = _IN_BRACKETS.search(blank)
    if inside is not None and block not in ("section", "step"):
        words = inside[1].strip("()").strip()
        message = f"`{inside[1]}` is for people, and only comments are"
        start, end = inside.span(1)
        return Slip(
            "not-understood",
            start,
            end,
            message,
            f"write it behind a #: # {words}",
            meant=f"# {words}",
        )
    quoted = _IN_QUOTES.search(text) if block in _WITHOUT_TEXTS else None
    if quoted is not None:
        words = quoted[1][1:-1]
        message = "a text in quotes has no place in this line"
        start, end = quoted.span(1)
        return Slip(
            "not-understood",
            start,
            end,
            message,
            f"make it a comment: # {words}",
            meant=f"# {words}",
        )
    return None


def _words_only(rest: str, sign: str) -> bool:
    """Whether what follows a sign is words for people, and not more of the line."""
    return sign in ("//", "/*", "#", "<!--") or not re.search(rf"[|,{{}}]|{re.escape(sign)}", rest)


def _behind(text: str, found: re.Match[str]) -> Slip:
    words = _CLOSING.sub("", text[found.end() :].strip())
    start = found.start(1)
    meant = f"# {words}"
    if found[1] == "#":
        message = "the # of a comment stands apart from its words"
    else:
        message = f"`{found[1]}` does not begin a comment: that is the sign #"
    return Slip("not-understood", start, len(text), message, f"write {meant}", meant=meant)
