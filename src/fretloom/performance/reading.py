"""A lesson read through: as written, with what it takes from other files, and as played.

Made once for a lesson text and passed on, so that the same text is not gathered or expanded again.
"""

from __future__ import annotations

from fretloom.memory import no_collection
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import Timeline
from fretloom.performance.expansion.expand import Expansion, expand
from fretloom.performance.material.gather import Material, gather
from fretloom.rule_facts import Severity
from fretloom.shapes import trusted
from fretloom.values import frozen


@frozen(eq=False)
class Reading:
    """A lesson, the material gathered for it, and its expansion."""

    lesson: Lesson
    material: Material
    expansion: Expansion

    @property
    def timeline(self) -> Timeline:
        """The lesson expanded; bars that could not be laid out are missing from it."""
        return self.expansion.timeline

    @property
    def sound(self) -> bool:
        """Whether the lesson was read and laid out without an error, so that all of it is there."""
        faults = (*self.lesson.faults, *self.expansion.diagnostics)
        return all(found.severity is not Severity.ERROR for found in faults)

    def found(self, rule: str) -> bool:
        """Whether laying out the lesson has found this fault, so that what it causes is not reported as well."""
        return any(one.rule == rule for one in self.expansion.diagnostics)


def read_through(lesson: Lesson) -> Reading:
    """Gather a lesson's material and expand it. Never raises for a faulty one."""
    # What was read is right or reported; bars and entries made of it are not checked again.
    with no_collection(), trusted():
        material = gather(lesson)
        return Reading(lesson, material, expand(lesson, material))
