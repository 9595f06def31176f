"""The directive `lesson`: a lesson, in a file or in the text, is checked and shown where it stands."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, ClassVar

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.util import logging
from sphinx.util.docutils import SphinxDirective

from fretloom import api
from fretloom.api import Diagnostic, Examined, Lesson, Severity, Span
from fretloom.collection.lessons import FoundLesson, Roots
from fretloom.errors import FretloomError
from fretloom.frontends.sphinx_directive.noted import LINKED, configuration_places, noted_in
from fretloom.frontends.sphinx_directive.pictures import lesson_picture
from fretloom.frontends.sphinx_directive.shown import (
    SHOWN,
    ShownPiece,
    ShownText,
    each_text_once,
    pieces,
)
from fretloom.values import frozen

_log = logging.getLogger(__name__)
_USUAL = "shapes, drawn-tab"
_BARS = re.compile(r"(\d{1,6})(?:-(\d{1,6}))?")
#: The kind of all warnings, for `suppress_warnings`; the rule is the second part.
KIND = "fretloom"
STRICT = "fretloom_strict"


@frozen
class _Choices:
    """What the options choose: words of `SHOWN`, and the part of the lesson."""

    words: list[str]
    section: str | None
    bars: tuple[int, int] | None


class _Refused(Exception):
    """Why a lesson is not shown; `once` if other lessons are refused for the same reason."""

    def __init__(self, message: str, rule: str = "lesson", *, once: bool = False) -> None:
        super().__init__(message)
        self.rule = rule
        self.once = once


def shown_words(text: str) -> list[str]:
    """Read what is to be shown.

    Raises:
        ValueError: a word is not known, or there is none.
    """
    words = [word.strip() for word in text.split(",") if word.strip()]
    for word in words:
        if word not in SHOWN:
            raise ValueError(f"{word!r} cannot be shown: give some of {', '.join(SHOWN)}")
    if not words:
        raise ValueError(f"`show` says nothing: give some of {', '.join(SHOWN)}")
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
        # They are read below: what docutils refuses is said in one build and passed over in the next.
        "show": directives.unchanged,
        "section": directives.unchanged,
        "bars": directives.unchanged,
        "alt": directives.unchanged_required,
        "class": directives.class_option,
    }

    def run(self) -> list[nodes.Node]:
        """Return what is shown; what is wrong is a warning with its place."""
        try:
            chosen = self._chosen()
            lesson, text, found = self._lesson()
            self._depends_on(lesson)
            examined = api.examine(lesson, style=found.configuration.style)
            if self._reported(examined, found):
                return [self._node(ShownText(text.strip("\n"), "fretloom"))]
            return [self._node(piece) for piece in each_text_once(self._pieces(examined, chosen))]
        except _Refused as refused:
            self._refuse(refused)
        except FretloomError as error:
            self._warn(str(error), "lesson", self.get_location())
        return []

    def _refuse(self, why: _Refused) -> None:
        """Say why the lesson is not shown, unless that was said of another."""
        message, noted = str(why), noted_in(self.env)
        noted.faulty.add(self.env.docname)
        if not why.once or noted.is_new((message,), why.rule):
            self._warn(message, why.rule, self.get_location())
        noted.say((message,), why.rule)

    def _chosen(self) -> _Choices:
        """Return what the options choose."""
        section, bars = self.options.get("section"), self.options.get("bars")
        if section is not None and not section.strip():
            raise _Refused("`section` says nothing: give the name of one")
        if section is None and bars is not None:
            raise _Refused("bars are those of a section: name it with `section` too")
        try:
            words = shown_words(self.options.get("show", _USUAL))
            return _Choices(words, section, bar_numbers(bars) if bars is not None else None)
        except ValueError as error:
            raise _Refused(str(error)) from None

    def _lesson(self) -> tuple[Lesson, str, FoundLesson]:
        """Return the lesson with its text, and what is settled for it."""
        if bool(self.arguments) == bool(self.content):
            raise _Refused("name the file of a lesson, or write one into the directive")
        if self.arguments:
            name, file = self.env.relfn2path(self.arguments[0])
            self.env.note_dependency(name)
            found = self._found(Path(file))
            lesson = api.load(file, root=found.root)
        else:
            page = self.env.doc2path(self.env.docname)
            found = self._found(Path(page))
            text = "\n".join(self.content) + "\n"
            lesson = api.loads(text, path=str(page), root=found.root)
        return lesson, api.text_of(lesson), found

    def _found(self, file: Path) -> FoundLesson:
        """Return what is settled for a file; the page is built anew when something else may be."""
        try:
            found = Roots(None).found(file)
        except FretloomError as error:
            raise _Refused(str(error), once=True) from None
        for place in configuration_places(file, found.configuration.root):
            if os.path.isfile(place):  # noqa: PTH113  # It takes what cannot be looked at for what is not there.
                self.env.note_dependency(str(place))
            else:
                noted_in(self.env).waits_for(self.env.docname, place)
        return found

    def _depends_on(self, lesson: Lesson) -> None:
        """Note all files that the lesson is made of, so that the page is built anew when one changes."""
        for name in api.files_named(lesson):
            self.env.note_dependency(str(Path(name).resolve()))

    def _reported(self, lesson: Examined, found: FoundLesson) -> bool:
        """Report what was found; returns whether there are errors."""
        settled = list(found.configuration.applied(lesson.findings))
        counted = [Severity.ERROR, *([Severity.WARNING] if getattr(self.config, STRICT) else [])]
        wrong = [one for one in settled if one.severity in counted]
        if wrong:
            self._report(wrong)
        return any(one.severity is Severity.ERROR for one in settled)

    def _report(self, wrong: list[Diagnostic]) -> None:
        """Report what is wrong with a lesson, save for what was said of a file that others name too."""
        noted = noted_in(self.env)
        noted.faulty.add(self.env.docname)
        new = [one for one in wrong if noted.is_new(self._at(one), one.rule)]
        for one in new:
            at = self._at(one)
            if one.rule != LINKED or noted.is_new(at, LINKED):
                said = f"{one.message}; {one.hint}" if one.hint else one.message
                self._warn(said, one.rule, str(at[0]))
            noted.say(at, one.rule)

    def _at(self, found: Diagnostic) -> tuple[object, ...]:
        """Return where a finding is, as it is shown and to the character; where another file is faulty, there."""
        linked = found.rule == LINKED and found.related
        span = found.related[0].span if linked else found.span
        return (self._place(span), span.start, span.end)

    def _pieces(self, whole: Examined, chosen: _Choices) -> Iterator[ShownPiece]:
        """Yield what is shown of the lesson, or of the part that was chosen."""
        lesson, section = whole, chosen.section
        if section is not None:
            lesson = api.examine(api.excerpt(whole.lesson, section.strip(), chosen.bars))
            wrong = [one for one in lesson.findings if one.severity is Severity.ERROR]
            if wrong:
                raise _Refused(wrong[0].message, wrong[0].rule)
        for word in chosen.words:
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

    def _place(self, span: Span) -> str:
        """Return where a finding is: in the file of the lesson, or in the page that it stands on."""
        file, line = os.path.normpath(span.source.name), span.line
        if not self.arguments and file == os.path.normpath(self.env.doc2path(self.env.docname)):
            line += self._lines_above()
        return f"{file}:{line}"

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
        noted_in(self.env).faulty.add(self.env.docname)
        _log.warning(message, location=place, type=KIND, subtype=rule)
