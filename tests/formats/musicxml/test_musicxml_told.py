"""Nothing that a lesson can say is dropped without a word: it changes the file, or it is told.

One lesson has every construct of the notation. Each row changes one field of the model in it; the
file or what is told to be left out has to change with it. A test compares the rows with the model.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterable
from functools import cache
from types import ModuleType

import attrs
import pytest
from reading_through import reading_of

import fretloom
import fretloom.notation.model as model
from fretloom.formats.musicxml.options import LayoutName, ScoreOptions
from fretloom.formats.musicxml.score import score_of_lesson
from fretloom.formats.shape import in_words

LESSON = """\
# Reasons stand behind the signs.
lesson "Weir Steps"
  by "Tuesday Group"
  rights "CC0"
  tuning drop D
  capo 2
  plays in D
  sounds in E
  meter 4/4
  tempo 96
  swing 2:1
  instrument classical
  scale 650 mm
  hand small
  level beginner
  names english

picking
  i plays 3  # the middle

voicings
  D     xx0232  fingers ...132  bass 4 5
  A     x02220  fingers ..123.  bass 5 6  hop 3 to 6@2
  A.new like A  add 1@3:4
  G     320003  fingers 21...3  bass 6 4
  G.on  like G  lift 1
  G.far like G  move 1 to 4@2
  G.off like G  mute 6
  E     022100  fingers .231..  bass 6 4
  E.up  like Bm  up 2
  Bm    x24432  fingers .13421  bass 5 4

patterns
  plain "Plain steps"  p , p m , p i , p m
  lilt in 3/4: p , i , m
  all  p6-4! , [p i] m2@3:4.damped , (p i m) , ix body-slap

section verse  10 bars  using plain  "By the weir"
  pickup 1 beat: D
  dynamic mp
  crescendo to f over 2 bars
  "Look down" D | A:3 A.new:1
  words: "Lad-" on 1 | "der" on 1
  words 2: "Gate" on 1 | -
  tempo 80
  G early on 4& | G.on with a@3 on 3 without p on 4 | G.far x2
  ritardando to 60 over 1 bar
  G.off release on 3 | E { p , m , - , - } stop on 4
  a tempo
  E.up fermata on 4
  free time
  Bm using all

section bridge in 3/4 using lilt
  repeat 2
  D
  ending 1: A
  ending 2: G
  end
  meter 4/4
  using plain
  E { p+a1@2h3p2.for-2 , i2@3.bend-half-release , m1@2h3.grace.vibrato , a1@5.trill-7:4 }
  Bm { a1@12* , m2@3.ghost , (slow p i m) , p1-3.ring slap! }
  E { m1@3.harmonic-15 , a2@5.prebend-half , i3@0s2:1 p.to-4 , - }
  last to 3&: D

form
  verse
    but bar 9: E
    but bars 1-2 using all
    but bars 5-6 tempo 70
    but bars 7-8 dynamic p
    but accelerando to 120 over last 2 bars
    but diminuendo to pp over bars 3-4
    but words 1
  bridge x2
    but without bars 3-3
  verse
    but only bars 1-9
  bridge
    but without repeats

step "Slowly"
  Count four to the bar.
  show section verse from 60 to 76
# The end.
"""

#: A field of the model, what says it in the lesson, and what says something else.
ROWS = [
    ("Heading.title", '"Weir Steps"', '"Weir Gate"'),
    ("Heading.settings", "  rights", "  #rights"),
    ("Setting.value", '"Tuesday Group"', '"Friday Group"'),
    ("Setting.value", '"CC0"', '"CC BY"'),
    ("Setting.value", "tuning drop D", "tuning standard"),
    ("Setting.value", "capo 2", "capo 2 on 5 4 3"),
    ("Setting.value", "plays in D", "plays in A"),
    ("Setting.value", "sounds in E", "sounds in Fb"),
    ("Setting.value", "meter 4/4\n  tempo", "meter 4/4 in 2\n  tempo"),
    ("Setting.value", "tempo 96", "tempo 92"),
    ("Setting.value", "swing 2:1", "swing 3:2"),
    ("Setting.name", "instrument classical", "instrument electric"),
    ("Setting.name", "  scale 650 mm\n", ""),
    ("Setting.name", "  hand small\n", ""),
    ("Setting.name", "  level beginner\n", ""),
    ("Setting.value", "names english", "names romance"),
    ("Margin.above", "# Reasons stand behind the signs.\n", ""),
    ("Margin.beside", "  # the middle", ""),
    ("Lesson.tail", "# The end.\n", ""),
    ("Home.strings", "i plays 3", "i plays 2"),
    ("Home.finger", "i plays 3", "a plays 3"),
    ("VoicingEntry.frets", "xx0232", "xx0230"),
    ("VoicingEntry.fingers", "...132", "...143"),
    ("VoicingEntry.bass", "bass 4 5", "bass 4 4"),
    ("VoicingEntry.like", "A.new like A", "A.new like E"),
    ("VoicingEntry.changes", "add 1@3:4", "add 1@4:4"),
    ("VoicingEntry.hops", "hop 3 to 6@2", "hop 3 to 6@3"),
    ("VoicingEntry.name", "  E.up  like", "  E.not  like"),
    ("Add.string", "add 1@3:4", "add 2@3:4"),
    ("Add.fret", "add 1@3:4", "add 1@5:4"),
    ("Add.finger", "add 1@3:4", "add 1@3"),
    ("Lift.finger", "lift 1", "lift 2"),
    ("Move.finger", "move 1 to", "move 3 to"),
    ("Move.string", "to 4@2", "to 3@2"),
    ("Move.fret", "to 4@2", "to 4@1"),
    ("Mute.string", "mute 6", "mute 4"),
    ("Shift.frets", "up 2", "up 3"),
    ("Pattern.title", '"Plain steps"', '"Even steps"'),
    ("Pattern.bars", "p , p m , p i , p m", "p , p m , p i , p a"),
    ("Pattern.meter", "lilt in 3/4: p , i , m", "lilt in 2/4: p , i"),
    ("PatternBar.beats", "3/4: p , i , m", "3/4: p , m , i"),
    ("Beat.items", "3/4: p , i , m", "3/4: p , i m , m"),
    ("Group.items", "[p i]", "[p i m]"),
    ("Stroke.parts", "3/4: p , i , m", "3/4: p , i+a , m"),
    ("Hold", "3/4: p , i , m", "3/4: p , - , m"),
    ("Roll.parts", "(p i m) , ix", "(p m i) , ix"),
    ("Roll.slow", "(slow p i m)", "(p i m)"),
    ("Brush.finger", "p6-4!", "i6-4!"),
    ("Brush.first", "p1-3.ring", "p2-3.ring"),
    ("Brush.last", "p6-4!", "p6-3!"),
    ("Brush.accent", "p6-4!", "p6-4"),
    ("Brush.dead", "p6-4!", "p6-4x!"),
    ("Brush.technique", "p1-3.ring", "p1-3.damped"),
    ("Slap.place", "body-slap", "slap"),
    ("Slap.accent", "slap!", "slap"),
    ("Pluck.finger", "p+a1@2h3", "p+m1@2h3"),
    ("Pluck.string", "i2@3.bend", "i3@3.bend"),
    ("Pluck.fret", "i2@3.bend", "i2@5.bend"),
    ("Pluck.slurs", "a1@2h3p2.for-2", "a1@2h3.for-2"),
    ("Pluck.accent", "a1@12*", "a1@12*!"),
    ("Pluck.harmonic", "a1@12*", "a1@12"),
    ("Pluck.dead", "ix body-slap", "i body-slap"),
    ("Pluck.fretting", "m2@3:4.damped", "m2@3:2.damped"),
    ("Pluck.technique", "m2@3:4.damped", "m2@3:4"),
    ("Slur.kind", "i3@0s2:1", "i3@0h2:1"),
    ("Slur.fret", "i3@0s2:1", "i3@0s4:1"),
    ("Slur.fretting", "i3@0s2:1", "i3@0s2:3"),
    ("Technique.held_to", "p.to-4", "p.to-4&"),
    ("Technique.held_for", ".for-2", ".for-1"),
    ("Technique.lasting", "p1-3.ring", "p1-3"),
    ("Technique.bend", "bend-half-release", "bend-full-release"),
    ("Bend.semitones", "prebend-half", "prebend-full"),
    ("Bend.release", "bend-half-release", "bend-half"),
    ("Bend.before", "a2@5.prebend-half", "a2@5.bend-half"),
    ("Technique.vibrato", ".grace.vibrato", ".grace"),
    ("Technique.trill", ".trill-7:4", ""),
    ("Trill.fret", ".trill-7:4", ".trill-6:4"),
    ("Trill.fretting", ".trill-7:4", ".trill-7:3"),
    ("Technique.ghost", "m2@3.ghost", "m2@3"),
    ("Technique.grace", ".grace.vibrato", ".grace-before.vibrato"),
    ("Technique.touch", ".harmonic-15", ".harmonic-10"),
    ("Section.title", '"By the weir"', '"By the gate"'),
    ("Section.using", "10 bars  using plain", "10 bars  using all"),
    ("Section.meter", "bridge in 3/4 using lilt", "bridge in 6/8 using lilt"),
    ("Section.lines", "  a tempo\n", ""),
    ("ShortBar.bar", "1 beat: D", "1 beat: G"),
    ("ShortBar.beats", "pickup 1 beat", "pickup 2 beats"),
    ("ShortBar.start", "pickup 1 beat", "pickup from 3&"),
    ("ShortBar.through", "last to 3&", "last to 2&"),
    ("ShortBar.before", "last to 3&", "last before 3&"),
    ("ShortBar.kind", "last to 3&: D", "D"),
    ("DynamicChange.dynamic", "dynamic mp", "dynamic p"),
    ("DynamicRamp.dynamic", "crescendo to f over", "crescendo to ff over"),
    ("DynamicRamp.bars", "f over 2 bars", "f over 1 bar"),
    ("DynamicRamp.kind", "crescendo to f over", "diminuendo to pp over"),
    ("BarLine.bars", "| E { p , m", "| A { p , m"),
    ("Bar.cue", '"Look down"', '"Look up"'),
    ("Bar.kind", '"Look down" D', '"Look down" rest'),
    ("Bar.times", "G.far x2", "G.far x3"),
    ("Bar.parts", "A:3 A.new:1", "A:3 E:1"),
    ("Part.beats", "A:3 A.new:1", "A:2 A.new:2"),
    ("Part.voicing", "A:3 A.new:1", "Bm:3 A.new:1"),
    ("Bar.using", "Bm using all", "Bm"),
    ("Bar.beats", "using plain\n  E {", "using plain\n  E | E {"),
    ("Bar.early", "G early on 4&", "G"),
    ("Bar.release", "release on 3", "release on 4"),
    ("Bar.stop", "- } stop on 4", "- }"),
    ("Bar.fermata", "fermata on 4", "fermata on 3"),
    ("Bar.patches", " without p on 4", ""),
    ("With.pluck", "with a@3 on 3", "with a@4 on 3"),
    ("With.count", "with a@3 on 3", "with a@3 on 4"),
    ("Without.finger", "without p on 4", "without m on 4"),
    ("Without.count", "without p on 4", "without p on 2"),
    ("WordsLine.bars", 'words 2: "Gate" on 1 | -', 'words 2: "Gate" on 1 | "shut" on 1'),
    ("WordsLine.verse", "words 2:", "words 3:"),
    ("SungBar.text", '"Lad-"', '"Lan-"'),
    ("SungBar.counts", '"der" on 1', '"der" on 2'),
    ("TempoChange.tempo", "tempo 80", "tempo 84"),
    ("TempoRamp.tempo", "ritardando to 60", "ritardando to 66"),
    ("TempoRamp.bars", "to 60 over 1 bar", "to 60 over 2 bars"),
    ("TempoRamp.kind", "ritardando to 60", "accelerando to 110"),
    ("BackToTempo", "  a tempo\n", ""),
    ("FreeTime", "  free time\n", ""),
    ("MeterChange.meter", "end\n  meter 4/4", "end\n  meter 2+2/4"),
    ("UsingLine.using", "4/4\n  using plain\n  E", "4/4\n  using all\n  E"),
    ("RepeatStart.times", "repeat 2\n  D\n  ending 1: A\n", "repeat 3\n  D\n  ending 1 2: A\n"),
    ("EndingStart.bars", "ending 2: G", "ending 2: E"),
    ("EndingStart.passes", "ending 1: A\n  ending 2: G", "ending 1: G\n  ending 2: A"),
    ("FormEntry.times", "bridge x2", "bridge x3"),
    ("FormEntry.section", "  bridge x2", "  verse x2"),
    ("Form.entries", "  bridge\n    but without repeats\n", ""),
    ("ChangeBars.bars", "but bar 9: E", "but bar 9: A"),
    ("ChangeBars.first", "but bar 9: E", "but bar 10: E"),
    ("ChangeBars.last", "but bar 9: E", "but bars 9-10: E | E"),
    ("ChangeBars.open_end", "but bar 9: E", "but from bar 9: E"),
    ("DropBars.first", "without bars 3-3", "without bars 2-3"),
    ("DropBars.last", "without bars 3-3", "without bars 3-4"),
    ("KeepBars.first", "only bars 1-9", "only bars 2-9"),
    ("KeepBars.last", "only bars 1-9", "only bars 1-8"),
    ("WithoutRepeats", "    but without repeats\n", ""),
    ("ChangePattern.using", "bars 1-2 using all", "bars 1-2 using plain"),
    ("ChangePattern.first", "bars 1-2 using all", "bars 2-2 using all"),
    ("ChangePattern.last", "bars 1-2 using all", "bars 1-1 using all"),
    ("ChangeTempo.tempo", "bars 5-6 tempo 70", "bars 5-6 tempo 72"),
    ("ChangeTempo.first", "bars 5-6 tempo 70", "bars 6-6 tempo 70"),
    ("ChangeTempo.last", "bars 5-6 tempo 70", "bars 5-5 tempo 70"),
    ("ChangeDynamic.dynamic", "bars 7-8 dynamic p", "bars 7-8 dynamic pp"),
    ("ChangeDynamic.first", "bars 7-8 dynamic p", "bars 8-8 dynamic p"),
    ("ChangeDynamic.last", "bars 7-8 dynamic p", "bars 7-7 dynamic p"),
    ("TempoRun.tempo", "accelerando to 120 over last 2 bars", "accelerando to 130 over last 2 bars"),
    ("TempoRun.first", "accelerando to 120 over last 2 bars", "accelerando to 120 over last 3 bars"),
    ("TempoRun.last", "accelerando to 120 over last 2 bars", "accelerando to 120 over bars 9-9"),
    ("TempoRun.kind", "accelerando to 120 over last 2 bars", "ritardando to 50 over last 2 bars"),
    ("DynamicRun.dynamic", "diminuendo to pp over bars 3-4", "diminuendo to p over bars 3-4"),
    ("DynamicRun.first", "diminuendo to pp over bars 3-4", "diminuendo to pp over bars 4-4"),
    ("DynamicRun.last", "diminuendo to pp over bars 3-4", "diminuendo to pp over bars 3-5"),
    ("DynamicRun.kind", "diminuendo to pp over bars 3-4", "crescendo to fff over bars 3-4"),
    ("ChangeWords.verse", "but words 1", "but words 2"),
    ("FormEntry.buts", "    but bars 1-2 using all\n", ""),
    ("Step.title", 'step "Slowly"\n', 'step "Slowly"\nstep "Faster"\n'),
]  # fmt: skip

#: Fields that say nothing of the music or its page, each with why that is nothing to tell.
NOTHING_TO_TELL = {
    "Use.path": "what the file brings is in the score",
    "Section.name": "the title is what is read; the name is shown where there is none",
    "Section.stated_bars": "how many bars there are is seen",
    "Pattern.name": "the title is what is read; the name is shown where there is none",
    "Step.lines": "told with the steps, which are counted",
    "Show.*": "told with the steps",
    "Prose.text": "told with the steps",
    "Unread.*": "reported as an error; no such lesson is exported",
    "Bar.text": "reported as an error",
    "*.opening": "reported as an error",
    "*.tail": "comments, which are counted",
    "*Block.lines": "each line has a row of its own",
    "*.margin": "comments, which are counted",
    "RepeatEnd": "what is repeated has a row",
}


#: Two parts say what one part with two staves says.
LAYOUT_NAMES: tuple[LayoutName, ...] = ("notation-and-tab", "notation", "tab")


@cache
def _whole() -> dict[LayoutName, tuple[bytes, tuple[str, ...]]]:
    return exported(LESSON, LAYOUT_NAMES)


def exported(
    text: str, layouts: Iterable[LayoutName] = ("notation-and-tab",)
) -> dict[LayoutName, tuple[bytes, tuple[str, ...]]]:
    """Return the file of a lesson in each layout, and what is listed as left out."""
    reading, found = reading_of(text), {}
    for layout in layouts:
        score, left = score_of_lesson(reading, ScoreOptions(layout=layout))
        found[layout] = score, in_words(left)
    return found


@pytest.mark.parametrize(("what", "old", "new"), ROWS)
def test_each_thing_is_in_the_file_or_told(what: str, old: str, new: str) -> None:
    """Another value gives another file, or another line of what is left out, in each layout."""
    assert LESSON.count(old) == 1, f"{what}: {old!r} does not stand in one place"
    changed = exported(LESSON.replace(old, new), LAYOUT_NAMES)
    dropped = [layout for layout in LAYOUT_NAMES if changed[layout] == _whole()[layout]]
    assert dropped == [], f"{what} is neither in the file nor listed"


def test_every_field_of_the_model_is_tried_or_has_a_reason() -> None:
    """A new construct gets a row here."""
    tried = {what for what, _, _ in ROWS}
    reasons = set(NOTHING_TO_TELL)
    missing = []
    for owner in _classes():
        fields = [one.name for one in attrs.fields(owner) if one.eq]
        name = owner.__name__
        said = {name, f"{name}.*", "*Block.lines" if name.endswith("Block") else name}
        if said & (tried | reasons) - {"*Block.lines"}:
            continue
        for one in fields:
            own = {f"{name}.{one}", f"*.{one}"} | (
                {"*Block.lines"} if name.endswith("Block") else set()
            )
            if not own & (tried | reasons) and not (name == "Lesson" and one == "blocks"):
                missing.append(f"{name}.{one}")
    assert missing == []


def _classes() -> list[type]:
    """Return the classes of which a lesson consists."""
    modules: list[ModuleType] = [
        importlib.import_module(one.name)
        for one in pkgutil.walk_packages(model.__path__, f"{model.__name__}.")
        if ".walking" not in one.name
    ]
    return [
        owner
        for module in modules
        for owner in vars(module).values()
        if isinstance(owner, type) and attrs.has(owner) and owner.__module__ == module.__name__
    ]


#: What is told of the lesson as it stands.
BESIDE = "1 step and 3 comments, which are not part of a notation file"
HEADING = "from the heading: scale, hand and level"
TEMPO = "how slow or fast it gets before another tempo, in bar 10 (By the weir)"


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("", "", (BESIDE, HEADING, TEMPO)),
        ("# The end.\n", "", ("1 step and 2 comments, which are not part of a notation file", HEADING, TEMPO)),
        ("  scale 650 mm\n  hand small\n", "", (BESIDE, "from the heading: level", TEMPO)),
        (
            "form\n  verse\n", "section coda\n  D | A\n\nform\n  verse\n",
            (BESIDE, HEADING, "the section coda, which the form does not play", TEMPO),
        ),
        (
            "  Bm    x24432", "  Dm  xx0231\n  Em  022000\n  F  133211\n  C  x32010\n  B  x24442\n  Bm  x24432",
            (BESIDE, HEADING, "the voicings Dm, Em, F, C and 1 more, which no bar takes", TEMPO),
        ),
        (
            "patterns\n", "patterns\n  slow  p , m , i , m\n",
            (BESIDE, HEADING, "the pattern slow, which no bar has", TEMPO),
        ),
        (
            "    but only bars 1-9", "    but words 1\n    but only bars 1-9",
            (BESIDE, HEADING, "the words of By the weir for the 2nd time, which is not played", TEMPO),
        ),
        (
            "  G.off release on 3 |", "  G.off release on 3\n  a tempo\n ",
            (BESIDE, HEADING, "how slow or fast it gets before another tempo, in bars 7 and 10 (By the weir)"),
        ),
    ],
)  # fmt: skip
def test_what_is_told(old: str, new: str, told: tuple[str, ...]) -> None:
    """A line for each thing, with its places; four names, and how many more there are."""
    changed = exported(LESSON.replace(old, new) if old else LESSON)
    assert changed["notation-and-tab"][1] == told


def test_words_that_nobody_wants_are_not_told() -> None:
    """Whoever asks for a score without the words of the song knows it."""
    silent = score_of_lesson(reading_of(LESSON), ScoreOptions(words="none"))
    assert b"<lyric" not in silent[0]
    assert in_words(silent[1]) == (BESIDE, HEADING, TEMPO)
    assert b"<lyric" in _whole()["notation-and-tab"][0]


def test_a_tempo_with_which_a_piece_ends_is_told():
    """No bar comes behind it that could show it."""
    lesson = fretloom.loads(
        'lesson "Lamps"\n  tempo 90\nvoicings\n  C  x32010\nsection tune\n'
        "  ritardando to 50 over 2 bars\n  C { p, p, p, p } | C { p, p, p, p }\n"
    )
    [output] = fretloom.export(lesson, "musicxml")
    [told] = [one for one in output.left_out if one.bar is not None]
    assert (told.what, told.bar) == ("how slow or fast it gets at the end", 2)
