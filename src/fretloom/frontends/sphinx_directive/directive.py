"""The directive `lesson`: a lesson, in a file or in the text, is checked and shown where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, ClassVar

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.util import logging
from sphinx.util.docutils import SphinxDirective

from fretloom import api
from fretloom.api import Diagnostic, Examined, Lesson, Severity
from fretloom.collection.lessons import FoundLesson, Roots
from fretloom.errors import FretloomError
from fretloom.frontends.sphinx_directive.pictures import lesson_picture
from fretloom.frontends.sphinx_directive.shown import (
    SHOWN,
    ShownPiece,
    ShownText,
    each_text_once,
    pieces,
)

_log = logging.getLogger(__name__)
_USUAL = "shapes, drawn-tab"
_BARS = re.compile(r"(\d{1,6})(?:-(\d{1,6}))?")
#: The kind of all warnings, for `suppress_warnings`; the rule is the second part.
KIND = "fretloom"
STRICT = "fretloom_strict"


class _Refused(Exception):
    """Why a lesson is not shown, and where that is said."""

    def __init__(self, message: str, rule: str = "lesson") -> None:
        super().__init__(message)
        self.rule = rule


def shown_words(text: str) -> list[str]:
    """Read what is to be shown.

    Raises:
        ValueError: a word is not known.
    """
    words = [word.strip() for word in text.split(",") if word.strip()]
    for word in words:
        if word not in SHOWN:
            raise ValueError(f"{word!r} cannot be shown: give some of {', '.join(SHOWN)}")
    return words


def bar_numbers(text: str) -> tuple[int, int]:
    """Read `3` or `3-6`.

    Raises:
        ValueError: it is written otherwise.
    """
    found = _BARS.fullmatch(text.strip())
    if found is None:
        raise ValueError("bars are written like 3 or 3-6")
    return int(found[1]), int(found[2] or found[1])


class LessonDirective(SphinxDirective):
    """Shows a lesson: the file that is named, or the text in it."""

    optional_arguments = 1
    final_argument_whitespace = True
    has_content = True
    option_spec: ClassVar[dict[str, Any]] = {
        "show": shown_words,
        "section": directives.unchanged_required,
        "bars": bar_numbers,
        "alt": directives.unchanged_required,
        "class": directives.class_option,
    }

    def run(self) -> list[nodes.Node]:
        """Return what is shown; what is wrong is a warning with its place."""
        try:
            lesson, text, found = self._lesson()
            self._depends_on(lesson, found)
            examined = api.examine(lesson)
            if self._reported(examined, found):
                return [self._node(ShownText(text.strip("\n"), "fretloom"))]
            return [self._node(piece) for piece in each_text_once(self._pieces(examined))]
        except _Refused as refused:
            self._warn(str(refused), refused.rule, self.get_location())
        except FretloomError as error:
            self._warn(str(error), "lesson", self.get_location())
        return []

    def _lesson(self) -> tuple[Lesson, str, FoundLesson]:
        """Return the lesson with its text, and what is settled for it."""
        if bool(self.arguments) == bool(self.content):
            raise _Refused("name the file of a lesson, or write one into the directive")
        if self.arguments:
            name, file = self.env.relfn2path(self.arguments[0])
            self.env.note_dependency(name)
            found = Roots(None).found(Path(file))
            lesson = api.load(file, root=found.root)
        else:
            page = self.env.doc2path(self.env.docname)
            found = Roots(None).found(Path(page))
            text = "\n".join(self.content) + "\n"
            lesson = api.loads(text, path=str(page), root=found.root)
        return lesson, api.text_of(lesson), found

    def _depends_on(self, lesson: Lesson, found: FoundLesson) -> None:
        """Note all files that the lesson is made of, so that the page is built anew when one changes."""
        settled = found.configuration.file
        for name in (*api.files_named(lesson), *([str(settled)] if settled is not None else ())):
            self.env.note_dependency(str(Path(name).resolve()))

    def _reported(self, lesson: Examined, found: FoundLesson) -> bool:
        """Report what was found; returns whether there are errors."""
        settled = list(found.configuration.applied(lesson.findings))
        strict = bool(getattr(self.config, STRICT))
        for one in settled:
            if one.severity is Severity.ERROR or (strict and one.severity is Severity.WARNING):
                said = f"{one.message}; {one.hint}" if one.hint else one.message
                self._warn(said, one.rule, self._place(one))
        return any(one.severity is Severity.ERROR for one in settled)

    def _pieces(self, whole: Examined) -> Iterator[ShownPiece]:
        """Yield what is shown of the lesson, or of the part that was chosen."""
        section, bars = self.options.get("section"), self.options.get("bars")
        lesson = whole
        if section is None and bars is not None:
            raise _Refused("bars are those of a section: name it with `section` too")
        if section is not None:
            lesson = api.examine(api.excerpt(whole.lesson, section.strip(), bars))
            wrong = [one for one in lesson.findings if one.severity is Severity.ERROR]
            if wrong:
                raise _Refused(wrong[0].message, wrong[0].rule)
        for word in self.options.get("show") or shown_words(_USUAL):
            try:
                yield from pieces(lesson, word, section is None)
            except FretloomError as error:  # The rest can be shown all the same.
                self._warn(str(error), "lesson", self.get_location())

    def _node(self, piece: ShownPiece) -> nodes.Node:
        classes = self.options.get("class", [])
        if isinstance(piece, ShownText):
            node = nodes.literal_block(piece.text, piece.text, language=piece.language)
            node["classes"] += classes
        else:
            alt = self.options.get("alt", piece.words)
            node = lesson_picture(svg=piece.svg, alt=alt, text=piece.text, classes=classes)
        self.set_source_info(node)
        return node

    def _place(self, found: Diagnostic) -> str:
        """Return where a finding is: in the file of the lesson, or in the page that it stands on."""
        line = found.span.line
        if not self.arguments and found.span.source.name == str(
            self.env.doc2path(self.env.docname)
        ):
            line += self._lines_above()
        return f"{found.span.source.name}:{line}"

    def _lines_above(self) -> int:
        """Return how many lines of the page are above the text in the directive.

        Parsers of different markup count the lines of a directive from different ones, so its first line is looked for.
        """
        page = Path(self.env.doc2path(self.env.docname))
        lines = page.read_text(encoding="utf-8", errors="replace").splitlines()
        first: int = next((n for n, line in enumerate(self.content) if line.strip()), 0)
        wanted = str(self.content[first]).strip()
        for number in range(max(self.lineno - 1, 0), len(lines)):
            if lines[number].strip() == wanted:
                return number - first
        return int(self.lineno)

    def _warn(self, message: str, rule: str, place: str) -> None:
        _log.warning(message, location=place, type=KIND, subtype=rule)
