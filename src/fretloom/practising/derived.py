"""The path of a lesson without steps: new things one at a time, ordered by what is new, then by how hard it is.

What is practised apart until it is right and then mixed with the rest stays longer: Carter and Grahn 2016,
Frontiers in Psychology 7:1251. The order of kinds (the thumb, the fingers, shapes, changes, the song slowly,
sections, the song) is common practice, without a source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator
from itertools import islice

from fretloom.notation.model.step import Show
from fretloom.practising.elements import Hands
from fretloom.practising.hard import Hardness
from fretloom.practising.novelty import NewThing, new_things
from fretloom.practising.pieces import PracticePiece, Repertory
from fretloom.shapes import trusted
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: So many bars of a section at most are shown alone, because something stands in them that is new.
_APART = 2
#: Of shapes, patterns and sections so many have a step of their own, in order of appearance; a path of more is none.
MOST_STEPS = 40
#: A section of fewer bars is not taken apart.
_LONG = 4


@frozen(kw_only=True)
class StepDraft:
    """A step before its tempos and minutes are known."""

    title: str
    sentences: tuple[str, ...]
    pieces: tuple[PracticePiece, ...]
    written: bool = False


class FoundSteps:
    """Finds the steps of one lesson; `met` grows with each of them."""

    def __init__(self, pieces: Repertory, hardness: Hardness, met: Iterable[NewThing]) -> None:
        self._pieces, self._hardness = pieces, hardness
        self._timeline = pieces.reading.timeline
        self.met: set[NewThing] = set(met)
        self._main, self._uses = self._patterns()
        #: From which shapes each is come to, the easiest change first.
        self._ways: dict[str, list[Voicing]] = {}
        for change in reversed(hardness.changes):
            before = pieces.voicing(change.before)
            if before is not None:
                self._ways.setdefault(change.after, []).append(before)

    def steps(self) -> Iterator[StepDraft]:
        """Yield all steps of the lesson."""
        yield from self._picking()
        yield from self._shapes()
        yield from self._hardest()
        yield from self._walk()
        yield from self._other_patterns()
        yield from self.sections(())
        yield from self.whole()

    def sections(self, shown: Container[str], least: int = 0) -> Iterator[StepDraft]:
        """Yield the sections that are played, the fewest new things first.

        Those `shown` already are left out, and those with fewer new things than `least`.
        """
        names = dict.fromkeys(one.section for one in self._timeline.bars)
        left = {
            name: piece
            for name in names
            if name not in shown and (piece := self._piece("section", name)) is not None
        }
        left = dict(islice(left.items(), MOST_STEPS))
        if len(names) < 2 and left:
            left = {}  # The only section is the song.
        while left:
            name = min(
                left,
                key=lambda one: (len(new_things(left[one].asks, self.met)), -left[one].pace.ease),
            )
            piece = left.pop(name)
            if len(new_things(piece.asks, self.met)) < least:
                continue
            apart = tuple(self._apart(name, piece))
            text = say("practice.section-apart" if apart else "practice.section-text")
            yield self._draft(self._pieces.section_title(name), (text,), (*apart, piece))

    def whole(self) -> Iterator[StepDraft]:
        """Yield the whole song with both hands."""
        piece = self._piece("form")
        if piece is not None:
            yield self._draft(say("practice.whole-title"), (say("practice.whole-text"),), (piece,))

    def _picking(self) -> Iterator[StepDraft]:
        """Yield the thumb alone and then all fingers, with the pattern that is played most on its easiest shape."""
        if self._main:
            over = self._easiest(self._uses[self._main])
            shape, said = self._held(over)
            thumb, both = (self._piece("pattern", self._main, over, hands=one) for one in _ORDER)
        else:
            thumb, both, shape, said = *self._first_bar(), None, ""
        if both is None or not new_things(both.asks, self.met):
            return
        if thumb is not None and thumb.asks != both.asks:
            text = say("practice.thumb-text", shape=said) if said else say("practice.thumb-open")
            before = (shape,) if shape is not None else ()
            yield self._draft(say("practice.thumb-title"), (text,), (*before, thumb))
            shape = None
        before = (shape,) if shape is not None else ()
        yield self._draft(
            say("practice.fingers-title"), (say("practice.fingers-text"),), (*before, both)
        )

    def _held(self, name: str) -> tuple[PracticePiece | None, str]:
        """Return a shape to hold and what it is called; nothing where all of its strings are open."""
        voicing = self._pieces.voicing(name)
        if voicing is None or not any(voicing.frets):
            return None, ""
        return self._piece("voicing", name), self._pieces.name(name)

    def _first_bar(self) -> tuple[PracticePiece | None, PracticePiece | None]:
        """Return the thumb alone and all fingers of the first bar that has notes, where no pattern has a name."""
        first = next((one for one in self._timeline.bars if one.bar.notes and one.place), None)
        if first is None:
            return None, None
        thumb, both = (
            self._piece("bars", first.section, first=first.place, hands=one) for one in _ORDER
        )
        return thumb, both

    def _shapes(self) -> Iterator[StepDraft]:
        """Yield each further shape, the easiest first, with the change to it from a shape that is known."""
        order = enumerate(self._hardness.taken()[:MOST_STEPS])
        for _, voicing in sorted(order, key=lambda one: (self._hardness.points(one[1]), one[0])):
            shape, _ = self._held(voicing.name)
            if shape is None or not new_things(shape.asks, self.met):
                continue
            into = self._way_into(voicing)
            text = say("practice.shape-text", shape=self._pieces.name(voicing.name))
            if into is not None:
                text = say(
                    "practice.shape-from", shape=self._pieces.name(voicing.name),
                    before=self._pieces.name(into.show.name),
                )  # fmt: skip
            title = say("practice.shape-title", shape=self._pieces.name(voicing.name))
            yield self._draft(title, (text,), (shape, *([into] if into else [])))

    def _way_into(self, voicing: Voicing) -> PracticePiece | None:
        """Return the easiest change of the song into a shape from one that is known."""
        for before in self._ways.get(voicing.name, ()):
            shapes = self._pieces.things.shape(before)
            if all(one in self.met for one in shapes if one.kind == "shape"):
                return self._piece("change", before.name, voicing.name)
        return None

    def _hardest(self) -> Iterator[StepDraft]:
        """Yield the hardest changes, if no step has shown them yet."""
        pieces = [
            piece
            for one in self._hardness.drilled()
            if (piece := self._piece("change", one.before, one.after)) is not None
            and new_things(piece.asks, self.met)
        ]
        if pieces:
            key = "practice.changes-title" if len(pieces) > 1 else "practice.change-title"
            yield self._draft(say(key), (say("practice.changes-text"),), tuple(pieces))

    def _walk(self) -> Iterator[StepDraft]:
        """Yield the whole song, early and slowly, with the thumb alone."""
        thumb, both = (self._piece("form", hands=one) for one in _ORDER)
        if thumb is None or both is None or thumb.asks == both.asks:
            return
        if not new_things(both.asks, self.met):
            return
        if any(one.key == "thumb" for one in thumb.asks):
            text = say("practice.walk-text")
            yield self._draft(say("practice.walk-title"), (text,), (thumb,))

    def _other_patterns(self) -> Iterator[StepDraft]:
        """Yield the other patterns that bring something new, the fewest new things first."""
        left = {
            name: piece
            for name, over in self._uses.items()
            if (piece := self._piece("pattern", name, self._easiest(over))) is not None
        }
        while left:
            left = {name: one for name, one in left.items() if new_things(one.asks, self.met)}
            if not left:
                return
            name = min(
                left,
                key=lambda one: (len(new_things(left[one].asks, self.met)), -left[one].pace.ease),
            )
            title = say("practice.pattern-title", pattern=self._pieces.pattern_name(name))
            yield self._draft(title, (say("practice.pattern-text"),), (left.pop(name),))

    def _apart(self, section: str, whole: PracticePiece) -> Iterator[PracticePiece]:
        """Yield the bars of a section that have a technique or a picking that is new."""
        wanted = {
            one for one in new_things(whole.asks, self.met) if one.kind in ("pattern", "technique")
        }
        found, bars = 0, self._pieces.sections[section].bars
        for written in bars if len(bars) >= _LONG else ():
            if not wanted or found == _APART or written.number < 1:
                continue
            piece = self._piece("bars", section, first=written.number)
            if piece is not None and wanted.intersection(piece.asks):
                wanted.difference_update(piece.asks)
                found += 1
                yield piece

    def _patterns(self) -> tuple[str, dict[str, list[Voicing]]]:
        """Return the pattern with a name that most bars have, and over which voicings each is played."""
        often: Counter[str] = Counter()
        uses: dict[str, list[Voicing]] = {}
        for played in self._timeline.bars:
            bar = played.bar
            if bar.pattern and bar.voicings and bar.pattern in self._timeline.patterns:
                often[bar.pattern] += 1
                uses.setdefault(bar.pattern, []).append(bar.voicings[0].voicing)
        main = max(often, key=lambda one: often[one], default="")
        uses = {main: uses[main]} | dict(islice(uses.items(), MOST_STEPS)) if main else {}
        pairs = [(name, self._easiest(over)) for name, over in uses.items()]
        self._pieces.prepare(pairs)
        return main, uses

    def _easiest(self, voicings: Iterable[Voicing]) -> str:
        return min(voicings, key=self._hardness.points).name

    def _piece(
        self, kind: str, name: str = "", over: str = "", *, first: int = 0, hands: Hands = "both"
    ) -> PracticePiece | None:
        place = first or None
        with trusted():
            show = Show(kind=kind, name=name, over=over, first=place, last=place)  # type: ignore[arg-type]
        return self._pieces.of(show, hands)

    def _draft(
        self, title: str, sentences: tuple[str, ...], pieces: tuple[PracticePiece, ...]
    ) -> StepDraft:
        for piece in pieces:
            self.met.update(piece.asks)
        return StepDraft(title=title, sentences=sentences, pieces=pieces)


_ORDER: tuple[Hands, Hands] = ("thumb", "both")
