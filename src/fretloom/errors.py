"""The exceptions a caller can meet; faults *in a lesson* are diagnostics and never raise by themselves.

FretloomError
├── LessonUnreadable    the file is missing, is not text, or is too large to be a lesson
├── LessonFaulty        a lesson cannot be exported because of its faults (it carries them; in `diagnostics`)
├── NotWritten          the result could not be written to its place
├── EditsDoNotFit       edits that cannot be made in a text, or not together (also a ValueError)
├── ModelError          a part of a lesson, built in Python, that cannot be (also a ValueError)
├── ExtensionFaulty     a rule or a format of another package could not be loaded, or failed
└── SymbolError         text that is not a chord symbol, note, key or tuning (also a ValueError)
"""

from __future__ import annotations


class FretloomError(Exception):
    """The root of all exceptions raised on purpose by this package."""


def own_fault(error: BaseException) -> str:
    """Return a sentence about an unexpected exception: it is the program's fault, not the lesson's."""
    what = type(error).__name__ + (f": {error}" if str(error) else "")
    return f"fretloom itself failed ({what[:200]}); your lesson is not to blame: please report this"


class LessonUnreadable(FretloomError):
    """The file could not be read as text at all."""


class NotWritten(FretloomError):
    """The result could not be written; a file that was there before is unchanged."""


class ModelError(FretloomError, ValueError):
    """A part of a lesson, built or changed in Python, that no text could say."""


class ExtensionFaulty(FretloomError):
    """A rule or a format of another package could not be loaded, or failed."""


class EditsDoNotFit(FretloomError, ValueError):
    """An edit was made for another text or lies outside it, or two would change the same place."""


class SymbolError(FretloomError, ValueError):
    """Text that is not a chord symbol, note, key or tuning.

    `position` is the 0-based offset in the text at which it stops making sense; `hint` says in the
    imperative what to write instead (may be empty).
    """

    def __init__(self, message: str, position: int = 0, hint: str = "") -> None:
        super().__init__(message, position, hint)
        self.message = message
        self.position = position
        self.hint = hint

    def __str__(self) -> str:
        return self.message
