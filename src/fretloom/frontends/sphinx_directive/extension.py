"""What Sphinx calls when the extension is named in `conf.py`."""

from __future__ import annotations

from sphinx.application import Sphinx
from sphinx.util.typing import ExtensionMetadata

from fretloom.frontends.highlighting.pygments_lexer import LessonLexer
from fretloom.frontends.sphinx_directive.directive import STRICT, LessonDirective
from fretloom.frontends.sphinx_directive.noted import NOTED_VERSION, connect
from fretloom.frontends.sphinx_directive.pictures import (
    PicturesOfLessons,
    TextsForPictures,
    lesson_picture,
)
from fretloom.version import VERSION


def setup(app: Sphinx) -> ExtensionMetadata:
    """Add the directive, the colours of its texts, and the setting that makes warnings of lessons count."""
    app.add_directive("lesson", LessonDirective)
    app.add_node(lesson_picture)
    app.add_post_transform(PicturesOfLessons)
    app.add_post_transform(TextsForPictures)
    app.add_lexer("fretloom", LessonLexer)
    app.add_config_value(STRICT, False, "env", (bool,))
    connect(app)
    return {
        "version": VERSION,
        "env_version": NOTED_VERSION,
        "parallel_read_safe": True,
        "parallel_write_safe": True,
    }
