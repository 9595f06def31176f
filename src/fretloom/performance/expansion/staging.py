"""The order of what is played, before any bar is worked out: sections are planned and the form is followed.

Nothing here depends on the fretting fingers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable

from fretloom.limits import LIMITS
from fretloom.notation.model.form import But, ChangeBars, ChangePattern, FormEntry
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.section import BarLine, Section
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.writing.statements import but as written_but
from fretloom.performance.events import Difference, FormLine, Settings
from fretloom.performance.expansion.doubts import note_doubts
from fretloom.performance.expansion.faults import Faults, renamed
from fretloom.performance.expansion.form.changes import Playing, plan_playing
from fretloom.performance.expansion.form.plain_words import in_place_words, in_plain_words
from fretloom.performance.expansion.form.plan import Plan, bars_written
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.form.structure import plan_section
from fretloom.performance.expansion.voicings.voicing_faults import voicing_known
from fretloom.performance.material.gather import Material, may_be_one_of
from fretloom.performance.settings import read_settings
from fretloom.source import Span
from fretloom.text import counted
from fretloom.values import frozen


@frozen(eq=False)
class StagedBar:
    """A bar in performing order, before it is timed.

    `entry` is the 0-based place of the form's entry, `pass_` the 0-based pass of that entry, `time`
    which time in the whole performance the bar comes, from 1.
    """

    slot: Slot
    playing: Playing
    entry: int
    pass_: int
    first: bool
    time: int


@frozen(eq=False)
class Staged:
    """A lesson staged: the order of its bars, with the faults found on the way.

    `plans` are the sections by name, None for those that could not be planned; `strays` the names in
    lines that were read as bars and belong to another block.
    """

    material: Material
    settings: Settings
    faults: Faults
    plans: dict[str, Plan | None]
    form: tuple[FormLine, ...]
    occurrences: tuple[StagedBar, ...]
    strays: frozenset[str]


def stage(lesson: Lesson, material: Material) -> Staged:
    """Plan the sections of a lesson and follow its form."""
    faults = Faults(lesson.source)
    note_doubts(material, faults)
    settings = read_settings(material)
    strays: set[str] = set()
    plans: dict[str, Plan | None] = {}
    too_many = _too_many_written(material, faults)
    for name, section in material.sections.items():
        found = _strays(section, material, faults)
        strays |= found
        plans[name] = (
            None if too_many else plan_section(section, settings.meter, faults, whole=not found)
        )
    entries = _entries(material)
    counted_entries = _with_room(entries, faults)
    playings = _playings(counted_entries, plans, settings, material, faults)
    playings += [None] * (len(entries) - len(playings))
    return Staged(
        material=material,
        settings=settings,
        faults=faults,
        plans=plans,
        form=_form_lines(entries, plans),
        occurrences=_occurrences(entries, playings, faults),
        strays=frozenset(strays),
    )


def _too_many_written(material: Material, faults: Faults) -> bool:
    """Whether all sections together are longer than any performance; a section too long alone does not count."""
    written = 0
    for section in material.sections.values():
        bars = bars_written(section)
        written += bars if bars <= LIMITS.bars_written else 0
        if written > LIMITS.bars_played:
            message = f"up to section {section.name} over {LIMITS.bars_played} bars are written, and that is the limit"
            hint = "play sections more often in the form, in place of writing them again"
            faults.add("too-many-bars", section.name_span or section.span, message, hint)
            return True
    return False


def _entries(material: Material) -> list[FormEntry]:
    """Return the entries of the form; without one, the sections as written."""
    if material.form is None:
        return [FormEntry(section=name) for name in material.sections]
    return [entry for entry in material.form.entries if isinstance(entry, FormEntry)]


def _with_room(entries: list[FormEntry], faults: Faults) -> list[FormEntry]:
    """Return the entries before their `but` lines put in more bars than can be played, with a fault there."""
    put_in = 0
    for place, entry in enumerate(entries):
        for but in entry.buts:
            if not isinstance(but, ChangeBars):
                continue
            times = sum(bar.times for bar in but.bars)
            put_in += times if times <= LIMITS.bars_written else 0
            if put_in > LIMITS.bars_played:
                message = f"the form has put in more than {LIMITS.bars_played} bars up to here"
                hint = "write the section that these bars make, and play that"
                faults.add("too-many-bars", but.span or entry.span, message, hint)
                return entries[:place]
    return entries


def _playings(
    entries: list[FormEntry],
    plans: dict[str, Plan | None],
    settings: Settings,
    material: Material,
    faults: Faults,
) -> list[Playing | None]:
    """Return how each entry plays its section; entries without a fault that say the same are one."""
    known: dict[Hashable, Playing] = {}
    playings: list[Playing | None] = []
    for entry in entries:
        if entry.section not in plans:
            span = entry.section_span or entry.span
            note_unknown_section(entry.section, span, "the form", material, faults)
        plan = plans.get(entry.section)
        same = (entry.section, entry.buts)
        if plan is None:
            playings.append(None)
            continue
        playing = known.get(same)
        if playing is None:
            before = faults.total
            playing = plan_playing(plan, entry, settings.tempo, faults)
            if faults.total == before:
                known[same] = playing
        playings.append(playing)
    return playings


def _occurrences(
    entries: list[FormEntry], playings: list[Playing | None], faults: Faults
) -> tuple[StagedBar, ...]:
    """Return all bars in performing order; if they are too many, none, and a fault is noted."""
    played = [
        (number, entry, playing)
        for number, (entry, playing) in enumerate(zip(entries, playings, strict=True))
        if playing is not None
    ]
    sizes = [playing.count() * entry.times for _, entry, playing in played]
    if sum(sizes) > LIMITS.bars_played:
        _, entry, playing = played[sizes.index(max(sizes))]
        section = playing.plan.section
        message = (
            f"the form would play {counted(sum(sizes), 'bar')}; the limit is {LIMITS.bars_played}"
        )
        hint = f"play {section.name} less often: most of the bars come from it"
        faults.add("too-many-bars", entry.span or section.name_span, message, hint)
        return ()
    times = _Comings()
    occurrences: list[StagedBar] = []
    for number, entry, playing in played:
        slots = playing.slots()
        for pass_ in range(entry.times if slots else 0):
            occurrences += [
                StagedBar(slot, playing, number, pass_, place == 0, times.of(playing, slot, time))
                for place, (slot, time) in enumerate(slots)
            ]
            times.played(playing)
    return tuple(occurrences)


class _Comings:
    """Which time a bar comes: sections are counted as they are played, with and without repeats."""

    def __init__(self) -> None:
        self._full: Counter[str] = Counter()
        self._once: Counter[str] = Counter()

    def of(self, playing: Playing, slot: Slot, time: int) -> int:
        """Return which time a bar comes, which is the `time`-th one in its playing."""
        if playing.verse is not None:
            return playing.verse + time - 1
        name = playing.plan.section.name
        return self._full[name] * playing.plan.comes.get(slot.index, 1) + self._once[name] + time

    def played(self, playing: Playing) -> None:
        """Count a playing; one whose words are those of another time counts as well."""
        counter = self._once if playing.once else self._full
        counter[playing.plan.section.name] += 1


def _form_lines(entries: list[FormEntry], plans: dict[str, Plan | None]) -> tuple[FormLine, ...]:
    return tuple(
        FormLine(
            section=entry.section,
            title=plan.section.title,
            times=entry.times,
            differences=tuple(_difference(but, plan) for but in entry.buts),
        )
        for entry in entries
        if (plan := plans.get(entry.section)) is not None
    )


def _difference(but: But, plan: Plan) -> Difference:
    words, short = (
        written_but(but, picking).removeprefix("but").strip()
        for picking in ("", "with its own picking")
    )
    of_bars = isinstance(but, ChangeBars | ChangePattern)
    put_in = in_place_words(but, plan) if isinstance(but, ChangeBars) else ""
    return Difference(words, short, in_plain_words(but) or short, of_bars, put_in)


def note_unknown_section(
    name: str, span: Span | None, where: str, material: Material, faults: Faults
) -> None:
    """Note a section that is not there, unless it only could not be read."""
    broken = material.broken_sections
    unread = name in material.unread_words or "" in broken
    if material.incomplete or unread or may_be_one_of(name, broken):
        return
    near = faults.nearest(name, material.sections)
    hint = f"did you mean {near}?" if near else f"write its bars: section {name}"
    if not near and material.sections:
        hint = "the sections are " + ", ".join(material.sections)
    message = f"{where}: there is no section {name}"
    edits = renamed(span, name, faults.only_near(name, material.sections))
    faults.add("unknown-section", span, message, hint, key=name, edits=edits)


def _strays(section: Section, material: Material, faults: Faults) -> set[str]:
    """Note lines of other blocks among a section's bars, which were read as voicings.

    Returns the names in them that do not stand for voicings.
    """
    strays: set[str] = set()
    for line in section.lines:
        if not isinstance(line, BarLine):
            continue
        names = [part.voicing for bar in line.bars for part in bar.parts]
        if names and _is_stray(names[0], line.span, material, faults):
            strays.update(name for name in names if not voicing_known(name, material))
    return strays


def _is_stray(first: str, span: Span | None, material: Material, faults: Faults) -> bool:
    if first not in material.sections and first not in FIELDS and first != "show":
        return False
    if voicing_known(first, material):
        return False
    if first in material.sections:
        message = f"{first} is a section, but it stands here among the bars of another section"
        hint = "write the order of sections under a line `form` that starts in column one"
        faults.add("unknown-voicing", span, message, hint, key="form")
        return True
    block = "a step" if first == "show" else "the heading"
    message = f"`{first}` belongs to {block}, but it stands here among the bars of a section"
    key = (first, span and span.start)
    faults.add("unknown-voicing", span, message, f"move the line to {block}", key=key)
    return True
