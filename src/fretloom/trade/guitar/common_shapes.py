"""The usual shapes of a chord on a tuning: open ones by name, movable ones by kind of chord.

They are taken from tables of common practice for six strings in fourths and a third and for a
ukulele's four, whatever pitch the whole is tuned to. On other tunings of six strings, those of the
guitar are tried; what they sound is for the caller to hear.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise

from fretloom.trade.guitar import movable_shapes, open_shapes, ukulele_shapes
from fretloom.trade.music.pitch import STEP_SEMITONES
from fretloom.values import frozen

Frets = tuple[int | None, ...]
_Chord = tuple[int, str, int | None]

#: Points by which a shape is less usual: each place in its list, for the groups of movable forms, for
#: each fret of its place on the neck, and for each of those past the ones that songs are taught in.
_LISTED, _GROUPS, _UP, _FAR_UP, _NEAR = 0.3, (0.5, 1.2, 2.2), 0.2, 0.4, 4
#: The symmetric chords have their root on any string.
_OTHER_ROOT = 1.0
_HIGHEST = 14


@frozen
class UsualShape:
    """A shape of a chord that teachers show; fewer points are more usual. `open`: from the open chords."""

    frets: Frets
    points: float
    open: bool = False


@frozen
class _Book:
    """The shapes for one way of tuning.

    Args:
        opens: what the strings sound, as MIDI numbers, where the names of the tables are right.
        named: open shapes by root, suffix and bass. beside: more of them, less usual than movable
            ones. forms: movable ones, by kind.
    """

    opens: tuple[int, ...]
    named: Mapping[_Chord, tuple[Frets, ...]]
    beside: Mapping[_Chord, tuple[Frets, ...]]
    forms: Mapping[str, tuple[tuple[tuple[int, Frets], ...], ...]]


@lru_cache(maxsize=4096)
def usual_shapes(
    opens: tuple[int, ...], root: int, suffix: str, bass: int | None = None
) -> tuple[UsualShape, ...]:
    """Return the usual shapes of a chord, the most usual first; empty for tunings without any.

    Args:
        opens: MIDI numbers of the open strings, the highest number first, as the names think of them.
        root, bass: pitch classes, 0 is C. suffix: the canonical one.
    """
    book, unused = _book_for(opens)
    if book is None:
        return ()
    raised = (opens[-1] - book.opens[-1]) % 12
    kept: dict[Frets, UsualShape] = {}
    at_bass = None if bass is None or bass == root else (bass - raised) % 12
    for shape in _shapes(book, (root - raised) % 12, suffix, at_bass):
        frets = (None,) * unused + shape.frets
        if frets not in kept or kept[frets].points > shape.points:
            kept[frets] = UsualShape(frets, shape.points, shape.open)
    return tuple(sorted(kept.values(), key=lambda one: one.points))


def are_usual(opens: tuple[int, ...]) -> bool:
    """Whether a tuning has usual shapes: that of a guitar or a ukulele, whatever its pitch."""
    book, unused = _book_for(opens)
    return book is not None and _steps(book.opens) == _steps(opens[unused:])


def _shapes(book: _Book, root: int, suffix: str, bass: int | None) -> Iterator[UsualShape]:
    for table, least in ((book.named, 0.0), (book.beside, _GROUPS[1])):
        for place, frets in enumerate(table.get((root, suffix, bass), ())):
            yield UsualShape(frets, least + _LISTED * place, True)
    kind = suffix if bass is None else f"{suffix}/{(bass - root) % 12}"
    apart = movable_shapes.SYMMETRIC.get(kind, 12)
    for points, group in zip(_GROUPS, book.forms.get(kind, ()), strict=False):
        for at, frets in group:
            for other in range(0, 12, apart):
                for moved in _moved(frets, (root + other - at) % 12):
                    less = points + _OTHER_ROOT * bool(other) + _height(moved)
                    yield UsualShape(moved, less)


def _height(frets: Frets) -> float:
    place = min((fret for fret in frets if fret), default=0)
    return _UP * place + _FAR_UP * max(0, place - _NEAR)


def _moved(frets: Frets, steps: int) -> Iterator[Frets]:
    """Yield a form at the places of the neck where it sounds `steps` half steps higher, or an octave off."""
    held = [fret for fret in frets if fret is not None]
    for by in (steps - 12, steps):
        if min(held) + by >= 0 and max(held) + by <= _HIGHEST:
            yield tuple(None if fret is None else fret + by for fret in frets)


def _book_for(opens: tuple[int, ...]) -> tuple[_Book | None, int]:
    """Return the shapes for a tuning, and how many low strings it has besides."""
    guitar, ukulele = _books()
    if len(opens) == 4:
        return (ukulele if _steps(opens)[1:] == _steps(ukulele.opens)[1:] else None), 0
    more = len(opens) - len(guitar.opens)
    if more == 0 or (more > 0 and _steps(opens[more:]) == _steps(guitar.opens)):
        return guitar, more
    return None, 0


def _steps(opens: tuple[int, ...]) -> tuple[int, ...]:
    """Return the steps from string to string, an octave more or less being the same."""
    return tuple((high - low) % 12 for low, high in pairwise(opens))


@lru_cache(maxsize=1)
def _books() -> tuple[_Book, _Book]:
    named = {**open_shapes.PLAIN, **open_shapes.OVER_A_BASS}
    beside, forms = _named(open_shapes.BESIDE), _forms(movable_shapes.FORMS)
    guitar = _Book((40, 45, 50, 55, 59, 64), _named(named), beside, forms)
    named, forms = ukulele_shapes.PLAIN, _forms(ukulele_shapes.FORMS)
    small = _Book((67, 60, 64, 69), _named(named), {}, forms)
    return guitar, small


def _named(table: Mapping[str, str]) -> dict[_Chord, tuple[Frets, ...]]:
    return {_parts(name): tuple(map(_read, text.split())) for name, text in table.items()}


def _parts(name: str) -> _Chord:
    """Return root, suffix and bass of a name in the tables; `6/9` has no bass."""
    long = 2 if name[1:2] in ("b", "#") else 1
    suffix, slash, bass = name[long:].rpartition("/")
    if not slash or not bass[:1].isalpha():
        return _class(name[:long]), name[long:], None
    return _class(name[:long]), suffix, _class(bass)


def _class(note: str) -> int:
    return (STEP_SEMITONES[note[0]] + note.count("#") - note[1:].count("b")) % 12


def _forms(
    table: Mapping[str, tuple[str, ...]],
) -> dict[str, tuple[tuple[tuple[int, Frets], ...], ...]]:
    return {
        kind: tuple(
            tuple((_class(form.split()[0]), _read(form.split()[1])) for form in group.split(", "))
            if group
            else ()
            for group in groups
        )
        for kind, groups in table.items()
    }


def _read(text: str) -> Frets:
    return tuple(None if one == "x" else int(one) for one in text)


def every_shape() -> list[tuple[tuple[int, ...], int, str, int | None, Frets]]:
    """Return every shape of the tables on every root: strings, root, suffix, bass, frets."""
    found = []
    for book in _books():
        chords = dict.fromkeys([*book.named, *book.beside])
        for kind in book.forms:
            suffix, slash, above = (
                kind.rpartition("/") if kind not in ("6/9", "m6/9") else (kind, "", "")
            )
            for root in range(12):
                plain = (root, kind, None)
                chords[(root, suffix, (root + int(above)) % 12) if slash else plain] = None
        for root, suffix, bass in chords:
            shapes = usual_shapes(book.opens, root, suffix, bass)
            found += [(book.opens, root, suffix, bass, shape.frets) for shape in shapes]
    return found
