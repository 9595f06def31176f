"""Diagrams in words, for those who hear them: string by string, finger by finger."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.text import listed
from fretloom.trade.guitar.voicing import FINGERS, Hop, Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import say
from fretloom.trade.playability.moving.changes import KINDS, Change

_PARTS = {"&": "half", "e": "quarter", "a": "last-quarter", "trip": "third", "let": "two-thirds"}


def spoken(
    name: str,
    voicing: Voicing,
    use: ShapeUse | None,
    *,
    thick: bool = True,
    called: CalledStrings | None = None,
) -> str:
    """Say a voicing: "Shape E. From the thick string: string 6 open; string 5 middle at fret 2; ...".

    `thick` is whether the string with the highest number is the lowest, as on a ukulele it is not; `called` is
    how strings are called, by number unless it says otherwise.
    """
    called = called or CalledStrings()
    filled = {"name": said_aloud(name), "strings": _parts(_strings(voicing, use, called))}
    outer = called.string(len(voicing.frets))
    said = (
        say("spoken.shape", **filled) if thick else say("spoken.shape-from", string=outer, **filled)
    )
    thumb = [
        say("spoken.thumb-string", string=called.string(string), counts=_counts(counts))
        for string, counts in (use.thumb if use is not None else ())
    ]
    return f"{said} {say('spoken.thumb', strings=_parts(thumb))}" if thumb else said


def spoken_change(
    before: TakenShape, after: TakenShape, change: Change, called: CalledStrings | None = None
) -> str:
    """Say a change finger by finger, those that stay first: "A to B7. The index slides from fret 2 to ..."."""
    names = {"before": said_aloud(before.name), "after": said_aloud(after.name)}
    moves = sorted(change.moves, key=lambda one: KINDS.index(one.kind))
    strings = called or CalledStrings()
    said = (_move(one.finger, one.kind, before.voicing, after.voicing, strings) for one in moves)
    return " ".join((say("spoken.change", **names), *said))


def said_aloud(name: str) -> str:
    """Say the signs in a chord's name: "C sharp m7"."""
    text = name.replace("♯", "#").replace("♭", "b")
    sharp, flat = f" {say('spoken.sharp')} ", f" {say('spoken.flat')} "
    spoken_name = text[:1] + text[1:2].replace("#", sharp).replace("b", flat) + text[2:]
    over = f" {say('spoken.over')} "
    return " ".join(spoken_name.replace("/", over).replace("#", sharp).split())


def count_words(count: Count) -> str:
    """Say a count: "3", "2 and"; a share of a beat that has no word as a fraction."""
    if not count.word:
        return str(count.number)
    key = _PARTS.get(count.word)
    if key is None:
        return say("spoken.count-share", number=count.number, share=count.word)
    return say(f"spoken.count-{key}", number=count.number)


def finger_name(finger: str) -> str:
    """Return what a fretting finger is called: "index", "little finger", "thumb"."""
    return say(f"spoken.finger-{finger.lower()}")


def _counts(counts: Iterable[Count]) -> str:
    return listed([count_words(one) for one in counts], say("hands.and"))


def _parts(parts: Iterable[str]) -> str:
    return "; ".join(parts)


def _strings(voicing: Voicing, use: ShapeUse | None, called: CalledStrings) -> Iterator[str]:
    hops = {hop.string: hop for hop in voicing.hops}
    for string in range(len(voicing.frets), 0, -1):
        fret, finger = voicing.fret(string), voicing.finger(string)
        name, quiet = (
            called.string(string),
            "-quiet" if use is not None and string not in use.plucked else "",
        )
        if string in hops:
            yield _hop(hops[string], use, called)
        if fret is None:
            if string not in hops:
                yield say("spoken.mute", string=name)
        elif not fret:
            yield say(f"spoken.open{quiet}", string=name)
        elif finger in FINGERS:
            yield say(f"spoken.held{quiet}", string=name, finger=finger_name(finger), fret=fret)
        else:
            yield say(f"spoken.unfingered{quiet}", string=name, fret=fret)


def _hop(hop: Hop, use: ShapeUse | None, called: CalledStrings) -> str:
    counts = dict(use.hops).get(hop.string, ()) if use is not None else ()
    place = say("spoken.fret", fret=hop.fret) if hop.fret else say("spoken.open-place")
    filled = {
        "string": called.string(hop.string),
        "finger": say(f"spoken.the-{hop.finger.lower()}"),
        "place": place,
    }
    if counts:
        return say("spoken.hop-on", **filled, counts=_counts(counts))
    return say("spoken.hop", **filled)


def _move(finger: str, kind: str, before: Voicing, after: Voicing, called: CalledStrings) -> str:
    """Say what a finger does, with places as the diagrams have them."""
    filled = {"finger": say(f"spoken.the-{finger.lower()}").capitalize()}
    for name, voicing in (("from", before), ("to", after)):
        strings = voicing.strings_of(finger)
        held = [string for string in strings if voicing.fret(string)]
        if held:
            fret = voicing.fret(held[0]) or 0
            over = called.span(held[0], held[-1])
            where = (
                called.place(held[0], fret)
                if len(held) == 1
                else say("spoken.places", strings=over, fret=called.fret_of(voicing, held))
            )
            filled |= {name: where, f"{name}_fret": str(fret)}
    return say(f"spoken.does-{kind}", **filled)
