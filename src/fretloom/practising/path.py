"""The practice path of a lesson: the teacher's steps, or those that are found, with tempos, tests and sessions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from attrs import evolve

from fretloom.characters import nothing_hidden
from fretloom.errors import FretloomError
from fretloom.notation.model.step import Show, Step
from fretloom.performance.reading import Reading
from fretloom.performance.showing.step_text import paragraphs
from fretloom.practising.derived import FoundSteps, StepDraft
from fretloom.practising.hard import Hardness, MetChange
from fretloom.practising.novelty import NewThing, new_things
from fretloom.practising.pieces import PracticePiece, Repertory
from fretloom.practising.plan import ChangeDrill, PathPart, PathStep, PracticePath, PracticeWish
from fretloom.practising.sessions import lay_out
from fretloom.practising.tempos import PracticeTempos, Tempi
from fretloom.practising.wishes import checked
from fretloom.shapes import trusted
from fretloom.trade.music.tempo import NOTES
from fretloom.trade.phrases.table import say

#: A section that no step shows is practised before the song if it brings so many new things.
LEFT_OUT = 4


def practice_path(reading: Reading, wish: PracticeWish | None = None) -> PracticePath:
    """Return what a student does with a lesson, in which order, how fast, and for how long.

    Raises:
        FretloomError: a wish is out of its bounds, or nothing is played in the lesson.
    """
    wish = checked(wish or PracticeWish())
    if not reading.timeline.bars:
        raise FretloomError("nothing is played in the lesson, so there is nothing to practise")
    settings = reading.timeline.settings
    level = wish.level or settings.level
    pieces = Repertory(reading, level, wish.ladder)
    hardness = Hardness(pieces)
    known = frozenset(chain.from_iterable(map(asked_by, wish.known)))
    steps = tuple(_steps(pieces, hardness, known))
    drills = tuple(_drill(pieces, hardness, one) for one in hardness.drilled())
    plan = lay_out(steps, drills, wish)
    unit = pieces.tempi.unit
    return PracticePath(
        title=nothing_hidden(settings.title),
        student=wish.student,
        begin=wish.begin,
        minutes=wish.minutes,
        days=wish.days,
        level=level,
        unit=unit,
        unit_words=NOTES.get(unit) or f"notes of {unit / 4}",
        new=tuple(chain.from_iterable(one.new for one in steps)),
        steps=plan.steps,
        drills=drills,
        sessions=plan.sessions,
        later=plan.later,
        cautions=tuple(say(f"practice.{key}") for key in _CAUTIONS),
    )


#: Warming up, breaks, no sudden increase of load, and a clinician where pain stays: what teachers and papers ask for
#: (dos Santos and Minghelli 2024, Work, doi 10.3233/WOR-230701: no warm-up went with more complaints; Chan and
#: Ackermann 2014, Frontiers in Psychology, doi 10.3389/fpsyg.2014.00706: load).
_CAUTIONS = ("care-warm", "care-break", "care-load", "care-rest")


def asked_by(reading: Reading) -> tuple[NewThing, ...]:
    """Return all that a lesson asks for when it is played, in order of appearance."""
    pieces = Repertory(reading, reading.timeline.settings.level, 1)
    whole = pieces.of(Show(kind="form"))
    return whole.asks if whole is not None else ()


def _steps(pieces: Repertory, hardness: Hardness, known: frozenset[NewThing]) -> Iterator[PathStep]:
    """Yield the steps with what is new in each, numbered from 1."""
    met = set(known)
    drafts = tuple(_drafts(pieces, hardness, known))
    for number, (draft, label) in enumerate(zip(drafts, _labels(drafts), strict=True), start=1):
        asked = dict.fromkeys(chain.from_iterable(one.asks for one in draft.pieces))
        new = new_things(asked, met)
        yield PathStep(
            number=number,
            label=label,
            title=draft.title,
            sentences=draft.sentences,
            parts=tuple(_part(pieces, hardness, one) for one in draft.pieces),
            new=new,
            written=draft.written,
        )
        met.update(new)


def _labels(drafts: Sequence[StepDraft]) -> Iterator[str]:
    """Yield what steps are called, so that the teacher's "step 4" is the fourth that the teacher wrote."""
    own = any(draft.written for draft in drafts)
    count, added = 0, 0
    for draft in drafts:
        if draft.written or not own:
            count, added = count + 1, 0
            yield str(count)
        else:
            yield f"{count or ''}{_letters(added)}"
            added += 1


def _letters(place: int) -> str:
    """Return a, b, ... z, aa, ab, ... for the places from 0."""
    before, at = divmod(place, 26)
    return (_letters(before - 1) if before else "") + chr(ord("a") + at)


def _drafts(
    pieces: Repertory, hardness: Hardness, known: frozenset[NewThing]
) -> Iterator[StepDraft]:
    """Yield the teacher's steps with what they leave out before the whole song; without any, those found."""
    steps = pieces.reading.material.steps
    pieces.prepare_shows(one for step in steps for one in step.lines if isinstance(one, Show))
    written = [_written(pieces, step) for step in steps]
    found = FoundSteps(pieces, hardness, known)
    if not written:
        yield from found.steps()
        return
    shows = [piece.show for draft in written for piece in draft.pieces]
    shown = {show.name for show in shows if show.kind == "section"}
    waiting = True
    for draft in written:
        if waiting and any(piece.show.kind == "form" for piece in draft.pieces):
            waiting = False
            yield from found.sections(shown, least=LEFT_OUT)
        found.met.update(chain.from_iterable(piece.asks for piece in draft.pieces))
        yield draft
    if waiting:
        yield from found.sections(shown)
        yield from found.whole()


def _written(pieces: Repertory, step: Step) -> StepDraft:
    shown = (pieces.of(line) for line in step.lines if isinstance(line, Show))
    return StepDraft(
        title=nothing_hidden(step.title),
        sentences=tuple(paragraphs(step, pieces.names)),
        pieces=tuple(one for one in shown if one is not None),
        written=True,
    )


def _part(pieces: Repertory, hardness: Hardness, piece: PracticePiece) -> PathPart:
    show = piece.show
    tempos = None
    if show.kind != "voicing" or show.start is not None:
        start, goal = show.start, show.goal or piece.goal
        if (
            not pieces.reading.lesson.steps
        ):  # Those of the lesson it is based on, which may be faster.
            start, goal = start if start and start <= piece.goal else None, min(goal, piece.goal)
        tempos = pieces.tempi.tempos(piece.pace, max(goal, start or goal), start)
    return PathPart(
        show=_at(show, tempos),
        hands=piece.hands,
        where=piece.where,
        doing=_doing(pieces, piece),
        tempos=tempos,
        ready=say("practice.ready-shape" if show.kind == "voicing" else "practice.ready"),
        rest=not hardness.tires.isdisjoint(piece.asks),
        asks=piece.asks,
    )


def _at(show: Show, tempos: PracticeTempos | None) -> Show:
    """Return what is shown with its tempos in quarter notes a minute."""
    if tempos is None:
        return show
    goal = tempos.goal * tempos.unit if tempos.goal > tempos.start else None
    with trusted():
        return evolve(show, start=tempos.start * tempos.unit, goal=goal)


def _doing(pieces: Repertory, piece: PracticePiece) -> str:
    show = piece.show
    key = {
        "voicing": "do-shape", "change": "do-change", "pattern": "do-pattern", "form": "do-song",
    }.get(show.kind, "do-bars")  # fmt: skip
    if piece.hands != "both":
        key = "do-thumb-song" if show.kind == "form" else f"do-{piece.hands}"
    return say(
        f"practice.{key}",
        where=piece.where,
        shape=pieces.name(show.name),
        before=pieces.name(show.name),
        after=pieces.name(show.over),
    )


def _drill(pieces: Repertory, hardness: Hardness, change: MetChange) -> ChangeDrill:
    with trusted():
        show = Show(kind="change", name=change.before, over=change.after)
    before, after = pieces.name(change.before), pieces.name(change.after)
    pace = pieces.tempi.made.get((change.before, change.after))
    shapes = filter(None, (pieces.voicing(change.before), pieces.voicing(change.after)))
    return ChangeDrill(
        show=show,
        where=say("practice.change", before=before, after=after),
        doing=say("practice.do-drill", before=before, after=after),
        level=change.level,
        breaks=Tempi.whole(pace.breaks, pieces.tempi.unit) if pace else None,
        rest=any(map(hardness.tiring, shapes)),
        asks=_made(pieces, change),
    )


def _made(pieces: Repertory, change: MetChange) -> tuple[NewThing, ...]:
    before, after = pieces.voicing(change.before), pieces.voicing(change.after)
    return pieces.things.change(before, after) if before and after else ()
