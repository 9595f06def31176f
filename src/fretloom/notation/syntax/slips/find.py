"""Slips that are best found before the grammar sees the line: quotes and brackets left open."""

from __future__ import annotations

import re
import unicodedata

from fretloom.characters import belongs, unseen
from fretloom.limits import LIMITS
from fretloom.notation.syntax.signs import QUOTED, is_closed
from fretloom.notation.syntax.slips.habits import find_habit
from fretloom.notation.syntax.slips.slip import Slip

_MOST_HIDDEN = 40
_TEXT = re.compile(QUOTED)
_WORD_OR_TEXT = re.compile(rf'{QUOTED}|[^ \t"]+')
_BREAKS = ("Cc", "Zl", "Zp")
_PAIRS = {")": "(", "]": "[", "}": "{"}
_CLOSERS = {opener: closer for closer, opener in _PAIRS.items()}
_BRACKET = re.compile(r"[()\[\]{}|]|\s(?=\S)")
_CURLY_QUOTES = re.compile("[“”„‟«»]")
_BRACKETED = ("pattern_line", "section_line", "body_line", "form_line", "bar")
#: What a name is made of, and a pair of brackets with what they hold if one follows.
_NAMES = re.compile(r"([^\s|:{}\"%,(]+)(\([^\s|:{}\"()]*\))?")
_LETTER = re.compile(r"[^\W\d_]")
_LONG_WORD = re.compile(rf'[^\s"|,]{{{LIMITS.word + 1},}}')


def find_slip(text: str, start_rule: str) -> Slip | None:
    """Return the first slip in a statement, if there is one."""
    return (
        _curly(text)
        or _open_quote(text)
        or (_brackets(text, start_rule != "pattern_line") if start_rule in _BRACKETED else None)
        or _long_word(text)
        or find_habit(text, blanked(text), start_rule)
    )


def blanked(text: str) -> str:
    """Return the text with everything in quotes made blank, so that offsets stay true."""
    if '"' not in text:
        return text
    return _TEXT.sub(lambda match: " " * len(match[0]) if is_closed(match) else match[0], text)


def _bracketed_name_blanked(found: re.Match[str]) -> str:
    """Return a name with its brackets blank: it begins with a letter."""
    letter = _LETTER.search(found[1]) if found[2] else None
    if letter is None:
        return found[0]
    return found[0][: letter.start()] + " " * (len(found[0]) - letter.start())


def find_hidden(text: str, prose: bool = False) -> Slip | None:
    """Find a character that cannot be seen, if it does not do in a text what it is for.

    Outside quotes no such character does, but in `prose`.
    """
    if text.isascii() and text.isprintable():
        return None
    outside = "" if prose else blanked(text)
    for position, character in enumerate(text):
        in_text = prose or outside[position] == " "
        if character == "\t" or not _hidden(text, position, in_text):
            continue
        name = unicodedata.name(character, f"control character {ord(character)}").lower()
        message = f"there is an invisible character here ({name})"
        place = (position, position + 1)
        return Slip("hidden-character", *place, message, "delete it", in_text)
    return None


def _hidden(text: str, at: int, in_text: bool) -> bool:
    return unseen(text[at]) and not (in_text and belongs(text, at))


def without_hidden(text: str, prose: bool = False) -> str:
    """Return a statement as it is meant: without hidden characters, blanks after the word in their stead.

    Those that end lines or steer machines stood for a blank.
    """

    def meant(found: re.Match[str]) -> str:
        word = found[0]
        in_text = prose or is_closed(found)
        kept = (
            one if not _hidden(word, at, in_text) else " " * (unicodedata.category(one) in _BREAKS)
            for at, one in enumerate(word)
        )
        return "".join(kept).ljust(len(word))

    return _WORD_OR_TEXT.sub(meant, text)


def all_hidden(text: str, prose: bool = False) -> list[int]:
    """Return where the characters stand that cannot be seen, the first few of them."""
    places: list[int] = []
    while (found := find_hidden(text, prose)) is not None and len(places) < _MOST_HIDDEN:
        places.append(found.start)
        text = f"{text[: found.start]}_{text[found.end :]}"
    return places


def _curly(text: str) -> Slip | None:
    if text.isascii():
        return None
    match = _CURLY_QUOTES.search(blanked(text))
    if match is None:
        return None
    message = f"{match[0]} is a printer's quotation mark; a lesson needs the straight one"
    return Slip("curly-quote", match.start(), match.end(), message, 'write " instead')


def _open_quote(text: str) -> Slip | None:
    if '"' not in text:
        return None
    position = blanked(text).find('"')
    if position < 0:
        return None
    message = "the quotation mark that opens here is not closed on this line"
    return Slip("unclosed-quote", position, len(text), message, 'add a " where the text ends')


def _long_word(text: str) -> Slip | None:
    if len(text) <= LIMITS.word:
        return None
    match = _LONG_WORD.search(blanked(text))
    if match is None:
        return None
    message = (
        f"`{match[0]}` has {len(match[0])} characters, and the limit for a word is {LIMITS.word}"
    )
    return Slip("too-large", match.start(), match.end(), message, "write a shorter name")


def _brackets(text: str, named: bool) -> Slip | None:
    """Find a bracket without its partner; the pairs in chord names are passed over.

    Outside braces only names have brackets, and a name ends with its word.
    """
    if not any(bracket in text for bracket in "()[]{}"):
        return None
    text = _NAMES.sub(_bracketed_name_blanked, blanked(text))
    opened: list[tuple[str, int]] = []
    for found in _BRACKET.finditer(text):
        sign, position = found[0], found.start()
        if sign in _CLOSERS:
            opened.append((sign, position))
            if len(opened) > LIMITS.depth:
                message = f"brackets are nested more than {LIMITS.depth} deep here"
                return Slip(
                    "nested-too-deep", position, position + 1, message, "write the beat more simply"
                )
        elif sign in _PAIRS:
            if not opened or opened[-1][0] != _PAIRS[sign]:
                return _stray(sign, position, opened)
            opened.pop()
        elif opened and (sign == "|" or (named and all(one != "{" for one, _ in opened))):
            return _unclosed(*opened[-1])
    return _unclosed(*opened[-1]) if opened else None


def _stray(sign: str, position: int, opened: list[tuple[str, int]]) -> Slip:
    if opened:
        return _unclosed(*opened[-1])
    message = f"there is no {_PAIRS[sign]} before this {sign}"
    hint = f"delete the {sign}, or add a {_PAIRS[sign]} where it should start"
    return Slip("unclosed-bracket", position, position + 1, message, hint)


def _unclosed(sign: str, position: int) -> Slip:
    message = f"the {sign} that opens here is not closed"
    hint = f"add a {_CLOSERS[sign]} where it should end"
    return Slip("unclosed-bracket", position, position + 1, message, hint)
