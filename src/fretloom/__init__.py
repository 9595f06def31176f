"""Write, check and publish fingerstyle guitar lessons.

The names below are the public ones; they are imported on first use, so that `import fretloom` costs
nothing.
"""

from __future__ import annotations

# As type checkers know it; importing `typing` for it would take most of the time.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from fretloom.api import (
        Diagnostic,
        Lesson,
        Severity,
        check,
        dumps,
        expand,
        export_json,
        export_musicxml,
        export_mxl,
        export_tab,
        lesson_from_json,
        lesson_to_json,
        link,
        load,
        loads,
        write,
    )
    from fretloom.errors import (
        FretloomError,
        LessonFaulty,
        LessonUnreadable,
        ModelError,
        NotWritten,
    )

_EXCEPTIONS = ("FretloomError", "LessonFaulty", "LessonUnreadable", "ModelError", "NotWritten")

__all__ = [
    "Diagnostic",
    "FretloomError",
    "Lesson",
    "LessonFaulty",
    "LessonUnreadable",
    "ModelError",
    "NotWritten",
    "Severity",
    "__version__",
    "check",
    "dumps",
    "expand",
    "export_json",
    "export_musicxml",
    "export_mxl",
    "export_tab",
    "lesson_from_json",
    "lesson_to_json",
    "link",
    "load",
    "loads",
    "write",
]


def __getattr__(name: str) -> object:
    if name == "__version__":
        from fretloom.version import VERSION

        return VERSION
    if name not in __all__:
        raise AttributeError(f"module 'fretloom' has no attribute {name!r}")
    from importlib import import_module

    found: object = getattr(
        import_module("fretloom.errors" if name in _EXCEPTIONS else "fretloom.api"), name
    )
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return __all__
