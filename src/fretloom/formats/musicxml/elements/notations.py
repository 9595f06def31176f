"""The `notations` of a note (MusicXML 4.0), whose parts are made when they are first needed."""

from __future__ import annotations

from functools import cached_property

from fretloom.formats.xml import Element
from fretloom.values import frozen


@frozen(eq=False)
class Notations:
    """The `notations` of a note and their parts."""

    note: Element

    @cached_property
    def element(self) -> Element:
        """The `notations` themselves."""
        return self.note.add("notations")

    @cached_property
    def technical(self) -> Element:
        """What is about the instrument."""
        return self.element.add("technical")

    @cached_property
    def articulations(self) -> Element:
        """How a note begins and ends."""
        return self.element.add("articulations")

    @cached_property
    def ornaments(self) -> Element:
        """Trills and wavy lines."""
        return self.element.add("ornaments")
