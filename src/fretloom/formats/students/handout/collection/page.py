"""The page of a collection: a table that can be sorted and filtered, and read without a script."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fretloom.formats.students.handout.collection.entry import LEVELS, IndexEntry, in_learning_order
from fretloom.formats.students.handout.lettering import faces, style
from fretloom.formats.students.handout.templating import ROOM, filled, trusted_markup
from fretloom.package_data import packaged_text
from fretloom.version import VERSION


def index_page(entries: Sequence[IndexEntry], title: str) -> str:
    """Return the page that leads to the handouts of a collection, in HTML, whole in itself."""
    ordered = in_learning_order(entries)
    return str(
        filled(
            "index.html",
            title=title,
            entries=ordered,
            levels=[one for one in LEVELS if any(entry.level == one for entry in ordered)],
            keys=_all(entry.key for entry in ordered),
            instruments=_all(entry.instrument for entry in ordered),
            tunings=_all(entry.tuning for entry in ordered),
            techniques=_all(word for entry in ordered for word in entry.techniques),
            fonts=trusted_markup(faces()),
            style=trusted_markup(style("a4", large=False)),
            script=trusted_markup(packaged_text(ROOM, "templates/index.js")),
            version=VERSION,
        )
    )


def _all(words: Iterable[str]) -> list[str]:
    return sorted({word for word in words if word})
