"""Pattern lines, and the beats in a bar's `{ }`, to the model."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, cast

from fretloom.notation.model.margin import Margin
from fretloom.notation.model.pattern import (
    SLURS,
    Beat,
    Brush,
    Group,
    Hold,
    Item,
    Pattern,
    PatternBar,
    Pluck,
    Roll,
    Slur,
    Stroke,
)
from fretloom.notation.syntax.building.heading import read_meter
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.reader import Reader, text_of, token_span, tree_span
from fretloom.source import Span
from fretloom.trade.music.meter import Meter

if TYPE_CHECKING:
    from lark import Token, Tree

_PLUCK = re.compile(r"([pimac])(\d{1,2})?(?:@(\d{1,2}))?((?:[hps]\d{1,2})*)([!*x]*)")
_BRUSH = re.compile(r"([pimac])(\d{1,2})-(\d{1,2})([!x]*)")
_SLUR = re.compile(r"([hps])(\d{1,2})")
#: No hand plucks so often in one beat; more would only be made to fill a machine.
MOST_IN_A_BEAT = 48
#: Words that teachers write where a pluck should stand, and what is meant.
_JOINED = re.compile(r"[pimac]{2,5}")


class BeatBuilder:
    """Builds the beats of one line; `sound` turns false when a fault has been noted."""

    def __init__(self, reader: Reader, line: Line) -> None:
        self.reader = reader
        self.line = line
        self.sound = True

    def fault(self, rule: str, span: Span, message: str, hint: str) -> None:
        """Note a fault in a beat."""
        self.sound = False
        self.reader.fault(rule, span, message, hint)

    def bar(self, beats: Tree[Token], end: int) -> PatternBar:
        """Build the beats of one bar; `end` is the offset in the statement where they end."""
        built: list[Beat] = []
        trees = cast("list[Tree[Token]]", beats.children)
        position = None
        for index, tree in enumerate(trees, 1):
            if tree.children:
                position = tree_span(self.line, tree)
                built.append(self.beat(tree))
            else:
                self.empty_beat(index, len(trees), position, end)
        start = built[0].span if built else None
        span = start.to(built[-1].span) if start and built[-1].span else None
        return PatternBar(beats=tuple(built), span=span)

    def empty_beat(self, index: int, total: int, before: Span | None, end: int) -> None:
        """Note a beat with nothing in it: a comma too many, as a rule."""
        if before is not None:
            comma = self.line.statement.find(",", before.end - self.line.start)
            place = self.line.span(comma, comma + 1) if comma >= 0 else before
        else:
            place = self.line.span(max(end - 1, 0), end)
        if total == 1:
            message, hint = (
                "there are no beats here",
                "write at least one beat: p , p m , p i , p m",
            )
        elif index == total:
            message, hint = (
                "nothing follows the last comma",
                "take the comma away, or write - for a beat of rest",
            )
        else:
            message = f"nothing stands in beat {index}: a comma too many"
            hint = "take one comma away, or write - where nothing is plucked"
        self.fault("empty-beat", place, message, hint)

    def beat(self, tree: Tree[Token]) -> Beat:
        """Build the items between two commas."""
        span = tree_span(self.line, tree)
        places = sum(1 for _ in tree.scan_values(lambda token: True))
        if places > MOST_IN_A_BEAT:
            message = f"this beat has {places} places; {MOST_IN_A_BEAT} is the most"
            hint = "beats are separated by commas: spread the plucks over more beats"
            self.fault("beat-too-full", span, message, hint)
        return Beat(items=self.items(tree), span=span)

    def items(self, tree: Tree[Token]) -> tuple[Item, ...]:
        """Build the items that share a beat or a group."""
        from lark import Token as LarkToken

        items: list[Item] = []
        for child in tree.children:
            if isinstance(child, LarkToken):
                items.append(Hold(span=token_span(self.line, child)))
            elif child.data == "group":
                if not child.children:
                    self.fault(
                        "empty-beat",
                        self.line.span(),
                        "there is nothing inside a pair of [ ]",
                        "delete it",
                    )
                items.append(Group(items=self.items(child), span=tree_span(self.line, child)))
            else:
                items.append(self.stroke(child))
        return tuple(items)

    def stroke(self, tree: Tree[Token]) -> Stroke:
        """Build what is plucked at one instant."""
        from lark import Tree as LarkTree

        parts: list[Pluck | Brush | Roll] = []
        for child in tree.children:
            if isinstance(child, LarkTree):
                if not child.children:
                    span = tree_span(self.line, tree)
                    self.fault(
                        "empty-beat", span, "there is nothing inside a pair of ( )", "delete it"
                    )
                inside = [self.pluck(cast("Token", token)) for token in child.children]
                rolled = tuple(part for part in inside if part is not None)
                parts.append(Roll(parts=rolled, span=tree_span(self.line, child)))
            else:
                part = self.pluck(child)
                if part is not None:
                    parts.append(part)
        return Stroke(parts=tuple(parts), span=tree_span(self.line, tree))

    def pluck(self, token: Token) -> Pluck | Brush | None:
        """Build one finger's pluck or brush; None after noting that it is neither."""
        span = token_span(self.line, token)
        text = str(token)
        match = _PLUCK.fullmatch(text)
        if match:
            finger, string, fret, slurs, marks = match.groups()
            return Pluck(
                finger=finger,
                string=int(string) if string else None,
                fret=int(fret) if fret else None,
                slurs=tuple(Slur(SLURS[kind], int(end)) for kind, end in _SLUR.findall(slurs)),
                accent="!" in marks,
                harmonic="*" in marks,
                dead="x" in marks,
                span=span,
            )
        match = _BRUSH.fullmatch(text)
        if match:
            finger, first, last, marks = match.groups()
            return Brush(
                finger=finger,
                first=int(first),
                last=int(last),
                accent="!" in marks,
                dead="x" in marks,
                span=span,
            )
        self.odd(text, span)
        return None

    def odd(self, text: str, span: Span) -> None:
        """Note a word that is no pluck, with the likeliest reason."""
        hint = "a pluck is a finger (p i m a c), then a string and a fret if need be: p, i2, a@3, i3@0h2"
        if _JOINED.fullmatch(text):
            apart, at_once = " ".join(text), "+".join(text)
            hint = f"write {apart} one after the other, {at_once} at once, or ({apart}) rolled"
        elif _PLUCK.fullmatch(text.lower()):
            hint = f"write it small: {text.lower()}"
        elif text.strip("-") == "" or text in "–—_.~=":
            hint = "write - for each place where nothing is plucked"
        elif text.isdigit():
            hint = f"name the finger as well: p{text} is the thumb on string {text}"
        self.fault("bad-pluck", span, f"`{text}` is no pluck", hint)


def pattern(reader: Reader, line: Line, margin: Margin) -> Pattern | None:
    """Read one pattern; None after noting a fault."""
    from lark import Tree as LarkTree

    tree = reader.tree(line, "pattern_line")
    if tree is None:
        return None
    name = cast("Token", tree.children[0])
    checked = check_small_name(reader, token_span(line, name), str(name), "pattern")
    sound = True
    title, meter = "", None
    heads = [child for child in tree.children[1:-1] if not isinstance(child, LarkTree)]
    for index, token in enumerate(heads):
        if token.type == "STRING":
            title = text_of(token)
        elif token.type == "METER":
            after = heads[index + 1 : index + 2]
            meter = read_meter(
                reader, line, [token, *(one for one in after if one.type == "NUMBER")]
            )
            sound = sound and meter is not None
    builder = BeatBuilder(reader, line)
    bars = pattern_bars(builder, cast("Tree[Token]", tree.children[-1]))
    if not builder.sound or not sound:
        return None
    return Pattern(
        name=checked,
        title=title,
        meter=meter,
        bars=bars,
        margin=margin,
        name_span=token_span(line, name),
        span=line.span(),
    )


def pattern_bars(builder: BeatBuilder, tree: Tree[Token]) -> tuple[PatternBar, ...]:
    """Build the bars of a pattern; a bar line at the very start or end is let pass."""
    trees = cast("list[Tree[Token]]", tree.children)
    if len(trees) > 1 and _empty(trees[0]):
        trees = trees[1:]
    if len(trees) > 1 and _empty(trees[-1]):
        trees = trees[:-1]
    return tuple(builder.bar(beats, len(builder.line.statement)) for beats in trees)


def _empty(beats: Tree[Token]) -> bool:
    return all(not cast("Tree[Token]", beat).children for beat in beats.children)


def check_small_name(reader: Reader, span: Span, name: str, what: str) -> str:
    """Note a pattern's or section's name that is not in small letters.

    Returns the name to go on with: the small one, unless the text uses the other elsewhere.
    """
    small = name.lower()
    if name == small:
        return name
    hint = f"write {small} everywhere; a title can follow in quotes"
    message = f"the name of a {what} is written small, not {name}"
    reader.fault("bad-name", span, message, hint)
    elsewhere = re.findall(rf"(?<!\S){re.escape(name)}(?!\S)", reader.source.text)
    return name if len(elsewhere) > 1 else small


def section_meter(reader: Reader, line: Line, tree: Tree[Token]) -> Meter | None:
    """Read the meter of a section's opening line."""
    return read_meter(reader, line, cast("list[Token]", tree.children))
