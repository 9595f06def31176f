"""A lesson made easier for a level: shapes first, then the picking, then the tempo."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from attrs import evolve

from fretloom.arranging.easing.drafts import Draft, Heads, composed
from fretloom.arranging.easing.eased import Eased, PickingEased, ShapeEased, TempoEased
from fretloom.arranging.easing.easier_picking import EasierPicking, easier_picking
from fretloom.arranging.easing.easier_shapes import EasierShape, Shapes
from fretloom.arranging.easing.fits import SLOWEST, LevelFit, VoicingBeyond, fit_for, slower
from fretloom.arranging.easing.heard_otherwise import HeardOtherwise, heard_otherwise
from fretloom.arranging.easing.levels import REACHES
from fretloom.arranging.moving.words import named_in_words
from fretloom.arranging.remarks import NamedInWords
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import Timeline
from fretloom.performance.hands.fingering import fill_fingers, hand_of_settings, neck_of_settings
from fretloom.performance.hands.hardest import hands
from fretloom.performance.reading import Reading, read_through
from fretloom.performance.settings import picking_plan
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.tempo import Tempo
from fretloom.trade.playability.effort import effort
from fretloom.trade.playability.shape import Fretted
from fretloom.values import frozen

#: What a check finds only because of the tempo: a slower one mends it.
OF_TEMPO = frozenset(
    {"change-too-fast", "hop-too-fast", "hop-tight", "pick-repeat", "pick-rate", "pick-rate-all"}
)
#: What of it stays, the lesson that was eased is listed with: it does not keep it from being written.
MENDED = OF_TEMPO - {"hop-too-fast", "hop-tight"}
#: How many new lessons are tried at most, and shapes for one voicing; a step by which the tempo is lowered.
_TRIES, _SHAPES, _STEP = 120, 12, 0.95
#: At a slower tempo a shape may be sound that was not before, so all is looked at again, so often at most.
_ROUNDS = 4

#: What is wrong with a lesson that was not with the first one: the names of the rules.
Faults = Callable[[Lesson], frozenset[str]]


def ease(reading: Reading, level: str, based_on: str, title: str, faults: Faults) -> Eased:
    """Return an easier lesson for a level, based on the one that was read, which has no errors.

    Args:
        reading: the lesson, read through. level: one of `LEVELS`.
        based_on: the path of the first lesson, as the new one is to name it. title: of the new one.
        faults: looks at a new lesson.
    """
    return _Easing(reading, level, Heads(title, based_on, level), faults).eased()


@frozen
class _Kept:
    """What was decided for one voicing."""

    beyond: VoicingBeyond
    shape: EasierShape


class _Easing:
    """The lesson, and what is decided for it step by step."""

    def __init__(self, reading: Reading, level: str, heads: Heads, faults: Faults) -> None:
        self.reading, self.level, self.heads, self.faults = reading, level, heads, faults
        self.reach = REACHES[level]
        self.tries = 0
        self.draft = Draft()
        self.shapes: list[_Kept] = []
        self.picking: list[PickingEased] = []
        self.quick = LevelFit(level)
        self.of_level = frozenset[str]()

    def eased(self) -> Eased:
        """Return what comes of it."""
        timeline = self.reading.timeline
        first = fit_for(timeline, self.level)
        if first.fits:
            return Eased(lesson=None, settings=timeline.settings, level=self.level, left=first)
        faults = self.faults(self._lesson(self.draft))
        self.of_level = faults & OF_TEMPO
        if faults - OF_TEMPO:
            self._keep_fingers()
        for _ in range(_ROUNDS):
            before = self.draft
            self._ease_shapes()
            self._ease_picking()
            self._slow_down()
            if self.draft == before:
                break
        if not self.draft.is_easier:
            return Eased(lesson=None, settings=timeline.settings, level=self.level, left=first)
        if self.faults(self._lesson(self.draft)) - OF_TEMPO:
            self._keep_fingers()
        lesson = self._lesson(self.draft)
        after = read_through(lesson).timeline
        return Eased(
            lesson=lesson,
            settings=timeline.settings,
            level=self.level,
            shapes=self._told_shapes(after),
            picking=tuple(self.picking),
            tempo=self._told_tempo(),
            left=fit_for(after, self.level),
            words=self._words(),
        )

    def _keep_fingers(self) -> None:
        """Write the fingers that were found for the first lesson: others may leave none for a note beside."""
        self.draft = evolve(self.draft, keeps_fingers=True)

    def _lesson(self, draft: Draft) -> Lesson:
        return composed(self.reading, draft, self.heads)

    def _timeline(self) -> Timeline:
        """Return how the lesson is played as far as it is decided."""
        if not self.draft.is_easier:
            return self.reading.timeline
        return read_through(self._lesson(self.draft)).timeline

    def _is_sound(self, draft: Draft) -> bool:
        """Whether a check finds no fault with a draft, but such as a slower tempo mends or as the level brings."""
        if self.tries >= _TRIES:
            return False
        self.tries += 1
        return self.faults(self._lesson(draft)) <= MENDED | self.of_level

    def _ease_shapes(self) -> None:
        timeline = evolve(
            self.reading.timeline,
            settings=evolve(self.reading.timeline.settings, level=self.level),
        )
        plan = picking_plan(self.reading.material, timeline.settings.tuning)
        shapes = Shapes(timeline, plan, self.reach, hands(timeline).changes)
        known = self.reading.timeline.voicings
        for beyond in fit_for(self._timeline(), self.level).voicings:
            name = beyond.held.voicing.name
            if name not in known or name in self.draft.voicings:
                continue
            for shape in self._some(shapes.easier(beyond, self.draft.voicings)):
                if self._take(beyond, shape, shapes):
                    break

    def _some(self, shapes: Iterable[EasierShape]) -> Iterator[EasierShape]:
        for number, shape in enumerate(shapes):
            if number < _SHAPES and self.tries < _TRIES:
                yield shape

    def _take(self, beyond: VoicingBeyond, shape: EasierShape, shapes: Shapes) -> bool:
        """Take a shape in place of a voicing, its bass as it comes or kept to the thumb's strings, if it is sound."""
        name = beyond.held.voicing.name
        ways = [shape.voicing, shapes.on_thumb_strings(shape.voicing)]
        for voicing in filter(None, ways):
            named = self._named(name, voicing, shape.kind)
            draft = evolve(self.draft, voicings={**self.draft.voicings, name: named})
            if self._is_sound(draft):
                self.draft = draft
                self.shapes.append(_Kept(beyond, evolve(shape, voicing=named)))
                return True
        return False

    def _named(self, name: str, voicing: Voicing, kind: str) -> Voicing:
        """Return a voicing under the old name, or under that of its own chord where it is another one."""
        if kind != "near":
            return evolve(voicing, name=name, symbol=self.reading.timeline.voicings[name].symbol)
        known = self.reading.timeline.voicings
        drafted = {one.name: one for one in self.draft.voicings.values()}
        wanted, number = voicing.symbol, 1
        while True:
            other = drafted.get(wanted, known.get(wanted))
            free = other is None and wanted not in self.reading.material.voicings
            if free or (other is not None and _same(other, voicing)):
                return evolve(voicing, name=wanted)
            number += 1
            wanted = f"{voicing.symbol}.easy" + (f"-{number - 1}" if number > 2 else "")

    def _ease_picking(self) -> None:
        timeline = self._timeline()
        fit = fit_for(timeline, self.level)
        share = _share(fit, timeline)
        for one in easier_picking(self.reading, fit, self.reach, share):
            if self._is_eased(one):
                continue
            for draft in self._with_picking(one):
                if self._is_sound(draft):
                    self.draft = draft
                    self.picking.append(one.told)
                    break

    def _is_eased(self, one: EasierPicking) -> bool:
        named = one.pattern is not None and one.pattern.name in self.draft.patterns
        return named or one.place in self.draft.bars

    def _with_picking(self, one: EasierPicking) -> Iterator[Draft]:
        """Yield drafts with an easier pattern or bar; in the second no bar leaves out what is not plucked now."""
        draft = self.draft
        if one.pattern is not None:
            draft = evolve(draft, patterns={**draft.patterns, one.pattern.name: one.pattern})
        elif one.place is not None and one.beats is not None:
            draft = evolve(draft, bars={**draft.bars, one.place: one.beats})
        yield draft
        yield evolve(draft, unplucked=draft.unplucked | frozenset(one.told.dropped))

    def _slow_down(self) -> None:
        """Lower the tempo until changes and strokes are in time, and a check finds no fault in it."""
        fit = fit_for(self._timeline(), self.level)
        if fit.tempo is not None and self.draft.tempo is None:
            self.quick = fit
        self._keep_in_time()
        if not self.draft.is_easier:
            return
        song = self.reading.timeline.settings.tempo
        draft = self.draft
        tempo: Tempo | None = draft.tempo or song
        while self.tries < _TRIES and tempo is not None:
            self.tries += 1
            if not self.faults(self._lesson(draft)) & OF_TEMPO:
                self.draft = draft
                break
            tempo = slower(tempo, _STEP)
            draft = evolve(draft, tempo=tempo)
        self._keep_in_time()

    def _keep_in_time(self) -> None:
        """Lower the tempo as far as the level asks; fingers left open may be others at another tempo."""
        while (tempo := fit_for(self._timeline(), self.level).tempo) is not None:
            self.draft = evolve(self.draft, tempo=tempo)

    def _told_shapes(self, after: Timeline) -> tuple[ShapeEased, ...]:
        before = self.reading.timeline
        names = {old: new.name for old, new in self.draft.voicings.items()}
        heard = heard_otherwise(before, after, names)
        neck, hand = neck_of_settings(after.settings), hand_of_settings(after.settings)
        told = []
        for kept in self.shapes:
            held, new = kept.beyond.held, after.voicings.get(kept.shape.voicing.name)
            if new is None:
                continue
            new = fill_fingers(new, after.settings)
            told.append(
                ShapeEased(
                    before=held.voicing,
                    after=new,
                    kind=kept.shape.kind,
                    reasons=kept.beyond.reasons,
                    effort_before=held.effort,
                    effort_after=effort(
                        neck, hand, Fretted(new.frets, new.fingers or (None,) * len(new.frets))
                    ),
                    heard=heard.get(held.voicing.name, HeardOtherwise()),
                )
            )
        return tuple(told)

    def _told_tempo(self) -> TempoEased | None:
        if self.draft.tempo is None:
            return None
        before = self.reading.timeline.settings.tempo
        changes = tuple((one.before, one.after) for one in self.quick.changes)
        named = [one.pattern for one in self.quick.picking if one.share < 1]
        return TempoEased(before, self.draft.tempo, changes, tuple(filter(None, named)))

    def _words(self) -> tuple[NamedInWords, ...]:
        """Return the steps whose words name a voicing that is another one now."""
        names = {
            name
            for kept in self.shapes
            for name in (kept.beyond.held.voicing.name, kept.beyond.held.voicing.symbol)
            if name
        }
        if not names:
            return ()
        spoken = Lesson(blocks=tuple(self.reading.material.steps))
        found = named_in_words(spoken, names)
        kept = ((place, tuple(one for one in said if one in names)) for place, said in found)
        return tuple(NamedInWords(place, said) for place, said in kept if said)


def _same(one: Voicing, other: Voicing) -> bool:
    return (one.frets, one.fingers) == (other.frets, other.fingers)


def _share(fit: LevelFit, timeline: Timeline) -> float:
    """Return the share of the tempo at which the changes of a lesson are in time, as far as one mends them."""
    reach = REACHES[fit.level].pressure
    least = SLOWEST / float(timeline.settings.tempo.per_minute)
    pressures = [one.pressed.pressure for one in fit.changes if one.pressed]
    shares = [reach / one for one in pressures if one and reach / one >= least]
    return min([1.0, *shares])
