"""Single words and signs of the notation, written from the model: one function for each thing."""

from __future__ import annotations

import re

from fretloom.notation.model.details.technique import BEND_WORDS, Technique
from fretloom.notation.model.heading import Setting
from fretloom.notation.model.pattern import (
    SLURS,
    Brush,
    Hold,
    Item,
    PatternBar,
    Pluck,
    Roll,
    Slap,
    Stroke,
)
from fretloom.notation.model.section import Bar, Part, With, Without
from fretloom.notation.model.step import Show
from fretloom.notation.model.voicing import Add, Change, Lift, Move, Mute, VoicingEntry
from fretloom.notation.model.words import LINE_WORDS
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.signs import number, quoted, share
from fretloom.trade.guitar.voicing import fingers_text

#: Two names that would be a line of their own at its start.
_TWO_WORDS = re.compile(r"(?:a tempo|free time)(?!\S)")
_SLUR_SIGNS = {name: sign for sign, name in SLURS.items()}


def pluck(one: Pluck | Brush | Slap) -> str:
    """Write one pluck, brush or slap."""
    if isinstance(one, Slap):
        return ("body-slap" if one.place == "body" else "slap") + "!" * one.accent
    return _plucked(one) + technique(one.technique)


def technique(said: Technique) -> str:
    """Write the words behind a pluck, in their order here."""
    words = [
        said.lasting,
        "" if said.held_to is None else f"to-{said.held_to}",
        "" if said.held_for is None else f"for-{number(said.held_for)}",
        "" if said.touch is None else f"harmonic-{said.touch}",
        "ghost" * said.ghost,
        {"": "", "on-beat": "grace", "before": "grace-before"}[said.grace],
    ]
    if said.bend is not None:
        word = "prebend" if said.bend.before else "bend"
        release = "-release" * said.bend.release
        words.append(f"{word}-{BEND_WORDS[said.bend.semitones]}{release}")
    if said.trill is not None:
        words.append(f"trill-{said.trill.fret}{_by(said.trill.fretting)}")
    words.append("vibrato" * said.vibrato)
    return "".join(f".{word}" for word in words if word)


def _plucked(one: Pluck | Brush) -> str:
    marks = "!" * one.accent
    if isinstance(one, Brush):
        return f"{one.finger}{one.first}-{one.last}{marks}{'x' * one.dead}"
    string = "" if one.string is None else str(one.string)
    fret = "" if one.fret is None else f"@{one.fret}{_by(one.fretting)}"
    slurs = "".join(
        f"{_SLUR_SIGNS[slur.kind]}{slur.fret}{_by(slur.fretting)}" for slur in one.slurs
    )
    return f"{one.finger}{string}{fret}{slurs}{marks}{'*' * one.harmonic}{'x' * one.dead}"


def _by(finger: str | None) -> str:
    return "" if finger is None else f":{finger}"


def played(part: Pluck | Brush | Slap | Roll) -> str:
    """Write a pluck, a brush, a slap or a roll."""
    if isinstance(part, Roll):
        return "(" + "slow " * part.slow + " ".join(pluck(one) for one in part.parts) + ")"
    return pluck(part)


def item(written: Item) -> str:
    """Write one place of a beat."""
    if isinstance(written, Hold):
        return "-"
    if isinstance(written, Stroke):
        return "+".join(played(part) for part in written.parts)
    return "[" + " ".join(item(one) for one in written.items) + "]"


def beats(bar: PatternBar, comma: str = " , ") -> str:
    """Write the beats of one bar."""
    return comma.join(" ".join(item(one) for one in beat.items) for beat in bar.beats)


def setting(line: Setting, naming: str = "english") -> str:
    """Write one line of the heading, keys in the lesson's way of naming notes."""
    field = FIELDS[line.name]
    return f"{field.word} {field.write(line.value, naming)}"


def change(made: Change) -> str:
    """Write what is different about a derived voicing."""
    match made:
        case Add():
            return f"add {made.string}@{made.fret}" + (f":{made.finger}" if made.finger else "")
        case Lift():
            return f"lift {made.finger}"
        case Move():
            return f"move {made.finger} to {made.string}@{made.fret}"
        case Mute():
            return f"mute {made.string}"
    return f"up {made.frets}" if made.frets >= 0 else f"down {-made.frets}"


def holds(entry: VoicingEntry) -> list[str]:
    """Write fingers, bass order and hops, "" where there are none."""
    fingers = fingers_text(entry.fingers)
    hops = "  ".join(f"hop {hop.finger} to {hop.string}@{hop.fret}" for hop in entry.hops)
    return [
        f"fingers {fingers}" if fingers else "",
        f"bass {' '.join(map(str, entry.bass))}" if entry.bass else "",
        hops,
    ]


def _voicing(part: Part) -> str:
    return part.voicing if part.beats is None else f"{part.voicing}:{share(part.beats)}"


def _patch(patch: With | Without) -> str:
    if isinstance(patch, With):
        return f"with {pluck(patch.pluck)} on {patch.count}"
    return f"without {patch.finger} on {patch.count}"


_SIGNS = {"same": "%", "rest": "rest", "written": "same"}


def bar(written: Bar, picking: str = "") -> str:
    """Write one bar of a section; `picking` replaces plucks written out in it, if it is given."""
    if written.kind == "unread":
        return written.text
    words = [quoted(written.cue)] if written.cue else []
    words += (
        [_SIGNS[written.kind]]
        if written.kind in _SIGNS
        else [_voicing(part) for part in written.parts]
    )
    if written.times != 1:
        words.append(f"x{written.times}")
    if written.using:
        words.append(f"using {written.using}")
    if written.beats is not None:
        words.append(picking or "{ " + beats(written.beats, ", ") + " }")
    words += [_patch(patch) for patch in written.patches]
    for word in ("early", "release", "stop", "fermata"):
        count = getattr(written, word)
        if count is not None:
            words.append(f"{word} on {count}")
    return " ".join(words)


def bars(written: tuple[Bar, ...], picking: str = "") -> str:
    """Write the bars of one line."""
    return " | ".join(bar(one, picking) for one in written)


def line_of_bars(written: tuple[Bar, ...]) -> str:
    """Write a line of bars; a bar line comes first where the line would be taken for something else."""
    text = bars(written)
    if written[0].kind == "unread":
        return text  # As it stood there.
    first = re.split(r"[\s:]", text, maxsplit=1)[0]
    return f"| {text}" if first in LINE_WORDS or _TWO_WORDS.match(text) else text


def show(shown: Show) -> str:
    """Write a line of a step that shows something."""
    words = ["show", shown.kind]
    if shown.kind == "bars":
        first, last = shown.first or 1, shown.last or 1
        place = [f"{first}-{last}"] if last != first else [str(first)]
        words = ["show", "bars" if last != first else "bar", *place, "of", shown.name]
    elif shown.name:
        words.append(shown.name)
    if shown.over:
        words += ["to" if shown.kind == "change" else "over", shown.over]
    if shown.goal is not None and shown.start is not None:
        words += ["from", number(shown.start), "to", number(shown.goal)]
    elif shown.start is not None:
        words += ["at", number(shown.start)]
    return " ".join(words)
