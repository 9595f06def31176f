"""The facts of every rule, one row each: a name is stable, and every tool can read them here.

A rule's page (what it checks, why, a wrong and a right lesson) stands in its family's folder,
`rules/families/<family>/page.md`. This table is at the bottom of the house because reading and
laying out report findings too.
"""

from __future__ import annotations

from enum import Enum

from attrs import field
from attrs.validators import in_

from fretloom.values import frozen


class Severity(Enum):
    """How serious a finding is: an error makes the lesson wrong, a warning makes it doubtful, an info is advice."""

    ERROR = "error"
    WARNING = "warning"
    INFO = "info"

    @property
    def rank(self) -> int:
        """The place in the order, 0 for the most serious."""
        return ("error", "warning", "info").index(self.value)


#: Families, in the order of their pages, and what they are about.
FAMILIES = {
    "text": "What the lines say",
    "links": "Other files",
    "names": "Names and what they stand for",
    "bars": "Bars, beats and counts",
    "voicings": "Voicings",
    "picking": "The picking hand",
    "form": "Sections and form",
    "keys": "Capo, keys and meters",
    "hands": "What the hands can do",
    "chords": "Chord names and what sounds",
    "waivers": "Waivers",
    "style": "House style, where a collection asks for it",
    "own": "Rules of other packages",
}

#: Where a rule's findings are made: `notation`, `performance.expansion`, `rules`.
READING, EXPANDING, CHECKING = STAGES = ("reading", "expanding", "checking")
E, W, I = Severity.ERROR, Severity.WARNING, Severity.INFO  # noqa: E741


@frozen
class Rule:
    """One rule.

    Args:
        name: stable and never reused; it names the fault and reads well after "allow".
        family: a key of `FAMILIES`.
        stage: where it is found, one of `STAGES`.
        severities: what it can be reported as, most serious first.
        waivable: whether a comment may waive it; what leaves the music undefined, or makes bars that
            do not add up, may not be waived.
        undefined: whether it makes it unclear what is played, so that nothing can be exported.
    """

    name: str
    family: str = field(validator=in_(tuple(FAMILIES)))
    stage: str = field(validator=in_(STAGES))
    severities: tuple[Severity, ...]
    waivable: bool
    undefined: bool


# fmt: off
RULES: tuple[Rule, ...] = (
    #    name                       family      stage      severity waivable undefined
    # What the lines say
    Rule("not-understood",          "text",     READING,   (E,),    False, True),
    Rule("unknown-word",            "text",     READING,   (E,),    False, True),
    Rule("not-indented",            "text",     READING,   (E,),    False, True),
    Rule("indented-block",          "text",     READING,   (E,),    False, True),
    Rule("outside-a-block",         "text",     READING,   (E,),    False, True),
    Rule("unclosed-quote",          "text",     READING,   (E,),    False, True),
    Rule("unclosed-bracket",        "text",     READING,   (E,),    False, True),
    Rule("nested-too-deep",         "text",     READING,   (E,),    False, True),
    Rule("curly-quote",             "text",     READING,   (E,),    False, True),
    Rule("hidden-character",        "text",     READING,   (E,),    False, True),
    Rule("bad-value",               "text",     READING,   (E,),    False, True),
    Rule("bad-name",                "text",     READING,   (E,),    False, False),
    Rule("bad-pluck",               "text",     READING,   (E,),    False, True),
    Rule("bad-count",               "text",     READING,   (E,),    False, True),
    Rule("bad-frets",               "text",     READING,   (E,),    False, True),
    Rule("wrong-places",            "text",     READING,   (E,),    False, True),
    Rule("empty-bar",               "text",     READING,   (E,),    False, True),
    Rule("empty-beat",              "text",     READING,   (E,),    False, True),
    Rule("unreadable-chord-name",   "text",     READING,   (E,),    False, False),
    Rule("beat-too-full",           "text",     READING,   (E,),    False, True),
    Rule("empty-lesson",            "text",     READING,   (E,),    False, True),
    Rule("too-many-faults",         "text",     READING,   (E,),    False, True),
    Rule("too-large",               "text",     READING,   (E,),    False, True),
    Rule("later-edition",           "text",     READING,   (E,),    False, True),
    # Other files
    Rule("file-not-found",          "links",    READING,   (E,),    False, True),
    Rule("outside-the-collection",  "links",    READING,   (E,),    False, True),
    Rule("use-cycle",               "links",    READING,   (E,),    False, True),
    Rule("linked-file-faulty",      "links",    READING,   (E,),    False, True),
    # Names and what they stand for
    Rule("unknown-voicing",         "names",    EXPANDING, (E,),    False, True),
    Rule("unknown-pattern",         "names",    EXPANDING, (E,),    False, True),
    Rule("unknown-section",         "names",    EXPANDING, (E,),    False, True),
    Rule("like-cycle",              "names",    EXPANDING, (E,),    False, True),
    Rule("doubled-name",            "names",    CHECKING,  (E,),    False, False),
    Rule("unused-voicing",          "names",    CHECKING,  (W,),    True,  False),
    Rule("unused-pattern",          "names",    CHECKING,  (W,),    True,  False),
    # Bars, beats and counts
    Rule("pattern-beats",           "bars",     EXPANDING, (E,),    False, True),
    Rule("split-beats",             "bars",     EXPANDING, (E,),    False, True),
    Rule("section-length",          "bars",     EXPANDING, (E,),    False, False),
    Rule("count-outside-bar",       "bars",     EXPANDING, (E,),    False, True),
    Rule("nothing-before",          "bars",     EXPANDING, (E,),    False, True),
    Rule("no-pattern",              "bars",     EXPANDING, (E,),    False, True),
    Rule("nothing-to-leave-out",    "bars",     EXPANDING, (E,),    False, False),
    Rule("pickup-does-not-fit",     "bars",     CHECKING,  (W,),    True,  False),
    # Voicings
    Rule("no-such-string",          "voicings", EXPANDING, (E,),    False, True),
    Rule("no-such-fret",            "voicings", EXPANDING, (E,),    False, True),
    Rule("open-string-moved",       "voicings", EXPANDING, (E,),    False, True),
    Rule("lift-nothing",            "voicings", EXPANDING, (E,),    False, True),
    Rule("finger-unknown",          "voicings", EXPANDING, (E,),    False, True),
    Rule("hop-impossible",          "voicings", EXPANDING, (E,),    False, False),
    # The picking hand
    Rule("muted-string-plucked",    "picking",  EXPANDING, (E,),    False, False),
    Rule("string-plucked-twice",    "picking",  EXPANDING, (E,),    False, False),
    Rule("no-home-string",          "picking",  EXPANDING, (E,),    False, True),
    Rule("thumb-off-bass",          "picking",  CHECKING,  (E, I),  True,  False),
    Rule("finger-off-strings",      "picking",  CHECKING,  (W, I),  True,  False),
    Rule("finger-on-two-strings",   "picking",  CHECKING,  (E,),    True,  False),
    Rule("slur-wrong-way",          "picking",  CHECKING,  (E,),    False, False),
    # Sections and form
    Rule("repeat-not-closed",       "form",     EXPANDING, (E,),    False, True),
    Rule("ending-without-repeat",   "form",     EXPANDING, (E,),    False, True),
    Rule("ending-missing",          "form",     EXPANDING, (E,),    False, True),
    Rule("end-without-repeat",      "form",     EXPANDING, (E,),    False, True),
    Rule("no-such-bar",             "form",     EXPANDING, (E,),    False, True),
    Rule("words-misplaced",         "form",     EXPANDING, (E,),    False, True),
    Rule("wrong-direction",         "form",     EXPANDING, (E,),    False, False),
    Rule("changes-overlap",         "form",     EXPANDING, (E,),    False, True),
    Rule("too-many-bars",           "form",     EXPANDING, (E,),    False, True),
    Rule("playing-shortened",       "form",     CHECKING,  (W,),    True,  False),
    Rule("section-without-bars",    "form",     CHECKING,  (W,),    True,  False),
    Rule("section-never-played",    "form",     CHECKING,  (W,),    True,  False),
    Rule("words-never-sung",        "form",     CHECKING,  (W,),    True,  False),
    # Capo, keys and meters
    Rule("capo-and-keys",           "keys",     CHECKING,  (E,),    False, False),
    Rule("key-without-signature",   "keys",     CHECKING,  (I,),    True,  False),
    Rule("meter-grouping-assumed",  "keys",     CHECKING,  (I,),    True,  False),
    Rule("swing-and-meter",         "keys",     CHECKING,  (W, I),  True,  False),
    # Chord names and what sounds
    Rule("name-does-not-sound",     "chords",   CHECKING,  (E, W),  True,  False),
    Rule("wrong-bass",              "chords",   CHECKING,  (E,),    True,  False),
    Rule("two-readings",            "chords",   CHECKING,  (I,),    True,  False),
    Rule("bass-off-chord",          "chords",   CHECKING,  (W,),    True,  False),
    Rule("third-not-plucked",       "chords",   CHECKING,  (I,),    True,  False),
    # What the hands can do
    Rule("technique-not-possible",  "hands",    EXPANDING, (E,),    False, False),
    Rule("cannot-be-held",          "hands",    EXPANDING, (E,),    False, False),
    Rule("barre-without-relief",    "hands",    CHECKING,  (I,),    True,  False),
    Rule("beginner-barre",          "hands",    CHECKING,  (I,),    True,  False),
    Rule("steep-ladder",            "hands",    CHECKING,  (I,),    True,  False),
    Rule("no-fingering",            "hands",    CHECKING,  (E,),    True,  False),
    Rule("finger-missing",          "hands",    CHECKING,  (E,),    True,  False),
    Rule("finger-idle",             "hands",    CHECKING,  (E,),    True,  False),
    Rule("finger-two-frets",        "hands",    CHECKING,  (E,),    True,  False),
    Rule("finger-order",            "hands",    CHECKING,  (E,),    True,  False),
    Rule("finger-tangled",          "hands",    CHECKING,  (E,),    True,  False),
    Rule("finger-reversed",         "hands",    CHECKING,  (I,),    True,  False),
    Rule("barre-inner",             "hands",    CHECKING,  (E,),    True,  False),
    Rule("barre-treble",            "hands",    CHECKING,  (E,),    True,  False),
    Rule("barre-large",             "hands",    CHECKING,  (W,),    True,  False),
    Rule("reach",                   "hands",    CHECKING,  (E,),    True,  False),
    Rule("stretch",                 "hands",    CHECKING,  (W,),    True,  False),
    Rule("thumb-string",            "hands",    CHECKING,  (E, W),  True,  False),
    Rule("thumb-reach",             "hands",    CHECKING,  (E,),    True,  False),
    Rule("thumb-barre",             "hands",    CHECKING,  (E,),    True,  False),
    Rule("change-too-fast",         "hands",    CHECKING,  (E, W),  True,  False),
    Rule("hop-too-fast",            "hands",    CHECKING,  (E,),    True,  False),
    Rule("hop-tight",               "hands",    CHECKING,  (W,),    True,  False),
    Rule("no-finger-free",          "hands",    CHECKING,  (E,),    True,  False),
    Rule("pick-repeat",             "hands",    CHECKING,  (E, W),  True,  False),
    Rule("pick-rate",               "hands",    CHECKING,  (E, W),  True,  False),
    Rule("pick-rate-all",           "hands",    CHECKING,  (E, W),  True,  False),
    Rule("pick-crossed",            "hands",    CHECKING,  (E, W),  True,  False),
    Rule("thumb-above",             "hands",    CHECKING,  (W,),    True,  False),
    Rule("pick-spread",             "hands",    CHECKING,  (W,),    True,  False),
    # Waivers
    Rule("unknown-rule",            "waivers",  CHECKING,  (W,),    False, False),
    Rule("waiver-without-reason",   "waivers",  CHECKING,  (W,),    False, False),
    Rule("waiver-not-needed",       "waivers",  CHECKING,  (W,),    False, False),
    Rule("cannot-be-waived",        "waivers",  CHECKING,  (W,),    False, False),
    # House style, where a collection asks for it
    Rule("heading-lacks-line",      "style",    CHECKING,  (W,),    True,  False),
    Rule("fingers-left-out",        "style",    CHECKING,  (W,),    True,  False),
    Rule("without-steps",           "style",    CHECKING,  (W,),    True,  False),
    Rule("not-canonical",           "style",    CHECKING,  (W,),    True,  False),
)
# fmt: on

_BY_NAME = {rule.name: rule for rule in RULES}


def find_rule(name: str) -> Rule | None:
    """Return the rule of that name, if there is one."""
    return _BY_NAME.get(name)


def rules_of(family: str) -> tuple[Rule, ...]:
    """Return the rules of a family, in the order of their pages."""
    return tuple(rule for rule in RULES if rule.family == family)


def leaves_music_undefined(name: str) -> bool:
    """Whether a finding of that rule makes it unclear what is played; False for a rule not listed here."""
    rule = _BY_NAME.get(name)
    return rule is not None and rule.undefined
