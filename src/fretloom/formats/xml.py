"""XML: a tree of elements, and how it is written. The formats that are XML share it.

Only what those formats need: no name spaces of its own, no comments, no text after an element.
`tests/formats/test_xml.py` compares what it writes with what lxml writes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from fretloom.errors import FretloomError

DECLARATION = "<?xml version='1.0' encoding='UTF-8'?>\n"
_STEP = "  "
#: Characters that XML 1.0 cannot hold (production 2, `Char`).
NO_CHARACTER = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_AS_IT_IS = re.compile(rf'[&<>"\t\n\r]|{NO_CHARACTER.pattern}')
_IN_TEXT = {"&": "&amp;", "<": "&lt;", ">": "&gt;", "\r": "&#13;"}
#: A reader takes white space in the value of an attribute for blanks unless it is written so (section 3.3.3).
_IN_ATTRIBUTE = {**_IN_TEXT, '"': "&quot;", "\t": "&#9;", "\n": "&#10;"}
_NO_ATTRIBUTES: Mapping[str, str] = {}


class Element:
    """An element; a child that is a str is one or several that are `written` already.

    Without text and children it is written as `<tag/>`, with an empty text as `<tag></tag>`.
    """

    def __init__(
        self, tag: str, attributes: Mapping[str, str] = _NO_ATTRIBUTES, text: str | None = None
    ) -> None:
        self.tag = tag
        self.attributes = attributes
        self.text = text
        self.children: Sequence[Element | str] = ()

    def add(
        self, tag: str, attributes: Mapping[str, str] = _NO_ATTRIBUTES, text: str | None = None
    ) -> Element:
        """Put a new element behind the children, and return it."""
        child = Element(tag, attributes, text)
        self.put(child)
        return child

    def put(self, child: Element | str) -> None:
        """Put an element behind the children, or what is written already."""
        if isinstance(self.children, list):
            self.children.append(child)
        else:
            # Most elements have no children, and need no list for them.
            self.children = [*self.children, child]

    def set(self, name: str, value: str) -> None:
        """Give the element one more attribute, or an attribute another value."""
        self.attributes = {**self.attributes, name: value}


def start_tag(tag: str, attributes: Mapping[str, str] = _NO_ATTRIBUTES) -> str:
    """Return the tag that begins an element.

    Raises:
        FretloomError: a value holds a character that XML cannot hold.
    """
    given = "".join(
        [f' {name}="{_escaped(value, _IN_ATTRIBUTE)}"' for name, value in attributes.items()]
    )
    return f"<{tag}{given}>"


def written(element: Element | str, depth: int = 0) -> str:
    """Return an element as text, an element a line, each deeper one indented by two blanks more.

    Where an element has a text, what is in it stays on its line, since blanks would belong to the
    text. `depth` is the number of elements around it. What is written already stays as it is.

    Raises:
        FretloomError: a text holds a character that XML cannot hold.
    """
    if isinstance(element, str):
        return element
    pieces: list[str] = []
    _write(element, _STEP * depth, "\n", pieces.append)
    return "".join(pieces)


def _write(element: Element | str, indent: str, end: str, put: Callable[[str], object]) -> None:
    if isinstance(element, str):
        put(element)
        return
    tag, text, children = element.tag, element.text, element.children
    start = start_tag(tag, element.attributes) if element.attributes else f"<{tag}>"
    if text is None and not children:
        put(f"{indent}{start[:-1]}/>{end}")
        return
    if text is not None:
        # Nearly all texts are numbers and words, which need no second look.
        put(indent + start + (text if text.isalnum() else _escaped(text, _IN_TEXT)))
        for child in children:
            _write(child, "", "", put)
        put(f"</{tag}>{end}")
        return
    put(indent + start + end)
    deeper = indent + _STEP if end else ""
    for child in children:
        _write(child, deeper, end, put)
    put(f"{indent}</{tag}>{end}")


def _escaped(text: str, signs: Mapping[str, str]) -> str:
    def sign(found: re.Match[str]) -> str:
        character = found[0]
        if NO_CHARACTER.match(character):
            raise FretloomError(
                f"the text {NO_CHARACTER.sub('?', text)!r} holds the character "
                f"U+{ord(character):04X}, which an XML file cannot carry: remove it"
            )
        return signs.get(character, character)

    return _NOT_AS_IT_IS.sub(sign, text)
