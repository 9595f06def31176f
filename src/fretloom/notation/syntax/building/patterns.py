"""Pattern lines, and the beats in a bar's `{ }`, to the model."""

from __future__ import annotations

import re

from fretloom.limits import LIMITS
from fretloom.notation.model.margin import Margin
from fretloom.notation.model.pattern import (
    Beat,
    Brush,
    Group,
    Hold,
    Item,
    Pattern,
    PatternBar,
    Pluck,
    Roll,
    Slap,
    Stroke,
)
from fretloom.notation.syntax.building.heading import read_meter
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.odd_plucks import odd_pluck, respelt_pluck
from fretloom.notation.syntax.parsing.plain_beats import PlainBeats
from fretloom.notation.syntax.parsing.plucks import pluck_maker
from fretloom.notation.syntax.parsing.tree import Token, Tree, text_of
from fretloom.notation.syntax.reader import Reader, token_span, tree_span
from fretloom.source import Span
from fretloom.trade.music.meter import Meter


class BeatBuilder:
    """Builds the beats of one line; `sound` is false once a fault has been noted."""

    def __init__(self, reader: Reader, line: Line) -> None:
        self.reader = reader
        self.line = line
        self.sound = True

    def fault(self, rule: str, span: Span, message: str, hint: str) -> None:
        """Note a fault in a beat."""
        self.sound = False
        self.reader.fault(rule, span, message, hint)

    def bar(self, beats: Tree, end: int) -> PatternBar:
        """Build the beats of one bar; `end` is the offset in the statement where they end."""
        built: list[Beat] = []
        trees = beats.nodes()
        self.check_places(sum(1 for _ in beats.tokens()))
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

    def check_places(self, places: int) -> None:
        """Note a bar with too many places, before anything is made of them."""
        if places > LIMITS.bar:
            message = f"this bar has {places:,} places, and the limit is {LIMITS.bar:,}"
            hint = "write it as several bars: in a pattern | stands between two"
            self.fault("beat-too-full", self.line.span(), message, hint)

    def empty_beat(self, index: int, total: int, before: Span | None, end: int) -> None:
        """Note an empty beat: usually there is a comma too many."""
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
                "remove the comma, or write - for a beat of rest",
            )
        else:
            message = f"beat {index} is empty: there is a comma too many"
            hint = "remove a comma, or write - where nothing is plucked"
        self.fault("empty-beat", place, message, hint)

    def plain_bar(self, beats: PlainBeats) -> PatternBar:
        """Build beats that were read without the grammar."""
        source, line = self.line.source, self.line.start
        built: list[Beat] = []
        self.check_places(
            sum(max(1, len(item.plucks)) for _, beat in beats.beats for item in beat.items)
        )
        for offset, beat in beats.beats:
            at = line + offset
            items: list[Item] = []
            for item in beat.items:
                span = Span(source, at + item.start, at + item.end)
                if len(item.plucks) > 1:
                    parts = tuple(
                        make(span=Span(source, at + start, at + end))
                        for start, end, make in item.plucks
                    )
                    items.append(Stroke(parts=parts, span=span))
                elif item.plucks:
                    items.append(Stroke(parts=(item.plucks[0][2](span=span),), span=span))
                else:
                    items.append(Hold(span=span))
            if len(items) > 1:
                span = Span(source, at + beat.start, at + beat.end)
            built.append(Beat(items=tuple(items), span=span))
        return PatternBar(
            beats=tuple(built), span=Span(source, line + beats.start, line + beats.end)
        )

    def beat(self, tree: Tree) -> Beat:
        """Build the items between two commas."""
        span = tree_span(self.line, tree)
        places = sum(1 for _ in tree.tokens())
        if places > LIMITS.beat:
            message = f"this beat has {places} places, and the limit is {LIMITS.beat}"
            hint = "spread the plucks over more beats: commas separate beats"
            self.fault("beat-too-full", span, message, hint)
        return Beat(items=self.items(tree), span=span)

    def items(self, tree: Tree) -> tuple[Item, ...]:
        """Build the items that share a beat or a group."""
        items: list[Item] = []
        for place, child in enumerate(tree.children):
            if isinstance(child, Token):
                items.append(Hold(span=token_span(self.line, child)))
                continue
            part = tree.node(place)
            if part.name != "group":
                items.append(self.stroke(part))
                continue
            if not part.children:
                message = "there is nothing inside a pair of [ ]"
                self.fault("empty-beat", self.line.span(), message, "delete it")
            items.append(Group(items=self.items(part), span=tree_span(self.line, part)))
        return tuple(items)

    def stroke(self, tree: Tree) -> Stroke:
        """Build what is plucked at once."""
        parts: list[Pluck | Brush | Slap | Roll] = []
        for place, child in enumerate(tree.children):
            if isinstance(child, Token):
                part = self.pluck(child)
                if part is not None:
                    parts.append(part)
                continue
            roll = self.roll(tree.node(place))
            if roll is not None:
                parts.append(roll)
        return Stroke(parts=tuple(parts), span=tree_span(self.line, tree))

    def roll(self, tree: Tree) -> Roll | None:
        """Build what is plucked in one gesture; None after noting a fault."""
        span = tree_span(self.line, tree)
        tokens = list(tree.tokens())
        slow = bool(tokens) and tokens[0].kind == "SLOW"
        inside = [self.pluck(token) for token in tokens[slow:]]
        rolled = tuple(part for part in inside if isinstance(part, Pluck | Brush))
        if not inside:
            self.fault("empty-beat", span, "there is nothing inside a pair of ( )", "delete it")
        elif any(isinstance(part, Slap) for part in inside):
            hint = "write it before or after the brackets"
            self.fault("bad-pluck", span, "a slap cannot be part of a roll", hint)
        elif len(inside) == 1 and len(rolled) == 1 and isinstance(rolled[0], Pluck):
            self.alone(rolled[0], span)
        return Roll(parts=rolled, slow=slow, span=span) if self.sound and rolled else None

    def pluck(self, token: Token) -> Pluck | Brush | Slap | None:
        """Build one finger's pluck or brush, or a slap; None after noting a fault."""
        span = token_span(self.line, token)
        make = pluck_maker(token.text)
        if make is not None:
            return make(span=span)
        self.odd(token.text, span)
        return None

    def alone(self, one: Pluck, span: Span) -> None:
        """Note brackets around a single pluck: a roll of one, or a soft note elsewhere in the trade."""
        text = self.line.source.text[span.start : span.end]
        message = f"`({text})` has one finger, but a roll goes over two strings or more"
        text = text.removeprefix("slow").strip()
        hint = f"write {text}; a note that is only hinted at is {text}.ghost"
        self.fault("bad-pluck", span, message, hint)

    def odd(self, text: str, span: Span) -> None:
        """Note a word that is not a pluck, with the likeliest reason."""
        self.fault("bad-pluck", span, *odd_pluck(text))
        if meant := respelt_pluck(text):
            self.reader.meant[span.start] = meant


def pattern(reader: Reader, line: Line, margin: Margin) -> Pattern | None:
    """Read one pattern; None after noting a fault."""
    tree = reader.tree(line, "pattern_line")
    if tree is None:
        return None
    name = tree.token(0)
    checked = _small_name(reader, token_span(line, name), name.text)
    before = reader.count
    title, meter = "", None
    heads = [child for child in tree.children[1:-1] if isinstance(child, Token)]
    for index, token in enumerate(heads):
        if token.kind in ("STRING", "METER"):
            again = any(one.kind == token.kind for one in heads[:index])
            what = "a title" if token.kind == "STRING" else "the meter"
            given_once(reader, token_span(line, token), again, what)
        if token.kind == "STRING":
            title = text_of(token)
        elif token.kind == "METER":
            after = heads[index + 1 : index + 2]
            meter = read_meter(
                reader, line, [token, *(one for one in after if one.kind == "NUMBER")]
            )
    builder = BeatBuilder(reader, line)
    bars = pattern_bars(builder, tree.node(-1))
    if not builder.sound or reader.count > before:
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


def given_once(reader: Reader, span: Span, again: bool, what: str) -> None:
    """Note that an opening line says something again, of which only one can count."""
    if again:
        reader.fault(
            "not-understood", span, f"{what} stands twice on this line", "keep one of them"
        )


def pattern_bars(builder: BeatBuilder, tree: Tree) -> tuple[PatternBar, ...]:
    """Build the bars of a pattern; a bar line at the very start or end is allowed."""
    trees = tree.nodes()
    if len(trees) > 1 and _empty(trees[0]):
        trees = trees[1:]
    if len(trees) > 1 and _empty(trees[-1]):
        trees = trees[:-1]
    return tuple(builder.bar(beats, len(builder.line.statement)) for beats in trees)


def _empty(beats: Tree) -> bool:
    return all(not beat.children for beat in beats.nodes())


def _small_name(reader: Reader, span: Span, name: str) -> str:
    """Note a pattern's name that is not in small letters.

    Returns the name to go on with: in small letters, unless the text uses the other one elsewhere.
    """
    small = name.lower()
    if name == small:
        return name
    hint = f"write {small} everywhere; a title can follow in quotes"
    message = f"the name of a pattern has small letters, not {name}"
    reader.fault("bad-name", span, message, hint)
    elsewhere = re.findall(rf"(?<!\S){re.escape(name)}(?!\S)", reader.source.text)
    return name if len(elsewhere) > 1 else small


def section_meter(reader: Reader, line: Line, tree: Tree) -> Meter | None:
    """Read the meter of a section's opening line."""
    return read_meter(reader, line, list(tree.tokens()))
