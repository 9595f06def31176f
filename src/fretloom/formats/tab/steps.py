"""The teacher's steps: what the student reads, and what to look at and play, at which tempo."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import evolve

from fretloom.formats.tab.text import clean, hang, underlined, wrap
from fretloom.formats.tab.words import PlayingNames, tempo_words
from fretloom.notation.model.step import Prose, Show, Step
from fretloom.performance.events import Timeline
from fretloom.performance.hands.fingering import neck_of_settings
from fretloom.performance.printed_names import in_print
from fretloom.trade.music.tempo import Tempo, number_words
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import CAUTION, change_words
from fretloom.values import frozen

_INDENT = 4


@frozen
class StepWriter:
    """Writes steps: knows the voicings and what to call them, what to call sections, and the page's width."""

    timeline: Timeline
    names: Mapping[str, str]
    playings: PlayingNames
    width: int

    def lines(self, steps: tuple[Step, ...]) -> list[str]:
        """Return the steps as lines under a heading, with the usual caution; none if there are none."""
        if not steps:
            return []
        lines = [*underlined(say("text-tab.steps")), *wrap(CAUTION, self.width)]
        for number, step in enumerate(steps, start=1):
            lines += ["", *hang(f"{number:>2}.", clean(step.title), self.width, _INDENT)]
            text = " ".join(clean(one.text) for one in step.lines if isinstance(one, Prose))
            if text:
                lines += hang("", in_print(text, self.names), self.width, _INDENT)
            for line in step.lines:
                if isinstance(line, Show):
                    words = f"{self._shown(line)}{self._tempo(line)}"
                    lines += [
                        " " * _INDENT + one for one in hang("->", words, self.width - _INDENT, 3)
                    ]
        return lines

    def _shown(self, show: Show) -> str:
        """Say what to look at or play: "Pattern plain over E", "Verse, bars 1 to 4"."""
        if show.kind == "form":
            return say("text-tab.whole-song")
        if show.kind == "voicing":
            return say("text-tab.shape", name=self._name(show.name))
        if show.kind == "change":
            return self._change(show)
        if show.kind == "pattern":
            name, over = clean(show.name), self._name(show.over)
            key = "pattern-over" if show.over else "pattern"
            return say(f"text-tab.{key}", name=name, over=over)
        title = self.playings.title(show.name)
        if show.first is None:
            return title
        bars = (
            say("text-tab.bar", bar=show.first)
            if show.first == show.last
            else say("text-tab.bars", first=show.first, last=show.last)
        )
        return f"{title}, {bars}"

    def _name(self, name: str) -> str:
        return self.names.get(name, clean(name))

    def _change(self, show: Show) -> str:
        """Say between which shapes a hand changes, and what its fingers do."""
        from fretloom.trade.playability.moving.changes import change
        from fretloom.trade.playability.shape import Fretted

        words = say("text-tab.change", before=self._name(show.name), after=self._name(show.over))
        before, after = (self.timeline.voicings.get(one) for one in (show.name, show.over))
        if before is None or after is None or not (before.fingers and after.fingers):
            return words
        neck = neck_of_settings(self.timeline.settings)
        made = change(
            neck, Fretted(before.frets, before.fingers), Fretted(after.frets, after.fingers)
        )
        said = change_words(made)
        return f"{words}: {said}" if said else words

    def _tempo(self, show: Show) -> str:
        """Say how fast: ", 60 quarter notes a minute", ", from 60 up to 96 quarter notes a minute"."""
        if show.start is None:
            return ""
        unit = self.timeline.settings.tempo.unit
        tempo = Tempo(show.start / unit, unit)
        if show.goal is None or show.goal == show.start:
            return f", {tempo_words(tempo)}"
        goal = evolve(tempo, per_minute=show.goal / unit)
        return ", " + say(
            "text-tab.ladder", start=number_words(tempo.per_minute), goal=tempo_words(goal)
        )
