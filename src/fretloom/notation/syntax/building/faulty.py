"""What becomes of a line that cannot be read: one finding a slip, and the change that mends it."""

from __future__ import annotations

import re
from collections.abc import Container

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.form import Form
from fretloom.notation.model.heading import Heading
from fretloom.notation.model.lesson import Block, PatternBlock, PickingBlock, VoicingBlock
from fretloom.notation.model.margin import Unread
from fretloom.notation.model.section import Section
from fretloom.notation.model.step import Step
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax import synonyms
from fretloom.notation.syntax.building.blocks import BlockBuilder
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.mending.mend import Try, mended
from fretloom.notation.syntax.mending.one_slip import explained, noted
from fretloom.notation.syntax.reader import Reader
from fretloom.notation.syntax.slips.explain import EXPLAINED
from fretloom.notation.syntax.slips.slip import Slip
from fretloom.text import near_names

_BARS = re.compile(
    r'(?:pickup|last)\s.*:|repeat\s+\d|ending\s+\d|end$|(?:"[^"]*"\s*)?[A-H%]\S*(?:\s[^|]*)?(?:\||\sx[0-9]{1,2}(?!\S)|\{)'
)
#: How lines of a block begin that nobody takes for those of another one.
_LOOKS: tuple[tuple[str, type, re.Pattern[str]], ...] = (
    ("lesson", Heading, re.compile(rf"(?:{'|'.join(FIELDS)})\s")),
    ("picking", PickingBlock, re.compile(r"[pimac]\s+plays\s")),
    ("voicings", VoicingBlock, re.compile(r"\S+\s+(?:[xX\d-]{3,}|like)(?!\S)")),
    ("patterns", PatternBlock, re.compile(r"[a-z][^|]*,")),
    ("section", Section, _BARS),
    ("form", Form, re.compile(r"but\s")),
    ("step", Step, re.compile(r"show\s")),
)
_PROSE = re.compile(r"[A-Z][a-z]*[,:]?(?:\s[^\s|]+){3,}")
#: The opening line of a section without its word: a name, and what only such a line says behind it.
_SECTION = re.compile(r"[a-z][\w-]*\s+(?:\d+\s+bars?\b|using\s|in\s+\d|\")[^|]*$")
_ALIKE = 0.75
_STEPS = re.compile(r"steps\s*:?", re.I)
#: Where a section is called so, the form may have lost its indentation.
_SECTION_STEPS = re.compile(r"^section[ \t]+steps\b", re.M)
_OPENING = {"lesson": 'lesson "Title"', "step": 'step "Title"', "section": "section verse"}
_NEEDED = {"lesson": {"title": ""}, "step": {"title": ""}, "section": {"name": "verse"}}


def slips_in(
    reader: Reader,
    line: Line,
    word: str,
    block: Block | None,
    before: int,
    elsewhere: Container[str],
    tried: Try,
) -> list[Diagnostic]:
    """Return the faults of a line, noted after the first `before`, as the slips that they come from.

    Args:
        word: the word that opens the block of the line, "" for a line in column one; `block` is the
            block itself.
        elsewhere: the words of all other lines; `tried` reads a line without keeping it.
    """
    faults = reader.since(before)
    if faults[0].rule == "hidden-character" and faults[0].music_undefined:
        faults = faults[:1]  # What else is wrong may only be so because of it.
    known = any(one.span.start in reader.explained for one in faults)
    odd = known or not {one.rule for one in faults} <= EXPLAINED | {"outside-a-block", "bad-name"}
    stray = None if odd else _stray(reader, line, word, block)
    found = [noted(reader, line, stray)] if stray else explained(reader, line, word, faults)
    return mended(found, line, word, reader.expected, reader.meant, elsewhere, tried)


def _stray(reader: Reader, line: Line, word: str, block: Block | None) -> Slip | None:
    """Return the slip if a line makes no sense in its block, but does in another one."""
    if not line.indented or isinstance(block, Unread):
        return None
    under = f"it stands under `{word}`" if word else "no such line stands above it"
    for name, kind, looks in _LOOKS:
        if (block is not None and isinstance(block, kind)) or not looks.match(line.statement):
            continue
        empty = kind(**_NEEDED.get(name, {}))
        if not BlockBuilder(reader, empty).faults_in(line):
            return _misplaced(line, f"reads like one of `{name}`", under, _OPENING.get(name, name))
    if isinstance(block, Form) and _PROSE.match(line.statement):
        return _misplaced(line, "reads like one of `step`", under, _OPENING["step"])
    return None


def _misplaced(line: Line, what: str, under: str, opening: str) -> Slip:
    message = f"this line {what}, but {under}"
    hint = f"put a line `{opening}` in column one above it, or move it to where that is"
    return Slip("outside-a-block", 0, len(line.statement), message, hint)


def block_of_steps(reader: Reader, line: Line) -> bool:
    """Note that all steps stand in one block, if a line in column one opens such a block."""
    if not _STEPS.fullmatch(line.statement) or _SECTION_STEPS.search(line.source.text):
        return False
    message = f"no block is called `{line.word}`: each step is a block of its own"
    hint = f"write {_OPENING['step']} in column one for each step, and what it says below it"
    reader.fault("unknown-word", line.span(0, len(line.word)), message, hint)
    return True


def meant_opening(line: Line, builder: BlockBuilder | None) -> tuple[str, str]:
    """Return the word that opens a block and the line that was meant by a line in column one.

    Both are "" if that is not known, or if the line belongs to the block above it.
    """
    word = line.word.rstrip(":")
    if builder is not None and isinstance(builder.block, Form) and builder.takes(line):
        return "", ""
    if _SECTION.match(line.statement) and _in_form(word, line):
        return "section", f"section {line.statement}"
    alike = near_names(word.lower(), OPENERS, 1, _ALIKE)
    near = alike[0] if alike else synonyms.BLOCKS.get(word.lower(), "")
    rest = line.statement[len(line.word) :]
    if near == "section" and not alike and word.lower() != "part":
        return near, f"section {word.lower()}{rest}"
    return near, near + rest


def _in_form(name: str, line: Line) -> bool:
    """Whether a name stands alone on a line of its own, as sections do in the form."""
    return (
        re.search(rf"(?m)^[ \t]+{re.escape(name)}(?:[ \t]+x\d+)?[ \t]*$", line.source.text)
        is not None
    )
