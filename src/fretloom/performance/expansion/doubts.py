"""What cannot be judged because the line that decides it is missing or could not be read.

A fault that only follows from another is not reported: without the heading's meter nothing can be said
about beats, without its tuning nothing about strings.
"""

from __future__ import annotations

from fretloom.notation.model.pattern import Pattern
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.material.gather import Material
from fretloom.text import counted
from fretloom.trade.music.meter import Meter

#: Rules that judge by a field of the heading.
_JUDGED_BY = {
    "meter": ("pattern-beats", "split-beats", "count-outside-bar", "nothing-to-leave-out"),
    "tuning": (
        "wrong-places",
        "no-such-string",
        "no-such-fret",
        "muted-string-plucked",
        "string-plucked-twice",
    ),
    "capo": ("no-such-fret",),
    "instrument": ("no-such-fret",),
}
_COMMON_BEATS = 4


def note_doubts(material: Material, faults: Faults) -> None:
    """Silence the rules that depend on a field of the heading that was written but not understood."""
    tried = material.unread_settings | material.unread_words
    for field, rules in _JUDGED_BY.items():
        if field not in material.settings and field in tried:
            faults.silence(rules)
    if "meter" not in material.settings:
        _meter_forgotten(material, faults)
    else:
        _meter_mistaken(material, faults)


def _meter_forgotten(material: Material, faults: Faults) -> None:
    """Note that a heading does not name a meter, and that all patterns agree on one that is not 4/4."""
    patterns = [material.patterns[name] for name in material.own_patterns]
    beats = {len(bar.beats) for one in patterns if one.meter is None for bar in one.bars}
    if len(beats) != 1 or beats == {_COMMON_BEATS}:
        return
    concerned = [one for one in patterns if one.meter is None]
    number = beats.pop()
    if number not in (2, 3, 5, 6) or len(concerned) < 2 or any(one.meter for one in patterns):
        return
    _tell(concerned, number, faults)


def _meter_mistaken(material: Material, faults: Faults) -> None:
    """Note a meter in the heading that all patterns of the lesson contradict alike."""
    line = material.settings["meter"]
    meter = line.value
    patterns = [material.patterns[name] for name in material.own_patterns]
    beats = {len(bar.beats) for one in patterns for bar in one.bars}
    if not isinstance(meter, Meter) or len(patterns) < 2 or any(one.meter for one in patterns):
        return
    if len(beats) != 1 or beats == {len(meter.beats)}:
        return
    number = beats.pop()
    other = (
        f"{meter} in {number}" if number == meter.units and meter.pulses is None else f"{number}/4"
    )
    if number not in (2, 3, 4, 5, 6):
        return
    message = (
        f"the meter is {meter}, with {counted(len(meter.beats), 'beat')} in a bar, "
        f"but all patterns have {number}"
    )
    hint = f"write meter {other}, or write {counted(len(meter.beats), 'beat')} in each pattern"
    faults.add("pattern-beats", line.value_span or line.span, message, hint)
    faults.silence(_JUDGED_BY["meter"])


def _tell(patterns: list[Pattern], beats: int, faults: Faults) -> None:
    message = f"no meter is given, so 4/4 is assumed, but all patterns have {counted(beats, 'beat')} in a bar"
    meter = {2: "meter 2/4 or meter 6/8", 6: "meter 6/8 in 6"}.get(beats, f"meter {beats}/4")
    span = patterns[0].name_span or patterns[0].span
    faults.add("pattern-beats", span, message, f"write the meter in the heading: {meter}")
    faults.silence(_JUDGED_BY["meter"])
