"""Words for the page: numbers, times, tempos and tuning as a teacher says them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from fretloom.formats.tab.text import clean
from fretloom.performance.events import PlayedBar, Settings, Timeline
from fretloom.text import listed, ordinal
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.swing import swung_notes
from fretloom.trade.music.tempo import NOTES, Tempo, in_notes, number_words
from fretloom.trade.phrases.table import say


def ordinals(numbers: Sequence[int]) -> str:
    """Return `1st`, `1st and 2nd`, `1st, 2nd and 4th`, or `1st to 5th` for a run."""
    if len(numbers) > 2 and list(numbers) == list(range(numbers[0], numbers[0] + len(numbers))):
        return f"{ordinal(numbers[0])} to {ordinal(numbers[-1])}"
    return listed([ordinal(number) for number in numbers])


class PlayingNames:
    """What to call each section and each of its playings, in a student's words."""

    def __init__(self, timeline: Timeline) -> None:
        given = Counter(section.title for section in timeline.sections)
        self._titles = {
            section.name: clean(section.title)
            if section.title and given[section.title] == 1
            else section.name[:1].upper() + section.name[1:]
            for section in timeline.sections
        }
        self._numbers: dict[tuple[int, int], int] = {}
        self._often = Counter[str]()
        for one in timeline.bars:
            if (one.entry, one.playing) not in self._numbers:
                self._often[one.section] += 1
                self._numbers[one.entry, one.playing] = self._often[one.section]

    def title(self, section: str) -> str:
        """Return the section's title, or its name where titles are missing or the same."""
        return self._titles.get(section, clean(section))

    def playings(self, section: str, entries: Sequence[int]) -> str:
        """Name all playings of some lines of the form: `Verse 2`, `Verse 1 and 3`, `Take 5, 2nd time`.

        A section that is played once is named without a number.
        """
        wanted = set(entries)
        return self.numbered(
            section, [number for (entry, _), number in self._numbers.items() if entry in wanted]
        )

    def playing(self, played: PlayedBar) -> str:
        """Name the playing that a bar belongs to."""
        return self.numbered(played.section, [self._numbers[played.entry, played.playing]])

    def numbered(self, section: str, numbers: Sequence[int]) -> str:
        """Name some playings of a section by their numbers."""
        title = self.title(section)
        if not numbers or self._often[section] < 2:
            return title
        if title[-1:].isdigit():
            return f"{title}, {ordinals(numbers)} time"
        if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
            return f"{title} {numbers[0]} to {numbers[-1]}"
        return f"{title} {listed(numbers)}"


def tempo_words(tempo: Tempo) -> str:
    """Say a tempo: `96 quarter notes a minute`."""
    unit = NOTES.get(tempo.unit) or say("text-tab.other-notes", unit=tempo.unit)
    return say("text-tab.a-minute", number=number_words(tempo.per_minute), notes=unit)


def short_tempo(tempo: Tempo) -> str:
    """Say a tempo over a bar: `tempo 96`, or `tempo 60 in dotted quarter notes`."""
    return say("text-tab.short-tempo", tempo=in_notes(tempo))


def swing_words(swing: tuple[int, int], meter: Meter) -> str:
    """Say a swing: `2:1, the first eighth note of each pair is the longer one`."""
    first, second = swing
    notes = swung_notes(meter)
    ratio = f"{first}:{second}"
    if not notes or first == second:
        return ratio
    of_pair = NOTES.get(max(notes), "notes").removesuffix("s") if len(notes) == 1 else "note"
    longer = "longer" if first > second else "shorter"
    return say(f"text-tab.swung-{longer}", ratio=ratio, note=of_pair)


def key_words(settings: Settings) -> str:
    """Say both keys: `plays in E, capo 3, sounds in G`; one that is both, once."""
    if settings.plays is not None and settings.plays == settings.sounds and not settings.capo.fret:
        return write_key(settings.plays, settings.names)
    words = []
    if settings.plays is not None:
        words.append(say("text-tab.plays", tonic=write_key(settings.plays, settings.names)))
    if settings.capo.fret and words:
        words.append(capo_words(settings.capo))
    if settings.sounds is not None:
        words.append(say("text-tab.sounds-in", tonic=write_key(settings.sounds, settings.names)))
    return ", ".join(words)


def capo_words(capo: Capo) -> str:
    """Say where the capo is: `capo 3`, `capo 2 on strings 5, 4 and 3`, `no capo`."""
    return (
        say("text-tab.capo-place", place=capo_place(capo)) if capo.fret else say("text-tab.no-capo")
    )


def capo_place(capo: Capo) -> str:
    """Say at which fret a capo is: `3`, `2 on strings 5, 4 and 3`."""
    if not capo.strings:
        return str(capo.fret)
    strings = listed([str(string) for string in capo.strings])
    key = "on-strings" if len(capo.strings) > 1 else "on-string"
    return say(f"text-tab.{key}", fret=capo.fret, strings=strings)


def string_names(tuning: Tuning) -> list[str]:
    """Return the names at the left of the tab, string 1 first.

    A name is the open string's letter; that of string 1 is small where a lower string has the same
    letter, as is usual (e B G D A E).
    """
    names = [str(pitch.name) for pitch in reversed(tuning.pitches)]
    if names[0] in names[1:]:
        names[0] = names[0].lower()
    return names
