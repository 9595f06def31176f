"""Says what keeps a text from standing in one place of a lesson; "" where nothing does."""

from __future__ import annotations

import re
import unicodedata

from fretloom.limits import LIMITS
from fretloom.text import only_near

#: The words that open a block, in column one.
OPENERS = (
    "notation",
    "lesson",
    "use",
    "picking",
    "voicings",
    "patterns",
    "section",
    "form",
    "step",
)
#: Words that begin a line of a section which is not one of bars; a bar line before one makes it a name.
SECTION_WORDS = (
    "end", "meter", "tempo", "pickup", "last", "repeat", "ending", "words", "dynamic",
    "ritardando", "accelerando", "crescendo", "diminuendo",
)  # fmt: skip
LINE_WORDS = (*SECTION_WORDS, "using", *OPENERS)
#: Words that mean something wherever they stand in a bar, and so cannot be a voicing there.
BAR_WORDS = ("using", "with", "without", "early", "release", "stop", "fermata", "rest", "same")
#: Words that a voicing cannot be called.
RESERVED = frozenset((*BAR_WORDS, *SECTION_WORDS, "on", "like"))

#: What a line of a step can show, as it is written there.
SHOWN = ("voicing", "change", "pattern", "section", "bar", "bars", "form")
#: Words for "show" that are not: in other numbers and languages.
_SHOW_WORDS = ("show", "shows", "showing", "display", "zeige", "montre")

_NAME = re.compile(r'[^\W\d_][^\s|:{}"%,(]*(?:\([^\s|:{}"()]*\)[^\s|:{}"%,(]*)*')
_TIMES = re.compile(r"x\d{1,6}")
_PAIR = re.compile(r"\([^()]*\)|\[[^][]*\]")
_CURLY_QUOTE = re.compile("[“”„‟«»]")
_ODD_SPACE = re.compile(r"[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
_TEXT_OR_COMMENT = re.compile(r'"(?:[^"\\]|\\.)*"|(?:^|(?<=[ \t]))#(?=[ \t]|$)')


def one_line(text: str) -> str:
    """Say what keeps a text from standing in one line of a file; "" if nothing does."""
    if text.isascii() and text.isprintable():
        return ""
    for sign in text:
        if sign in "\n\r":
            return "a line break cannot stand here"
        category = unicodedata.category(sign)
        if category == "Cs":
            return "half of a character (a lone surrogate) cannot stand here"
        if (category == "Cc" and sign != "\t") or sign in "\ufffe\uffff":
            return f"the control character {ord(sign):#x} cannot stand here"
    if _ODD_SPACE.search(text):
        return "a space of a special width is read as a plain one: write a plain one"
    return ""


def seen(text: str) -> str:
    """Say what keeps a text from standing outside of quotes."""
    problem = one_line(text)
    if problem or text.isascii():
        return problem
    if any(unicodedata.category(sign) in ("Cf", "Zl", "Zp") for sign in text):
        return "a character that cannot be seen cannot stand here"
    return "a printer's quotation mark cannot stand here" if _CURLY_QUOTE.search(text) else ""


def comment(text: str) -> str:
    """Say what keeps a text from being a comment on a line of its own."""
    if not text.startswith("#"):
        return 'a comment begins with "#"'
    return one_line(text) or ("white space at the end is not kept" if text != text.rstrip() else "")


def beside(text: str) -> str:
    """Say what keeps a text from being a comment at the end of a line; "" is none."""
    if text and text[1:2] not in ("", " ", "\t"):
        return comment(text) or 'a space follows the "#" of a comment beside a line'
    return comment(text) if text else ""


def statement(text: str) -> str:
    """Say what keeps a text from being a line without its comment."""
    if not text.strip(" \t"):
        return "a line holds some text"
    if text != text.strip(" \t"):
        return "white space around a line is not kept"
    if any(found[0] == "#" for found in _TEXT_OR_COMMENT.finditer(text)):
        return 'what follows a "#" would be a comment: put that into the margin'
    return ""


def opening(text: str) -> str:
    """Say what keeps a text from being the opening line of a block."""
    return one_line(text) or statement(text)


def misspelt_show(text: str) -> bool:
    """Whether a line can only have been meant to show something: `Show voicing B7`, `shwo form`."""
    words = text.split(maxsplit=2)
    if len(words) < 2 or text[-1] in ".!?," or words[0] == "show":
        return False
    first, second = words[0].rstrip(":").lower(), words[1].lower()
    meant = first in _SHOW_WORDS or bool(only_near(first, ("show",)))
    return meant and (second in SHOWN or bool(only_near(second, SHOWN)))


def prose(text: str) -> str:
    """Say what keeps a text from being a line of prose."""
    if re.match(r"show(?=[ \t]|$)", text):
        return 'a line that begins with "show" is not prose'
    if misspelt_show(text):
        return "a line that shows something begins with the word show, in small letters"
    return statement(text) or _shown_in_prose(text)


def _shown_in_prose(text: str) -> str:
    """Say what prose cannot hold; inside straight quotes it may hold what cannot be seen."""
    outside = re.sub(r'"(?:[^"\\]|\\.)*"', "", text)
    return one_line(text) or ("" if outside.isascii() else seen(_CURLY_QUOTE.sub("", outside)))


def unread(text: str) -> str:
    """Say what keeps a text from being lines that were not understood."""
    if any("\ud800" <= sign <= "\udfff" or sign == "\r" for sign in text):
        return "a lone surrogate or carriage return cannot stand here"
    first, *others = text.split("\n")
    if any(not line.startswith("  ") for line in others):
        return "a line break is followed by two spaces: such a line belongs to the first"
    if any(not line.strip() or line[2:] != line.strip(" \t") for line in others):
        return "each line has some text, two spaces before it and none behind it"
    return statement(first.removeprefix("  "))


def unread_bar(text: str) -> str:
    """Say what keeps a text from being a bar that was not understood."""
    return one_line(text) or (statement(text) if text else "")


def name(text: str) -> str:
    """Say what keeps a text from being a name."""
    if not _NAME.fullmatch(text):
        return (
            "a name begins with a letter and holds no white space and none of "
            f'| : {{ }} " % , and no bracket without its partner, not {text[:40]!r}'
        )
    if len(text) > LIMITS.word:
        return f"a name has {LIMITS.word} characters at most, not {len(text)}"
    return seen(text)


def name_at(text: str, start: int) -> str:
    """Return the name that begins at a place of a text, "" if none does."""
    found = _NAME.match(text, start)
    return found[0] if found else ""


def used_name(text: str) -> str:
    """Say what keeps a text from being a name in bars, patterns and the form."""
    problem = name(text)
    if problem or not any(sign in text for sign in "()[]"):
        return problem
    if re.search(r"[][()]", _PAIR.sub("", _PAIR.sub("", text))):
        return f"a bracket in a name here needs its partner, not {text[:40]!r}"
    return ""


def is_times(text: str) -> bool:
    """Whether a word says how often something is played: `x2`."""
    return bool(_TIMES.fullmatch(text))


def played_name(text: str) -> str:
    """Say what keeps a text from being the name of a voicing in a bar."""
    if text in BAR_WORDS or _TIMES.fullmatch(text):
        return f'"{text}" means something else in a bar'
    return used_name(text)
