"""What a check of one lesson comes to, before anything of it is chosen or written."""

from __future__ import annotations

from attrs import field

from fretloom.api import Diagnostic
from fretloom.rules.waivers import Waived
from fretloom.source import Source
from fretloom.values import frozen


@frozen
class Checked:
    """What was found in one file, or why it was not read.

    Args:
        name: of the file.
        findings: what counts; waived: what comments allow.
        unreadable: why it was not read, "" if it was.
        texts: all that was read for it, itself first; none if a file that it names could not be read,
            so that the result depends on more than texts.
    """

    name: str
    findings: tuple[Diagnostic, ...] = ()
    waived: tuple[Waived, ...] = ()
    unreadable: str = ""
    texts: tuple[Source, ...] = field(default=(), eq=False, repr=False)
