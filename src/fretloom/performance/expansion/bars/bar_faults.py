"""What cannot be plucked in a bar, in words; a fault is known by what is written, and where."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import Protocol

from attrs import evolve

from fretloom.notation.model.pattern import Brush, Pluck, Slap
from fretloom.notation.model.section import Without
from fretloom.notation.syntax.writing.words import played as part_words
from fretloom.performance.expansion.timing.template import BarFault
from fretloom.source import Span
from fretloom.text import nearest
from fretloom.trade.guitar.voicing import Hop
from fretloom.trade.music.meter import Count
from fretloom.trade.wording import PICKING_FINGER_WORDS


class _Written(Protocol):
    @property
    def span(self) -> Span | None: ...


def written_key(one: _Written) -> tuple[Span | None, object]:
    """Return a key that no other written thing has: where it stands, and what it says."""
    return one.span, one


class BarFaults:
    """The faults of one bar."""

    def __init__(self) -> None:
        self.found: list[BarFault] = []

    def add(
        self,
        rule: str,
        message: str,
        hint: str,
        span: Span | None,
        key: Hashable,
        mended_in: str = "",
    ) -> None:
        """Note a fault; without a span it is the bar's own, or that of the voicing in which it is mended."""
        self.found.append(BarFault(rule, "{where}: " + message, hint, span, key, mended_in))

    def nothing_to_leave_out(self, patch: Without, used: Iterable[str]) -> None:
        """Note a `without` where the finger plucks nothing; `used` are those that do pluck there."""
        who = PICKING_FINGER_WORDS[patch.finger]
        message = (
            f"{who} ({patch.finger}) plucks nothing on {patch.count}, so nothing can be left out"
        )
        there = " and ".join(sorted(used))
        hint = f"on {patch.count} there is {there}"
        if not there:
            hint = f"nothing at all is plucked on {patch.count}"
        self.add("nothing-to-leave-out", message, hint, patch.span, written_key(patch))

    def no_home_string(self, part: Pluck) -> None:
        """Note a finger that does not have a string of its own and does not name one."""
        message = f"{PICKING_FINGER_WORDS[part.finger]} ({part.finger}) has no home string"
        hint = (
            f"name its string ({part.finger}1), or add `{part.finger} plays 1` to a picking block"
        )
        self.add("no-home-string", message, hint, part.span, part.finger)

    def no_such_string(self, part: Pluck | Brush, string: int, strings: int) -> None:
        """Note a string that the instrument does not have."""
        message = f"{part_words(part)} means string {string}, but the tuning has {strings} strings"
        hint = f"name a string from 1 (the highest) to {strings}"
        self.add("no-such-string", message, hint, part.span, written_key(part))

    def no_such_fret(self, part: Pluck, string: int, fret: int, too_high: tuple[str, str]) -> None:
        """Note a fret beyond the neck; `too_high` says why, and what is there."""
        why, hint = too_high
        message = f"{part_words(part)} means fret {fret} on string {string}, but {why}"
        self.add("no-such-fret", message, hint, part.span, written_key(part))

    def no_harmonic(self, part: Pluck, frets: Iterable[int]) -> None:
        """Note a harmonic at a fret where there is none; `frets` are those where there is one."""
        near = nearest(str(part.fret), map(str, frets)) or "12"
        message = f"there is no natural harmonic at fret {part.fret} ({part_words(part)})"
        hint = f"harmonics ring at frets 12, 7, 5, 4, 3, 9, 16, 19 and 24: did you mean {near}?"
        self.add("no-such-fret", message, hint, part.span, written_key(part))

    def not_possible(self, part: Pluck, why: str, hint: str) -> None:
        """Note words behind a pluck that its string cannot do there."""
        self.add(
            "technique-not-possible",
            f"{part_words(part)}: {why}",
            hint,
            part.span,
            written_key(part),
        )

    def harmonic_without_fret(self, part: Pluck) -> None:
        """Note a natural harmonic that does not say where the string is touched."""
        message = f"{part_words(part)} does not say over which fret the string is touched"
        where = part_words(evolve(part, fret=12))
        hint = f"write {where}; a string that is held and touched is an artificial harmonic: a2@3.harmonic-15"
        self.add("technique-not-possible", message, hint, part.span, written_key(part))

    def no_touch(self, part: Pluck, held: int, nodes: Iterable[int]) -> None:
        """Note an artificial harmonic where the string does not ring; `nodes` are the frets above the held one."""
        near = ", ".join(str(held + node) for node in (12, 7, 5) if node in nodes)
        message = (
            f"touched over fret {part.technique.touch}, a string held at fret {held} does not ring"
        )
        hint = (
            f"{part_words(part)}: it rings clearly over frets {near}, such as .harmonic-{held + 12}"
        )
        self.add("technique-not-possible", message, hint, part.span, written_key(part))

    def slapped_twice(self, part: Slap) -> None:
        """Note a second slap at the same time."""
        message = f"there are two slaps on the {part.place} at once"
        self.add(
            "string-plucked-twice", message, "leave one of them out", part.span, written_key(part)
        )

    def twice(
        self, part: Pluck | Brush, string: int, name: str, first: str, added: Count | None
    ) -> None:
        """Note a string that is plucked twice at once, first by the finger `first`."""
        message = f"string {string} of {name} is plucked twice at once"
        hint = f"leave out {part_words(part)}, or name another string for it"
        if added is not None:
            hint = f"to play it instead, leave out the other: `without {first} on {added}`"
        self.add("string-plucked-twice", message, hint, part.span, (*written_key(part), name))

    def hop_from_a_plucked_string(self, hop: Hop, name: str, string: int) -> None:
        """Note a finger that has to hold a string and hop to another one at once."""
        message = (
            f"finger {hop.finger} of {name} cannot hold string {string} "
            f"and hop to string {hop.string} at once"
        )
        hint = "pluck the two strings one after the other, or name another string"
        self.add("hop-impossible", message, hint, None, (name, hop.string, string), name)

    def muted(
        self, part: Pluck | Brush, string: int, name: str, walked: bool, held: str, offer: str
    ) -> None:
        """Note a string that the voicing does not play.

        `walked` says that the thumb went there by the bass order; `held` are the thumb's strings
        that sound, `offer` is the part of the hint that offers a hop.
        """
        if walked:
            message = f"the bass order of {name} leads the thumb to string {string}, which {name} does not play"
            hint = f"write another order, for instance bass {held}{offer}"
        else:
            message = (
                f"{PICKING_FINGER_WORDS[part.finger]} ({part.finger}) plucks string {string}, "
                f"which {name} does not play"
            )
            hint = "pluck another string, or use a voicing that plays it"
            if part.finger == "p":
                hint = f"pluck another string{offer}"
        self.add("muted-string-plucked", message, hint, None, (name, string, walked), name * walked)
