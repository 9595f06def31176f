"""The lines that a heading can have: one row each, with everything about them.

A new field takes a row here, an alternative of `setting_line` in the grammar, and code that asks
for it.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any, get_args

from fretloom.notation.model.heading import SETTINGS, HandSize, Level, Naming
from fretloom.notation.model.limits import SCALE_MM
from fretloom.notation.syntax import signs
from fretloom.notation.syntax.fields import values
from fretloom.shapes import kinds_of
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.pitch import Pitch
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

_SIZES: tuple[str, ...] = get_args(HandSize)
_LEVELS: tuple[str, ...] = get_args(Level)
_NAMINGS: tuple[str, ...] = get_args(Naming)
_OPEN = (("E", 2), ("A", 2), ("D", 3), ("G", 3), ("B", 3), ("E", 4))
_STANDARD = Tuning(tuple(Pitch(letter, 0, octave) for letter, octave in _OPEN), name="standard")


def _text(value: Any, _: str) -> str:
    return str(value)


def _quoted(value: Any, _: str) -> str:
    return signs.quoted(str(value))


def _tuning(value: Tuning, _: str) -> str:
    return value.name or str(value)


def _capo(value: Capo, _: str) -> str:
    return (
        f"{value.fret} on {' '.join(map(str, value.strings))}" if value.strings else f"{value.fret}"
    )


def _key(value: Key, naming: str) -> str:
    if naming == "english":
        return str(value)
    from fretloom.trade.harmony.key_names import write_key

    return write_key(value, naming)


def _length(value: Any, _: str) -> str:
    return f"{signs.number(value)} mm" if isinstance(value, Fraction) else str(value)


@frozen(kw_only=True)
class Field:
    """A line of the heading.

    Args:
        word: the word or words it begins with.
        name: what it is called in the model; its first word.
        default: the value if the line is left out, None for none.
        words: the words its value can be, if these are few.
        read: reads the value as written, or says why it is wrong.
        write: writes the value, given how the lesson names notes.
        like_this: a line that is right, for a hint.
        synonyms: other words that teachers write for the first word.
        examples: lines for the page of the notation; `meaning` and `left_out` explain them there.
    """

    word: str
    default: object = None
    words: tuple[str, ...] = ()
    read: values.Read
    write: Callable[[Any, str], str] = _text
    like_this: str
    synonyms: tuple[str, ...] = ()
    examples: tuple[str, ...]
    meaning: str
    left_out: str = ""

    @property
    def name(self) -> str:
        """What the line is called in the model."""
        return self.word.partition(" ")[0]

    @property
    def kinds(self) -> tuple[type, ...]:
        """The types that its value can have, as `SETTINGS` of the model has them."""
        return kinds_of(SETTINGS[self.name])


_ROWS = (
    Field(
        word="by",
        default="",
        read=values.text,
        write=_quoted,
        like_this='by "A. Teacher"',
        synonyms=("author", "artist", "composer"),
        examples=('by "..."',),
        meaning="who made it",
    ),
    Field(
        word="rights",
        default="",
        read=values.text,
        write=_quoted,
        like_this='rights "CC0"',
        synonyms=("licence", "license", "copyright"),
        examples=('rights "..."',),
        meaning="who may use it",
    ),
    Field(
        word="tuning",
        default=_STANDARD,
        read=values.tuning,
        write=_tuning,
        like_this="tuning E2 A2 D3 G3 B3 E4, or a name: tuning drop D",
        synonyms=("strings", "tune"),
        examples=("tuning E2 A2 D3 G3 B3 E4",),
        meaning="the open strings with their octaves (C4 is middle C), 3 to 12 of them; or a name: "
        "`standard`, `drop D`, `DADGAD`",
        left_out="standard",
    ),
    Field(
        word="capo",
        default=Capo(),
        read=values.capo,
        write=_capo,
        like_this="capo 3, or capo 2 on 5 4 3",
        examples=("capo 3", "capo 2 on 5 4 3"),
        meaning="a capo; a partial one names the strings it covers",
        left_out="none",
    ),
    Field(
        word="plays in",
        read=values.key,
        write=_key,
        like_this="plays in E",
        synonyms=("key",),
        examples=("plays in E",),
        meaning="the key the hand thinks in: `E`, `F#m`, `Bb major`, `D dorian`",
    ),
    Field(
        word="sounds in",
        read=values.key,
        write=_key,
        like_this="sounds in G",
        examples=("sounds in G",),
        meaning="the key that sounds; checked against `plays in` and the capo",
        left_out="worked out",
    ),
    Field(
        word="meter",
        default=Meter((4,), 4),
        read=lambda given: values.meter(given.tokens),
        like_this="meter 4/4",
        synonyms=("time", "signature", "metre"),
        examples=("meter 4/4", "meter 2+2+3/8", "meter 6/8 in 6"),
        meaning="simple, compound, additive; `in` says how many beats a bar is counted in",
        left_out="4/4",
    ),
    Field(
        word="tempo",
        default=Tempo(Fraction(90)),
        read=lambda given: values.tempo(given.tokens),
        write=lambda value, _: signs.tempo(value),
        like_this="tempo 96, or tempo 60 to 3/8",
        synonyms=("bpm", "speed"),
        examples=("tempo 96", "tempo 60 to 3/8"),
        meaning="quarter notes a minute, or notes of another length (here dotted quarters)",
        left_out="90",
    ),
    Field(
        word="swing",
        read=values.swing,
        write=lambda value, _: f"{value[0]}:{value[1]}",
        like_this="swing 2:1",
        synonyms=("feel",),
        examples=("swing 2:1",),
        meaning="how two halves of a beat are played",
        left_out="straight",
    ),
    Field(
        word="instrument",
        default="steel string",
        read=values.instrument,
        like_this="instrument classical",
        synonyms=("guitar",),
        examples=("instrument classical",),
        meaning="the instrument, for checking reach",
        left_out="steel string",
    ),
    Field(
        word="scale",
        read=values.length(SCALE_MM, "the strings of a guitar"),
        write=_length,
        like_this="scale 650 mm",
        examples=("scale 650 mm", "scale 25.5 inches"),
        meaning="the length of the strings, for checking reach",
        left_out="by the instrument",
    ),
    Field(
        word="hand",
        default="average",
        words=_SIZES,
        read=values.hand(_SIZES),
        write=_length,
        like_this="hand average, or hand 175 mm",
        examples=("hand small", "hand average", "hand large", "hand 175 mm"),
        meaning="the hand, for checking reach: a size, or its length",
        left_out="average",
    ),
    Field(
        word="level",
        default="intermediate",
        words=_LEVELS,
        read=values.one_of(_LEVELS, "a level"),
        like_this="level beginner",
        synonyms=("difficulty",),
        examples=("level beginner", "level intermediate", "level advanced"),
        meaning="the player, for checking changes",
        left_out="intermediate",
    ),
    Field(
        word="names",
        default="english",
        words=_NAMINGS,
        read=values.one_of(_NAMINGS, "a way to name notes"),
        like_this="names german",
        examples=("names english", "names german", "names romance"),
        meaning="how chords are named",
        left_out="english",
    ),
    Field(
        word="based on",
        read=values.text,
        write=_quoted,
        like_this='based on "low-water.lesson"',
        examples=('based on "low-water.lesson"',),
        meaning="starts from that lesson; what this one defines replaces what has the same name there",
    ),
)
#: The fields of a heading by name.
FIELDS = {row.name: row for row in _ROWS}
