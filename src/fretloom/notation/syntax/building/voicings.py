"""Lines of the `voicings` and `picking` blocks to the model."""

from __future__ import annotations

from typing import cast

from fretloom.errors import SymbolError
from fretloom.notation.model.lesson import Home
from fretloom.notation.model.margin import Margin
from fretloom.notation.model.voicing import Add, Change, Lift, Move, Mute, Shift, VoicingEntry
from fretloom.notation.model.words import RESERVED, is_times
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import Tree, whole
from fretloom.notation.syntax.reader import Reader, token_span, tree_span
from fretloom.source import Span
from fretloom.trade.guitar.plucking import PickingFinger
from fretloom.trade.guitar.voicing import FrettingFinger, Hop, one_no_chord


def voicing(reader: Reader, line: Line, margin: Margin) -> VoicingEntry | None:
    """Read one voicing; None after noting a fault that makes it unclear what is held."""
    tree = reader.tree(line, "voicing_line")
    if tree is None:
        return None
    name, first = tree.token(0), tree.token(1)
    called = one_no_chord(name.text)
    check_voicing_name(reader, token_span(line, name), called)
    like = tree.name == "like_line"
    parts = tree.nodes()
    holds = _holds(reader, line, name.text, parts)
    frets = () if like else read_frets(first.text)
    count = len(frets)
    if holds is None or (
        frets and not _places_fit(reader, name.text, count, holds, token_span(line, first))
    ):
        return None
    changes = _changes(reader, line, parts)
    if changes is None:
        return None
    fingers, fingers_span, bass, bass_span, hops, hop_spans = holds
    return VoicingEntry(
        name=called,
        frets=frets,
        like=one_no_chord(first.text) if like else "",
        changes=changes,
        fingers=fingers,
        bass=bass,
        hops=hops,
        margin=margin,
        name_span=token_span(line, name),
        frets_span=None if like else token_span(line, first),
        like_span=token_span(line, first) if like else None,
        fingers_span=fingers_span,
        bass_span=bass_span,
        hop_spans=hop_spans,
        span=line.span(),
    )


_Holds = tuple[
    tuple[FrettingFinger | None, ...],
    Span | None,
    tuple[int, ...],
    Span | None,
    tuple[Hop, ...],
    tuple[Span, ...],
]


def read_frets(text: str) -> tuple[int | None, ...]:
    """Read `x21202` or `x-10-12-12-11-10`, None for a string that is not played."""
    places = text.split("-") if "-" in text else list(text)
    return tuple(None if place in "xX" else int(place) for place in places)


def check_voicing_name(reader: Reader, span: Span, name: str) -> None:
    """Note a name that is reserved, or that looks like a chord symbol but is not one."""
    if is_times(name):
        message = (
            f"a voicing cannot be called {name}: in a bar it means that the bar is played so often"
        )
        reader.fault("bad-name", span, message, f"choose another name, such as shape-{name}")
        return
    if name in RESERVED:
        message = f"a voicing cannot be called {name}: the word means something in a line of bars"
        reader.fault("bad-name", span, message, f"choose another name, such as {name}-shape")
        return
    from fretloom.trade.harmony.symbol import parse_symbol, symbol_in_name

    symbol = symbol_in_name(name, reader.naming)
    if not symbol:
        return
    try:
        parse_symbol(symbol, reader.naming)
    except SymbolError as error:
        hint = "write a chord symbol, or a name that starts with a small letter"
        reader.symbol_fault("unreadable-chord-name", span, error, hint)


def _holds(reader: Reader, line: Line, name: str, parts: list[Tree]) -> _Holds | None:
    """Collect fingers, bass order and hops."""
    fingers: tuple[FrettingFinger | None, ...] = ()
    fingers_span = bass_span = None
    bass: tuple[int, ...] = ()
    hops: list[Hop] = []
    hop_spans: list[Span] = []
    for part in parts:
        span = tree_span(line, part)
        if part.name in ("fingers", "bass") and (fingers if part.name == "fingers" else bass):
            message = f"{part.name} is given twice for {name}"
            reader.fault("not-understood", span, message, "keep one of them")
            return None
        if part.name == "fingers":
            signs = part.token(0).text
            fingers = tuple(None if sign == "." else _finger(sign) for sign in signs)
            fingers_span = span
        elif part.name == "bass":
            numbers = [whole(token) for token in part.tokens()]
            if any(string is None for string in numbers):
                reader.fault(
                    "not-understood", span, "a bass order is a row of strings in whole numbers"
                )
                return None
            bass = tuple(string for string in numbers if string is not None)
            bass_span = span
        elif part.name == "hop":
            string, fret = _place(part.token(1).text)
            hops.append(Hop(_finger(part.token(0).text), string, fret))
            hop_spans.append(span)
    return fingers, fingers_span, bass, bass_span, tuple(hops), tuple(hop_spans)


def _places_fit(reader: Reader, name: str, count: int, holds: _Holds, place: Span) -> bool:
    """Check that there is a fret for every string of the tuning, and a place for its finger."""
    fingers, span = holds[0], holds[1]
    if reader.strings is not None and count != reader.strings:
        message = f"{name} has {count} frets, but the tuning has {reader.strings} strings"
        hint = f"write {reader.strings} places, x for a string that is not played"
        if count > reader.strings and "-" not in place.text:
            hint += "; past fret 9 put hyphens between them: x-10-12-12-11-10"
        reader.fault("wrong-places", place, message, hint)
        return False
    if not fingers or len(fingers) == count:
        return True
    message = f"{name} has {count} frets but fingers for {len(fingers)} strings"
    hint = f"give {count} places, one for each string, with . where there is no finger"
    reader.fault("wrong-places", span or place, message, hint)
    return False


def _place(text: str) -> tuple[int, int]:
    string, fret = text.split("@")
    return int(string), int(fret)


def _finger(word: str) -> FrettingFinger:
    return cast("FrettingFinger", word)


def _changes(reader: Reader, line: Line, parts: list[Tree]) -> tuple[Change, ...] | None:
    changes: list[Change] = []
    for part in parts:
        span = tree_span(line, part)
        words = [token.text for token in part.tokens()]
        match part.name:
            case "add":
                string, fret = _place(words[0])
                finger = _finger(words[1]) if len(words) > 1 else None
                changes.append(Add(string=string, fret=fret, finger=finger, span=span))
            case "lift":
                changes.append(Lift(finger=_finger(words[0]), span=span))
            case "move":
                string, fret = _place(words[1])
                changes.append(Move(finger=_finger(words[0]), string=string, fret=fret, span=span))
            case "mute" | "up" | "down":
                if not all(word.isdigit() for word in words):
                    reader.fault("not-understood", span, f"{part.name} needs whole numbers")
                    return None
                if part.name != "mute" and not int(words[0]):
                    message = f"{part.name} 0 moves nothing"
                    hint = f"write how many frets the hand moves, such as {part.name} 2, or leave it out"
                    reader.fault("not-understood", span, message, hint)
                    return None
                changes += _counted(part.name, [int(word) for word in words], span)
    return tuple(changes)


def _counted(kind: str, numbers: list[int], span: Span) -> list[Change]:
    if kind == "mute":
        return [Mute(string=string, span=span) for string in numbers]
    return [Shift(frets=numbers[0] if kind == "up" else -numbers[0], span=span)]


def home(reader: Reader, line: Line, margin: Margin) -> Home | None:
    """Read `p plays 6 5 4`; None after noting a fault."""
    tree = reader.tree(line, "home_line")
    if tree is None:
        return None
    strings = [whole(token) for token in list(tree.tokens())[1:]]
    if any(string is None or not 1 <= string <= 12 for string in strings):
        message = "the strings of a finger are whole numbers, and 1 is the highest string"
        reader.fault("not-understood", line.span(), message, "write it like this: p plays 6 5 4")
        return None
    played = tuple(string for string in strings if string is not None)
    return Home(
        finger=cast("PickingFinger", tree.token(0).text),
        strings=played,
        margin=margin,
        span=line.span(),
    )
