"""The changes of a form in the words a lesson uses for them."""

from __future__ import annotations

from fractions import Fraction

from fretloom.model.form import LAST, But, ChangeBars, ChangePattern, ChangeTempo, DropBars
from fretloom.model.pattern import SLURS, Beat, Brush, Group, Hold, Item, Pluck, Roll, Stroke
from fretloom.model.section import Bar, Part, Tempo, With, Without

_SLUR_SIGNS = {kind: sign for sign, kind in SLURS.items()}


def but_words(but: But) -> str:
    """Say what a `but` changes, without the word itself: `last bar: B7 x2`."""
    match but:
        case ChangeBars():
            bars = " | ".join(bar_words(bar) for bar in but.bars)
            return f"{_bars_named(but.first, but.last, but.open_end)}: {bars}"
        case DropBars():
            return f"without {_bars_named(but.first, but.last, but.last == LAST != but.first)}"
        case ChangePattern():
            return f"using {but.using}"
        case ChangeTempo():
            return tempo_words(but.tempo)
        case _:
            return but.text.removeprefix("but").strip()


def _bars_named(first: int, last: int, open_end: bool) -> str:
    if open_end:
        return f"from bar {first}"
    if first == LAST:
        return "last bar"
    return f"bar {first}" if first == last else f"bars {first}-{last}"


def tempo_words(tempo: Tempo) -> str:
    """Say a tempo as a lesson does: `tempo 72`, `tempo 60 to 3/8`."""
    unit = "" if tempo.unit == 1 else f" to {_whole_note_share(tempo.unit)}"
    return f"tempo {number_words(tempo.per_minute)}{unit}"


def _whole_note_share(quarters: Fraction) -> str:
    share = quarters / 4
    return f"{share.numerator}/{share.denominator}"


def number_words(number: Fraction) -> str:
    """Write a number as a lesson does: whole, with a point, or as a fraction."""
    if number.denominator == 1:
        return str(number.numerator)
    short = number.denominator in (2, 4, 5, 10)
    return str(float(number)) if short else f"{number.numerator}/{number.denominator}"


def bar_words(bar: Bar) -> str:
    """Write a bar as a lesson does."""
    signs = {"same": "%", "written": "same", "rest": "rest"}
    words = [f'"{bar.cue}"'] if bar.cue else []
    words += [signs[bar.kind]] if bar.kind in signs else [_part(part) for part in bar.parts]
    if bar.using:
        words.append(f"using {bar.using}")
    if bar.beats is not None:
        words.append("{ " + ", ".join(_items(beat) for beat in bar.beats.beats) + " }")
    words += [_patch(patch) for patch in bar.patches]
    for name in ("early", "release", "stop"):
        count = getattr(bar, name)
        words += [f"{name} on {count}"] if count is not None else []
    words += [f"x{bar.times}"] if bar.times > 1 else []
    return " ".join(words)


def _part(part: Part) -> str:
    return part.voicing if part.beats is None else f"{part.voicing}:{number_words(part.beats)}"


def _patch(patch: With | Without) -> str:
    if isinstance(patch, With):
        return f"with {part_words(patch.pluck)} on {patch.count}"
    return f"without {patch.finger} on {patch.count}"


def _items(holder: Beat | Group) -> str:
    return " ".join(_item(item) for item in holder.items)


def _item(item: Item) -> str:
    match item:
        case Stroke():
            return "+".join(part_words(part) for part in item.parts)
        case Hold():
            return "-"
        case Group():
            return f"[{_items(item)}]"


def part_words(part: Pluck | Brush | Roll) -> str:
    """Write a pluck, a brush or a roll as a pattern does."""
    if isinstance(part, Roll):
        return f"({' '.join(part_words(one) for one in part.parts)})"
    marks = ("!" if part.accent else "") + ("x" if part.dead else "")
    if isinstance(part, Brush):
        return f"{part.finger}{part.first}-{part.last}{marks}"
    string = "" if part.string is None else str(part.string)
    fret = "" if part.fret is None else f"@{part.fret}"
    slurs = "".join(f"{_SLUR_SIGNS[slur.kind]}{slur.fret}" for slur in part.slurs)
    return f"{part.finger}{string}{fret}{slurs}{'*' if part.harmonic else ''}{marks}"
