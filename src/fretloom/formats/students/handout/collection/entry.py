"""What the page of a collection says of a lesson, and in which order lessons bring the fewest new things."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import evolve

from fretloom.formats.students.telling.head import head_of
from fretloom.performance.reading import Reading
from fretloom.practising.novelty import NewThing
from fretloom.practising.path import asked_by
from fretloom.trade.guitar.instruments import family, instrument_for
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.playability.moving.skills import SKILLS
from fretloom.trade.wording import with_signs
from fretloom.values import frozen

#: From the easiest.
LEVELS = tuple(SKILLS)


@frozen(kw_only=True)
class IndexEntry:
    """A lesson of a collection.

    Args:
        files: what there is of it, as words and the way there from the page, the handout first.
        key: the one it sounds in, "" if that is not known. tuning: with its name, if it has one.
        asks: all it asks of a player. order: its place in the order to learn them, from 1.
        new: how many things it asks for that no lesson for its instrument before it in that order has.
        instrument: "guitar", "ukulele" or "mandolin".
    """

    title: str
    by: str
    files: tuple[tuple[str, str], ...]
    level: str
    key: str
    tuning: str
    capo: str
    tempo: str
    bars: int
    asks: tuple[NewThing, ...]
    order: int = 0
    new: int = 0
    instrument: str = "guitar"

    @property
    def level_rank(self) -> int:
        """Its level as a number, the easiest 0; one that is not known comes last."""
        return LEVELS.index(self.level) if self.level in LEVELS else len(LEVELS)

    @property
    def techniques(self) -> tuple[str, ...]:
        """The techniques it asks for, in words."""
        return tuple(one.words for one in self.asks if one.kind == "technique")


def entry_of(reading: Reading, files: Sequence[tuple[str, str]]) -> IndexEntry:
    """Return what the page of a collection says of a lesson."""
    settings = reading.timeline.settings
    head = head_of(settings)
    facts = {fact.label: fact.value for fact in head.facts}
    key = settings.sounds or settings.plays
    capo, tuning, tempo = (facts[label] for label in ("Capo", "Tuning", "Tempo"))
    return IndexEntry(
        title=head.title,
        by=head.by,
        files=tuple(files),
        level=settings.level,
        key=with_signs(write_key(key, settings.names)) if key is not None else "",
        tuning=tuning.partition(",")[0] if "," in tuning else tuning,
        capo=capo,
        tempo=tempo,
        bars=len(reading.timeline.bars),
        asks=asked_by(reading),
        instrument=family(instrument_for(settings.instrument, settings.tuning)),
    )


def in_learning_order(entries: Sequence[IndexEntry]) -> tuple[IndexEntry, ...]:
    """Return entries in the order in which each brings the fewest new things; of equals the easier level, the title.

    Those for one instrument stand together, the instrument with the most lessons first: nobody learns a shape of
    the ukulele between two of the guitar.
    """
    groups: dict[str, list[IndexEntry]] = {}
    for one in entries:
        groups.setdefault(one.instrument, []).append(one)
    ordered: list[IndexEntry] = []
    for name in sorted(groups, key=lambda one: (-len(groups[one]), one)):
        for entry in _fewest_new_first(groups[name]):
            ordered.append(evolve(entry, order=len(ordered) + 1))
    return tuple(ordered)


def _fewest_new_first(entries: Sequence[IndexEntry]) -> Iterator[IndexEntry]:
    left = {at: set(one.asks) for at, one in enumerate(entries)}
    while left:
        at = min(left, key=lambda one: (len(left[one]), *_easiest(entries[one]), one))
        new = left.pop(at)
        yield evolve(entries[at], new=len(new))
        for things in left.values():
            things.difference_update(new)


def _easiest(entry: IndexEntry) -> tuple[int, int, str]:
    return entry.level_rank, entry.bars, entry.title.casefold()
