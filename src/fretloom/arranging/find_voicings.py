"""Search the fretboard for playable voicings of a chord symbol, best first."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from attrs import evolve

from fretloom.limits import LIMITS
from fretloom.performance.events import Settings
from fretloom.performance.expansion.voicings.bass import bass_order
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.sounding.strings import fingered
from fretloom.trade.guitar.common_shapes import open_shape
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.plucking import PickingPlan, usual_plan
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.chord_tones import chord_tones
from fretloom.trade.harmony.fit import Fit, fit
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.playability.effort import Effort, effort
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted, inner_muted
from fretloom.trade.playability.solver import fingerings
from fretloom.values import frozen

#: Frets of a search: a window of so many, up to this fret from the capo.
_WINDOW, _HIGHEST = 4, 12
#: What a voicing loses for an inversion, a missing root, each unplayed string inside, below and above
#: (where the fingers pluck), each fret up the neck; and what it gains where it is a common shape.
_INVERTED, _ROOTLESS, _INSIDE, _BELOW, _ABOVE, _UP, _COMMON = 2.0, 3.0, 1.2, 0.25, 1.0, 0.2, 1.2
#: Candidates that are fingered at all; the rest sound worse however they are held.
_FINGERED = 400


@frozen
class FoundVoicings:
    """The playable voicings that were found for a chord symbol, best first."""

    chord: str
    voicings: tuple[FoundVoicing, ...]


@frozen
class FoundVoicing:
    """A voicing that was found, with fingers and a bass order, the effort to hold it, and how it fits."""

    voicing: Voicing
    effort: Effort
    fit: Fit
    score: float


def find_voicings(
    name: str,
    settings: Settings,
    *,
    plan: PickingPlan | None = None,
    needed: frozenset[int] = frozenset(),
    thumb: bool = False,
    limit: int = 8,
) -> FoundVoicings:
    """Return playable voicings of a chord symbol, best first.

    Args:
        name: the symbol, such as `F#m7b5` or `C/G`, as the hand thinks of it (without a full capo).
        settings: tuning, capo, instrument and hand.
        plan: the picking fingers' strings; the bass note has to lie on one of the thumb's.
        needed: strings that have to sound.
        thumb: whether the thumb may fret over the neck.
        limit: how many to return at most.

    Raises:
        SymbolError: the name is not a chord symbol.
    """
    symbol = parse_symbol(name, settings.names)
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    plan = plan or usual_plan(settings.tuning.strings)
    ranked = sorted(_candidates(symbol, settings, neck, plan, needed), key=lambda one: one[0])
    found = []
    for loss, frets, fits in ranked[:_FINGERED]:
        fretted = _fingered(frets, neck, hand, thumb)
        if fretted is None:
            continue
        held = effort(neck, hand, fretted)
        score = loss + held.points
        voicing = Voicing(name=name, symbol=name, frets=frets, fingers=fretted.fingers)
        found.append(FoundVoicing(voicing, held, fits, score))
    found.sort(key=lambda one: (one.score, one.voicing.frets_text))
    best = _different(found)[:limit]
    return FoundVoicings(name, tuple(_with_bass(one, settings, plan) for one in best))


def _with_bass(found: FoundVoicing, settings: Settings, plan: PickingPlan) -> FoundVoicing:
    chord = chord_tones(found.voicing.symbol, settings.names)
    bass = bass_order(found.voicing, settings, plan, chord)
    return evolve(found, voicing=evolve(found.voicing, bass=bass))


def _different(found: list[FoundVoicing]) -> list[FoundVoicing]:
    """Leave out voicings that are only a better one with fewer strings."""
    kept: list[FoundVoicing] = []
    for one in found:
        frets = one.voicing.frets
        if not any(_within(frets, other.voicing.frets) for other in kept):
            kept.append(one)
    return kept


def _within(frets: tuple[int | None, ...], fuller: tuple[int | None, ...]) -> bool:
    return all(fret is None or fret == more for fret, more in zip(frets, fuller, strict=True))


def _fingered(frets: tuple[int | None, ...], neck: Neck, hand: Hand, thumb: bool) -> Fretted | None:
    if not any(frets):
        return Fretted(frets, (None,) * len(frets))
    found = fingerings(frets, neck, hand, thumb=thumb, limit=1)
    return Fretted(frets, found[0].fingers) if found else None


def _candidates(
    symbol: ChordSymbol,
    settings: Settings,
    neck: Neck,
    plan: PickingPlan,
    needed: frozenset[int],
) -> Iterator[tuple[float, tuple[int | None, ...], Fit]]:
    """Yield lists of frets that sound the symbol, with the points they lose for their sound."""
    seen: set[tuple[int | None, ...]] = set()
    count = settings.tuning.strings
    essential = {note.pitch_class for note in symbol.essential}
    common = open_shape(symbol.canonical)
    highest = min(_HIGHEST, neck.frets - settings.capo.fret - _WINDOW)
    for lowest in range(1, max(2, highest + 1)):
        columns = [
            _column(symbol, settings, string, lowest, string in needed)
            for string in range(count, 0, -1)
        ]
        for frets in islice(_products(columns), LIMITS.candidates):
            if frets in seen:
                continue
            seen.add(frets)
            sounding = _sounding(frets, settings)
            if not essential <= {pitch % 12 for pitch in sounding}:
                continue
            fits = fit(symbol, sounding)
            if fits.accepted and _bass_is_the_thumbs(frets, settings, plan):
                yield _loss(frets, fits) - _COMMON * (frets == common), frets, fits


def _column(
    symbol: ChordSymbol, settings: Settings, string: int, lowest: int, needed: bool
) -> list[int | None]:
    """Return the frets at which a string sounds a tone of the chord, and mute if it may be left out."""
    frets = [0, *range(lowest, lowest + _WINDOW)]
    tones: list[int | None] = [
        fret for fret in frets if fingered(settings, string, fret) % 12 in symbol.pitch_classes
    ]
    return tones if needed else [*tones, None]


def _products(columns: list[list[int | None]]) -> Iterator[tuple[int | None, ...]]:
    """Yield combinations with at least three strings and at most one unplayed string inside."""

    def extend(taken: tuple[int | None, ...], inside: int) -> Iterator[tuple[int | None, ...]]:
        if len(taken) == len(columns):
            if sum(fret is not None for fret in taken) >= min(3, len(columns) - 1):
                yield taken
            return
        for fret in columns[len(taken)]:
            gap = (
                fret is not None
                and bool(taken)
                and taken[-1] is None
                and any(one is not None for one in taken)
            )
            if inside + gap <= 1 and not (gap and len(taken) > 1 and taken[-2] is None):
                yield from extend((*taken, fret), inside + gap)

    yield from extend((), 0)


def _sounding(frets: tuple[int | None, ...], settings: Settings) -> list[int]:
    count = len(frets)
    return [
        fingered(settings, count - at, fret) for at, fret in enumerate(frets) if fret is not None
    ]


def _bass_is_the_thumbs(
    frets: tuple[int | None, ...], settings: Settings, plan: PickingPlan
) -> bool:
    """Whether the thumb plays the lowest note; on re-entrant tunings it need not."""
    count = len(frets)
    open_strings = [fingered(settings, string, 0) for string in range(count, 0, -1)]
    if min(open_strings) != open_strings[0]:
        return True
    strings = [count - at for at, fret in enumerate(frets) if fret is not None]
    lowest = min(strings, key=lambda one: fingered(settings, one, frets[count - one] or 0))
    return lowest in plan.strings_of("p")


def _loss(frets: tuple[int | None, ...], fits: Fit) -> float:
    """Return the points that a voicing loses for its sound and its place."""
    stopped = [fret for fret in frets if fret]
    played = [at for at, fret in enumerate(frets) if fret is not None]
    return (
        _INVERTED * fits.inverted
        + _ROOTLESS * fits.rootless
        + _INSIDE * len(inner_muted(frets))
        + _BELOW * played[0]
        + _ABOVE * (len(frets) - 1 - played[-1])
        + _UP * (min(stopped) if stopped else 0)
    )
