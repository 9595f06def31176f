"""A drawing of a lesson in a document, until it is known what the document becomes."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

from docutils import nodes
from sphinx.transforms.post_transforms import SphinxPostTransform

_TYPE = "image/svg+xml"
_FOLDER = "lessons"
CLASS = "lesson-picture"


class lesson_picture(nodes.General, nodes.Element):  # type: ignore[misc]  # docutils has no types, and calls its nodes so.
    """A drawing: `svg`, the `alt` words for it, and a `text` in its place."""


class PicturesOfLessons(SphinxPostTransform):
    """Makes an image of each drawing where a page can have one."""

    formats = ("html",)
    #: Before what copies and converts images (`sphinx.transforms.post_transforms.images`).
    default_priority = 90

    def run(self, **_: Any) -> None:
        """Replace the drawings of a document."""
        for node in list(self.document.findall(lesson_picture)):
            node.replace_self(self._image(node))

    def _image(self, node: nodes.Element) -> nodes.container:
        svg = node["svg"].encode("utf-8")
        name = f"lesson-{hashlib.sha256(svg).hexdigest()[:20]}.svg"
        folder = Path(self.env.doctreedir) / _FOLDER
        folder.mkdir(parents=True, exist_ok=True)
        file = folder / name
        if not file.exists():
            file.write_bytes(svg)
        self.env.images.add_file(self.env.docname, str(file))
        image = nodes.image(uri=str(file), candidates={_TYPE: str(file)}, alt=node["alt"])
        # What takes the place of a node gets its classes.
        return nodes.container("", image, classes=[CLASS])


class TextsForPictures(SphinxPostTransform):
    """Makes a text of each drawing where no page has one."""

    default_priority = PicturesOfLessons.default_priority + 1

    def run(self, **_: Any) -> None:
        """Replace the drawings that are left in a document."""
        for node in list(self.document.findall(lesson_picture)):
            text = node["text"]
            if text:
                node.replace_self(nodes.literal_block(text, text, language="none"))
            else:
                node.parent.remove(node)
