"""Lines of the heading to settings of the model, their values checked one by one."""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches
from fractions import Fraction

from fretloom.errors import SymbolError
from fretloom.notation.model.heading import HANDS, LEVELS, NAMINGS, Setting
from fretloom.notation.model.margin import Margin
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import Node, Token
from fretloom.notation.syntax.reader import Reader, number, text_of, token_span, tree_span, whole
from fretloom.source import Span
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter, parse_meter
from fretloom.trade.music.tempo import Tempo

#: Ranges that any guitar-like instrument, hand and lesson lies in (wide on purpose).
SCALE_MM = (200, 1200)
HAND_MM = (100, 260)
TEMPO = (10, 400)
MM_PER_INCH = Fraction(254, 10)


def setting(reader: Reader, line: Line, margin: Margin) -> Setting | None:
    """Read one line of the heading; None after noting a fault."""
    tree = reader.tree(line, "setting_line")
    if tree is None:
        return None
    span = tree_span(line, tree)
    value = _VALUES[tree.name](reader, line, span, tree)
    if value is None:
        return None
    return Setting(name=tree.name, value=value, margin=margin, value_span=span, span=line.span())


def _text(reader: Reader, line: Line, span: Span, tree: Node) -> str:
    return text_of(tree.token(0))


def _tuning(reader: Reader, line: Line, span: Span, tree: Node) -> object | None:
    from fretloom.trade.guitar.tunings import parse_tuning

    try:
        return parse_tuning(" ".join(span.text.split()))
    except SymbolError as error:
        reader.symbol_fault("bad-value", span, error)
        return None


def _capo(reader: Reader, line: Line, span: Span, tree: Node) -> Capo | None:
    numbers = [whole(token) for token in tree.tokens()]
    fret, strings = numbers[0], numbers[1:]
    if fret is None or fret > 24:
        hint = "write the fret it stands at: capo 3 (capo 0 is none)"
        reader.fault("bad-value", span, f"a capo cannot stand at fret {tree.token(0).text}", hint)
        return None
    if any(string is None or not 1 <= string <= 12 for string in strings):
        hint = "name the strings it covers: capo 2 on 5 4 3"
        reader.fault("bad-value", span, "a partial capo covers strings, numbered from 1", hint)
        return None
    return Capo(fret, tuple(string for string in strings if string is not None))


def _key(reader: Reader, line: Line, span: Span, tree: Node) -> Key | None:
    from fretloom.trade.harmony.key_names import read_key

    try:
        return read_key(" ".join(span.text.split()), reader.naming)
    except SymbolError as error:
        reader.symbol_fault("bad-value", span, error)
        return None


def read_meter(reader: Reader, line: Line, tokens: list[Token]) -> Meter | None:
    """Read a meter and the number it is counted in, if there is one."""
    pulses = whole(tokens[1]) if len(tokens) > 1 else None
    try:
        return parse_meter(tokens[0].text, pulses)
    except SymbolError as error:
        span = token_span(line, tokens[0])
        reader.symbol_fault("bad-value", span, error)
        return None


def _meter(reader: Reader, line: Line, span: Span, tree: Node) -> Meter | None:
    return read_meter(reader, line, list(tree.tokens()))


def read_tempo(reader: Reader, line: Line, tokens: list[Token]) -> Tempo | None:
    """Read a tempo and the note it counts, a quarter note unless told."""
    per_minute = number(tokens[0])
    unit = 4 * number(tokens[1]) if len(tokens) > 1 else Fraction(1)
    if not TEMPO[0] <= per_minute <= TEMPO[1] or not unit:
        message = f"a tempo of {tokens[0].text} is none that can be played"
        hint = f"use beats a minute, {TEMPO[0]} to {TEMPO[1]}: tempo 96, or tempo 60 to 3/8"
        reader.fault("bad-value", token_span(line, tokens[0]), message, hint)
        return None
    return Tempo(per_minute, unit)


def _tempo(reader: Reader, line: Line, span: Span, tree: Node) -> Tempo | None:
    return read_tempo(reader, line, list(tree.tokens()))


def _swing(reader: Reader, line: Line, span: Span, tree: Node) -> tuple[int, int] | None:
    pair = [whole(token) for token in tree.tokens()]
    if not all(part is not None and 1 <= part <= 20 for part in pair):
        hint = "write the ratio of the first eighth to the second: swing 2:1"
        reader.fault("bad-value", span, f"{span.text} is no ratio for a swing", hint)
        return None
    return (pair[0] or 0, pair[1] or 0)


def _millimetres(tree: Node) -> Fraction:
    factor = Fraction(1) if tree.token(1).text == "mm" else MM_PER_INCH
    return number(tree.token(0)) * factor


def _within(
    reader: Reader, span: Span, value: Fraction, limits: tuple[int, int], what: str
) -> Fraction | None:
    if limits[0] <= value <= limits[1]:
        return value
    hint = f"give it in millimetres, {limits[0]} to {limits[1]}"
    reader.fault("bad-value", span, f"{span.text} is no length for {what}", hint)
    return None


def _scale(reader: Reader, line: Line, span: Span, tree: Node) -> Fraction | None:
    return _within(reader, span, _millimetres(tree), SCALE_MM, "the strings of a guitar")


def _hand(reader: Reader, line: Line, span: Span, tree: Node) -> str | Fraction | None:
    if len(tree.children) == 2:
        return _within(reader, span, _millimetres(tree), HAND_MM, "a hand")
    return _one_of(reader, span, HANDS, "a size of hand")


def _one_of(reader: Reader, span: Span, allowed: tuple[str, ...], what: str) -> str | None:
    if span.text in allowed:
        return span.text
    near = get_close_matches(span.text.lower(), allowed, 1, 0.6)
    listed = ", ".join(allowed[:-1]) + " or " + allowed[-1]
    hint = f"write {near[0]}" if near else f"write one of {listed}"
    reader.fault("bad-value", span, f"`{span.text}` is not {what}: {listed}", hint)
    return None


def _instrument(reader: Reader, line: Line, span: Span, tree: Node) -> str | None:
    from fretloom.trade.guitar.instruments import INSTRUMENTS, find_instrument

    text = " ".join(span.text.split())
    if find_instrument(text) is not None:
        return text
    names = [instrument.name for instrument in INSTRUMENTS]
    near = get_close_matches(text.lower(), names, 1, 0.6)
    hint = f"write {near[0]}" if near else "write one of " + ", ".join(names)
    reader.fault("bad-value", span, f"the instrument `{text}` is not known", hint)
    return None


def _level(reader: Reader, line: Line, span: Span, tree: Node) -> str | None:
    return _one_of(reader, span, LEVELS, "a level")


def _names(reader: Reader, line: Line, span: Span, tree: Node) -> str | None:
    return _one_of(reader, span, NAMINGS, "a way to name notes")


_VALUES: dict[str, Callable[[Reader, Line, Span, Node], object | None]] = {
    "by": _text,
    "rights": _text,
    "based": _text,
    "tuning": _tuning,
    "capo": _capo,
    "plays": _key,
    "sounds": _key,
    "meter": _meter,
    "tempo": _tempo,
    "swing": _swing,
    "instrument": _instrument,
    "scale": _scale,
    "hand": _hand,
    "level": _level,
    "names": _names,
}
