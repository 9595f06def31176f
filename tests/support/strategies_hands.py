"""Voicings and picking patterns for generated lessons, playable by construction."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st
from strategies_techniques import held, held_to, techniques
from strategies_words import Desk, margins, titles

from fretloom.notation.model.details.technique import PLAIN, Technique
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
    Slur,
    Stroke,
)
from fretloom.notation.model.voicing import Add, Lift, Move, Mute, Shift, VoicingEntry
from fretloom.trade.guitar.voicing import Hop
from fretloom.trade.music.meter import Meter

#: Chords in standard tuning that need strings 1 to 4 only (common first-position fingerings).
CHORDS = {
    "E": ("022100", ".231.."), "Em": ("022000", ".23..."), "A": ("x02220", "..123."),
    "Am": ("x02210", "..231."), "C": ("x32010", ".32.1."), "G": ("320003", "21...3"),
    "D": ("xx0232", "...132"), "Dm": ("xx0231", "...231"), "B7": ("x21202", ".213.4"),
}  # fmt: skip
VOICING_NAMES = ("walkdown", "low-one", "half.up", "täglich", "shell2", "drone")
PATTERN_NAMES = ("plain", "pinched", "roll-up", "waltz2", "über", "arp")


@st.composite
def named_chord(draw: st.DrawFn, name: str) -> VoicingEntry:
    """A chord of the table, with or without what the tool could derive."""
    frets, fingers = CHORDS[name]
    tag = draw(st.sampled_from(["", ".full"]))
    hop = name == "B7" and draw(st.integers(0, 3)) > 0
    return VoicingEntry(
        name=name + tag,
        frets=tuple(None if place == "x" else int(place) for place in frets),
        fingers=tuple(None if one == "." else one for one in fingers) if hop or draw(st.booleans()) else (),
        bass=(5, 4, 6, 4) if hop else (4,) if name in ("D", "Dm") else (),
        hops=(Hop("2", 6, 2),) if hop else (),
        margin=draw(margins()),
    )  # fmt: skip


@st.composite
def free_voicing(draw: st.DrawFn, desk: Desk, name: str) -> VoicingEntry:
    """Any voicing: open strings, up to four fingers from the lowest fret up, some strings muted."""
    base = draw(st.sampled_from([0, 0, 1, 4, 9]))
    most = draw(st.sampled_from([2, 3, 4]))
    chosen = draw(st.sets(st.integers(1, desk.strings), max_size=min(most, desk.strings)))
    places = sorted((base + draw(st.integers(1, 3)), -string) for string in chosen)
    held = {-string: (fret, str(place + 1)) for place, (fret, string) in enumerate(places)}
    return _voicing(draw, desk, name, held, open_fret=0)


@st.composite
def barred_voicing(draw: st.DrawFn, desk: Desk, name: str) -> VoicingEntry:
    """A movable voicing: finger 1 across all strings, up to three more above it."""
    base = draw(st.integers(1, 5))
    chosen = draw(st.sets(st.integers(1, desk.strings), max_size=min(3, desk.strings - 1)))
    places = sorted((base + draw(st.integers(1, 2)), -string) for string in chosen)
    held = {-string: (fret, str(place + 2)) for place, (fret, string) in enumerate(places)}
    return _voicing(draw, desk, name, held, open_fret=base)


def _voicing(
    draw: st.DrawFn, desk: Desk, name: str, held: dict[int, tuple[int, str]], open_fret: int
) -> VoicingEntry:
    strings = range(desk.strings, 0, -1)
    unheld = (open_fret, "1" if open_fret else None)
    places = [
        (None, None) if string not in desk.safe else held.get(string, unheld) for string in strings
    ]
    # With one string only the thumb would be given a finger's string to alternate with.
    given = st.lists(st.sampled_from(desk.thumb), min_size=1, max_size=4).map(tuple)
    bass = given if len(desk.thumb) == 1 else st.just(()) | given
    return VoicingEntry(
        name=name,
        frets=tuple(fret for fret, _ in places),
        fingers=tuple(finger for _, finger in places)
        if open_fret or draw(st.integers(0, 2))
        else (),
        bass=draw(bass),
        margin=draw(margins()),
    )


@st.composite
def derived_voicing(draw: st.DrawFn, desk: Desk, name: str, like: VoicingEntry) -> VoicingEntry:
    """A voicing made from another by changes that its hand allows."""
    frets = dict(zip(range(len(like.frets), 0, -1), like.frets, strict=True))
    fingers = dict(zip(range(len(like.fingers), 0, -1), like.fingers, strict=True))
    used = {finger for finger in fingers.values() if finger}
    opened = [string for string, fret in frets.items() if fret == 0]
    highest = max((fret for fret in frets.values() if fret), default=0)
    choices = [st.builds(Mute, string=st.sampled_from(sorted(set(frets) - desk.safe)))] if set(frets) - desk.safe else []  # fmt: skip
    if used and not opened:
        choices.append(st.builds(Shift, frets=st.integers(1, 3)))
    if used:
        choices.append(st.builds(Lift, finger=st.sampled_from(sorted(used - {"1"} or used))))
    if used and opened and not like.hops:
        last = max(used)
        if last != "4" and highest < 12:
            strings, finger = st.sampled_from(opened), str(int(last) + 1)
            added = st.builds(
                Add, string=strings, fret=st.just(highest + 1), finger=st.just(finger)
            )
            choices += [added, added]
        moved = st.builds(Move, finger=st.just(last), string=st.sampled_from(opened), fret=st.just(highest))  # fmt: skip
        choices += [moved, moved]
    # By place: `one_of` would take equal ones once.
    changes = (draw(choices[draw(st.integers(0, len(choices) - 1))]),) if choices else ()
    return VoicingEntry(name=name, like=like.name, changes=changes, margin=draw(margins()))


def _changeable(one: VoicingEntry) -> tuple[bool, bool, bool]:
    """How many of the changes can be made to a voicing: they want fingers, open strings, a finger more."""
    return bool(one.fingers), 0 in one.frets, "4" not in one.fingers


@st.composite
def voicings(draw: st.DrawFn, desk: Desk) -> tuple[VoicingEntry, ...]:
    """Two to eight voicings, some real chords where the tuning is standard, some derived."""
    made: list[VoicingEntry] = []
    if desk.standard and desk.safe >= {1, 2, 3, 4}:
        for name in draw(st.lists(st.sampled_from([*CHORDS, "B7", "B7"]), unique=True, max_size=4)):
            chord = draw(named_chord(name))
            if {
                s for s, fret in zip(range(6, 0, -1), chord.frets, strict=True) if fret is None
            } & desk.safe:
                continue
            made.append(chord)
    for name in draw(st.lists(st.sampled_from(VOICING_NAMES), unique=True, min_size=2, max_size=4)):
        kinds = [free_voicing(desk, name), barred_voicing(desk, name)]
        bases = sorted((one for one in made if not one.like), key=_changeable)
        kinds += [derived_voicing(desk, name, one) for one in bases[-2:]] * 2
        made.append(draw(kinds[draw(st.integers(0, len(kinds) - 1))]))
    return tuple(made)


@st.composite
def plucks(draw: st.DrawFn, desk: Desk, finger: str, free: set[int]) -> Pluck | None:
    """A pluck of a finger on one of the strings still free at this instant, which it takes."""
    home = set(desk.thumb) if finger == "p" else set(desk.homes.get(finger, ()))
    bare = bool(home) and home <= free
    near = free & (home if finger == "p" else set(range(1, min(4, desk.strings))))
    if not bare and not near:
        return None
    string = None if bare and draw(st.integers(0, 3)) else draw(st.sampled_from(sorted(near))) if near else None  # fmt: skip
    free -= home if string is None else {string}
    kind = draw(st.sampled_from(["", "", "", "", "fret", "slur", "harmonic", "dead"]))
    accent = draw(st.integers(0, 4)) == 4
    pluck = Pluck(finger=finger, string=string, accent=accent, dead=kind == "dead")
    if kind in ("", "dead"):
        return pluck
    fret = draw(st.sampled_from([5, 7, 12])) if kind == "harmonic" else draw(st.integers(0, 12))
    slurs = tuple(draw(slur_chains(fret))) if kind == "slur" else ()
    fretting = draw(st.sampled_from("1234T")) if fret and kind == "fret" and draw(st.booleans()) else None  # fmt: skip
    said = draw(techniques(kind, fret)) if draw(st.booleans()) else PLAIN
    return Pluck(finger=finger, string=string, accent=accent, fret=fret, slurs=slurs, harmonic=kind == "harmonic", fretting=fretting, technique=said)  # fmt: skip


@st.composite
def slur_chains(draw: st.DrawFn, fret: int) -> list[Slur]:
    """One to three slurred notes that lead on from a fret."""
    chain: list[Slur] = []
    for _ in range(draw(st.sampled_from([1, 1, 1, 2, 3]))):
        up = fret == 0 or draw(st.booleans())
        goal = draw(
            st.integers(fret + 1, fret + 3) if up else st.integers(max(0, fret - 3), fret - 1)
        )
        slide = fret > 0 and goal > 0 and draw(st.integers(0, 2)) == 2
        finger = draw(st.sampled_from([None, None, "1", "2", "3", "4"])) if goal else None
        chain.append(Slur("slide" if slide else "hammer-on" if up else "pull-off", goal, finger))
        fret = goal
    return chain


@st.composite
def strokes(draw: st.DrawFn, desk: Desk) -> Stroke:
    """One pluck, a pinch, a roll or a brush; no string and no finger twice."""
    kind = draw(st.sampled_from(["pluck", "pluck", "pluck", "pinch", "pinch", "roll", "brush", "thumb and roll", "slap"]))  # fmt: skip
    free = set(desk.safe)
    if kind == "slap":
        place = draw(st.sampled_from(["strings", "body"]))
        return Stroke(parts=(Slap(place=place, accent=draw(st.booleans())),))
    if kind == "brush":
        run = sorted(free & set(range(1, min(5, desk.strings + 1))))
        ends = draw(st.permutations(run))[:2]
        finger = "p" if ends[0] > ends[1] else "i"
        brush = Brush(
            finger=finger,
            first=ends[0],
            last=ends[1],
            accent=draw(st.booleans()),
            dead=draw(st.booleans()),
            technique=Technique(lasting=draw(st.sampled_from(["", "", "damped"]))),
        )
        return Stroke(parts=(brush,))
    fingers = [finger for finger in ("p", "i", "m", "a") if finger in desk.homes]
    count = 1 if kind == "pluck" else draw(st.integers(2, len(fingers)))
    chosen = sorted(draw(st.permutations(fingers))[:count], key=fingers.index)
    found = [draw(plucks(desk, finger, free)) for finger in chosen]
    parts = tuple(pluck for pluck in found if pluck is not None)
    if kind == "roll" and len(parts) > 1:
        return Stroke(parts=(Roll(parts=parts, slow=draw(st.booleans())),))
    if kind == "thumb and roll" and len(parts) > 2:
        return Stroke(parts=(parts[0], Roll(parts=parts[1:])))
    return Stroke(parts=parts)


@st.composite
def items(draw: st.DrawFn, desk: Desk, depth: int = 0) -> Item:
    """A stroke, a hold, or a group of them."""
    kind = draw(st.sampled_from(["stroke"] * 6 + ["hold", "hold"] + ["group"] * (depth < 2)))
    if kind == "group":
        inner = st.lists(items(desk, depth + 1), min_size=1 + (depth > 0), max_size=3)
        return Group(items=tuple(draw(inner)))
    return Hold() if kind == "hold" else draw(strokes(desk))


def pattern_bars(desk: Desk, beats: int) -> st.SearchStrategy[PatternBar]:
    """A bar of so many beats, each shared by one to four items."""
    share = st.sampled_from([1, 1, 2, 2, 2, 3, 4])
    beat = share.flatmap(lambda size: st.lists(items(desk), min_size=size, max_size=size))
    made = beat.map(lambda found: Beat(items=tuple(found)))
    plain = st.lists(made, min_size=beats, max_size=beats)
    bars = plain.map(lambda found: PatternBar(beats=tuple(found)))
    return st.tuples(bars, st.sampled_from(["", "for", "for", "ring"])).map(
        lambda made: held(*made)
    )


@st.composite
def patterns(draw: st.DrawFn, desk: Desk, name: str, meter: Meter) -> Pattern:
    """A pattern of one bar, sometimes two."""
    bar = pattern_bars(desk, len(meter.beats))
    if len(meter.beats) > 1 and draw(st.booleans()):
        to = meter.count_at(meter.beat_starts[1])
        bar = bar.map(lambda made: made if to.part or not desk.thumb else held_to(made, to))
    return Pattern(
        name=name,
        title=draw(titles),
        meter=None if meter == desk.meter else meter,
        bars=tuple(draw(st.lists(bar, min_size=1, max_size=draw(st.sampled_from([1, 1, 2]))))),
        margin=draw(margins()),
    )


def onsets(bar: PatternBar, meter: Meter) -> list[tuple[Fraction, Stroke]]:
    """Return where in a bar the strokes of a pattern fall, in quarter notes."""
    found: list[tuple[Fraction, Stroke]] = []
    for beat, start, length in zip(bar.beats, meter.beat_starts, meter.beats, strict=False):
        found += _share(beat.items, start, length)
    return found


def _share(
    shared: tuple[Item, ...], start: Fraction, length: Fraction
) -> list[tuple[Fraction, Stroke]]:
    found: list[tuple[Fraction, Stroke]] = []
    for place, item in enumerate(shared):
        at = start + length * place / len(shared)
        if isinstance(item, Group):
            found += _share(item.items, at, length / len(shared))
        elif isinstance(item, Stroke):
            found.append((at, item))
    return found
