"""Playable voicings of a chord symbol: the usual shapes first, then what a search of the fretboard finds."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from fretloom.arranging.common_shape import weight_of
from fretloom.arranging.search_frets import Frets, Strings, loss, searched, strings_of
from fretloom.performance.events import Settings
from fretloom.performance.expansion.voicings.bass import bass_order
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.sounding.strings import Shifts
from fretloom.trade.guitar.common_shapes import are_usual, usual_shapes
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.plucking import PickingPlan, usual_plan
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.chord_tones import chord_tones
from fretloom.trade.harmony.fit import Fit
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.playability.effort import Effort, effort
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.playability.solver import fingerings
from fretloom.values import frozen

#: What frets lose because nobody teaches them; and a usual shape on a tuning it is not usual for.
_UNUSUAL, _FOREIGN = 1.5, 0.4
#: What they lose where the body of the instrument is in the way.
_HIDDEN = 2.0
#: Candidates of the search that are fingered at all; the rest sound worse however they are held.
_FINGERED = 400


@frozen
class FoundVoicings:
    """The playable voicings that were found for a chord symbol, best first."""

    chord: str
    voicings: tuple[FoundVoicing, ...]


@frozen
class FoundVoicing:
    """A voicing that was found, with fingers and a bass order, the effort to hold it, and how it fits.

    `usual` says whether teachers show it; a lower `score` is better. On re-entrant tunings, which
    have no bass, `fit` calls nothing an inversion.
    """

    voicing: Voicing
    effort: Effort
    fit: Fit
    score: float
    usual: bool = False


def find_voicings(
    name: str,
    settings: Settings,
    *,
    plan: PickingPlan | None = None,
    needed: frozenset[int] = frozenset(),
    thumb: bool = False,
    limit: int = 8,
    shifts: Shifts = (),
) -> FoundVoicings:
    """Return playable voicings of a chord symbol, best first.

    Args:
        name: the symbol, such as `F#m7b5` or `C/G`, as the hand thinks of it (without a full capo).
        settings: tuning, capo, instrument, hand and level.
        plan: the picking fingers' strings; the bass note has to lie on one of the thumb's.
        needed: strings that have to sound.
        thumb: whether the thumb may fret over the neck.
        limit: how many to return at most.
        shifts: those of `name_shifts`, for lessons whose names think of the shapes.

    Raises:
        SymbolError: the name is not a chord symbol.
    """
    symbol = parse_symbol(name, settings.names)
    plan = plan or usual_plan(settings.tuning.strings)
    strings = strings_of(settings, plan, needed, shifts)
    hold = _HandOf(settings, symbol.text, thumb)
    found = {one.voicing.frets: one for one in _searched(symbol, strings, settings, hold)}
    for one in _usual(symbol, strings, hold):
        known = found.get(one.voicing.frets)
        if known is None or one.score < known.score:
            found[one.voicing.frets] = one
    ranked = sorted(found.values(), key=lambda one: (one.score, one.voicing.frets_text))
    best = _different(ranked, limit)
    return FoundVoicings(name, tuple(_with_bass(one, settings, plan) for one in best))


class _HandOf:
    """How a hand holds frets."""

    def __init__(self, settings: Settings, name: str, thumb: bool) -> None:
        self.neck: Neck = neck_of_settings(settings)
        self.hand: Hand = hand_of_settings(settings)
        self.capo = settings.capo.fret
        self.weight = weight_of(settings)
        self.name, self.thumb = name, thumb

    def held(self, frets: Frets, fit: Fit, points: float, usual: bool) -> FoundVoicing | None:
        """Return frets with fingers, or None if no hand of this size holds them."""
        fretted = Fretted(frets, (None,) * len(frets))
        if any(frets):
            found = fingerings(frets, self.neck, self.hand, thumb=self.thumb, limit=1)
            if not found:
                return None
            fretted = Fretted(frets, found[0].fingers)
        if max((fret or 0 for fret in frets), default=0) + self.capo > self.neck.free:
            points += _HIDDEN
        made = effort(self.neck, self.hand, fretted)
        voicing = Voicing(name=self.name, symbol=self.name, frets=frets, fingers=fretted.fingers)
        weight = self.weight if usual else max(1.0, self.weight)
        return FoundVoicing(voicing, made, fit, points + weight * made.points, usual)


def _usual(symbol: ChordSymbol, strings: Strings, hold: _HandOf) -> Iterator[FoundVoicing]:
    """Yield the usual shapes that sound the symbol on these strings."""
    if symbol.quality is None:
        return
    bass = symbol.bass.pitch_class if symbol.bass else None
    at_home = are_usual(strings.opens)
    for shape in usual_shapes(strings.opens, symbol.root.pitch_class, symbol.quality.suffix, bass):
        heard = strings.hears(symbol, shape.frets)
        if heard is not None:
            points = shape.points if at_home else loss(shape.frets, heard) + _UNUSUAL - _FOREIGN
            found = hold.held(shape.frets, heard, points, at_home)
            if found is not None:
                yield found


def _searched(
    symbol: ChordSymbol, strings: Strings, settings: Settings, hold: _HandOf
) -> Iterator[FoundVoicing]:
    candidates = [
        (loss(frets, heard) + _UNUSUAL, frets, heard)
        for frets, heard in searched(symbol, strings, hold.neck, settings.capo.fret)
    ]
    candidates.sort(key=lambda one: one[0])
    for points, frets, heard in candidates[:_FINGERED]:
        found = hold.held(frets, heard, points, usual=False)
        if found is not None:
            yield found


def _with_bass(found: FoundVoicing, settings: Settings, plan: PickingPlan) -> FoundVoicing:
    chord = chord_tones(found.voicing.symbol, settings.names)
    bass = bass_order(found.voicing, settings, plan, chord)
    return evolve(found, voicing=evolve(found.voicing, bass=bass))


def _different(ranked: list[FoundVoicing], limit: int) -> list[FoundVoicing]:
    """Leave out voicings that are only a better one with fewer strings and no easier to hold."""
    kept: list[FoundVoicing] = []
    for one in ranked:
        if len(kept) == limit:
            break
        if not any(_is_needless(one, other) for other in kept):
            kept.append(one)
    return kept


def _is_needless(one: FoundVoicing, fuller: FoundVoicing) -> bool:
    pairs = zip(one.voicing.frets, fuller.voicing.frets, strict=True)
    within = all(fret is None or fret == more for fret, more in pairs)
    return within and not one.usual and one.effort.level >= fuller.effort.level
