"""All rules there are: an explicit list, so that names are stable and every tool can read them.

A rule's page (what it checks, why, a wrong and a right lesson) stands in `pages/<family>.md`. Rules
of the stage "checking" name the function that looks for them; it is imported when rules run. Faults
of the stages "reading" and "expanding" are found where the text is read and the music laid out.
"""

from __future__ import annotations

from attrs import field
from attrs.validators import in_

from fretloom.diagnostics import Severity
from fretloom.values import frozen

STAGES = ("reading", "expanding", "checking")

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
}

_E, _W, _I = Severity.ERROR, Severity.WARNING, Severity.INFO


@frozen
class Rule:
    """One rule.

    Args:
        name: stable and never reused; it names the fault and reads well after "allow".
        family: a key of `FAMILIES`.
        stage: where it is found, one of `STAGES`.
        severities: what it can be reported as, gravest first.
        waivable: whether a comment may waive it; faults that leave the music undefined or make bars
            that do not add up may not be waived.
        check: "module:function" of a rule of the stage "checking": a generator of diagnostics that
            takes a `fretloom.rules.runner.Context`.
    """

    name: str
    family: str = field(validator=in_(tuple(FAMILIES)))
    stage: str = field(validator=in_(STAGES))
    severities: tuple[Severity, ...] = (_E,)
    waivable: bool = False
    check: str = ""


def _reading(family: str, *names: str) -> tuple[Rule, ...]:
    return tuple(Rule(name, family, "reading") for name in names)


def _expanding(family: str, *names: str) -> tuple[Rule, ...]:
    return tuple(Rule(name, family, "expanding") for name in names)


def _checking(name: str, family: str, function: str, *severities: Severity) -> Rule:
    place = f"fretloom.rules.{family}:{function}"
    return Rule(name, family, "checking", severities, waivable=True, check=place)


def _together(family: str, function: str, *rules: tuple[str | Severity, ...]) -> tuple[Rule, ...]:
    """Rules that one function finds together; the first of them names it."""
    place = f"fretloom.rules.{function}"
    return tuple(
        Rule(
            str(name),
            family,
            "checking",
            tuple(one for one in severities if isinstance(one, Severity)),
            waivable=True,
            check="" if at else place,
        )
        for at, (name, *severities) in enumerate(rules)
    )


RULES: tuple[Rule, ...] = (
    *_reading(
        "text",
        "not-understood",
        "unknown-word",
        "not-indented",
        "indented-block",
        "outside-a-block",
        "unclosed-quote",
        "unclosed-bracket",
        "nested-too-deep",
        "curly-quote",
        "hidden-character",
        "bad-value",
        "bad-name",
        "bad-pluck",
        "bad-count",
        "bad-frets",
        "wrong-places",
        "empty-bar",
        "empty-beat",
        "unreadable-chord-name",
        "beat-too-full",
        "empty-lesson",
        "too-many-faults",
    ),
    *_reading(
        "links", "file-not-found", "outside-the-collection", "use-cycle", "linked-file-faulty"
    ),
    *_expanding("names", "unknown-voicing", "unknown-pattern", "unknown-section", "like-cycle"),
    Rule("doubled-name", "names", "checking", check="fretloom.rules.names:doubled_names"),
    _checking("unused-voicing", "names", "unused_voicings", _W),
    _checking("unused-pattern", "names", "unused_patterns", _W),
    *_expanding(
        "bars",
        "pattern-beats",
        "split-beats",
        "section-length",
        "count-outside-bar",
        "nothing-before",
        "no-pattern",
        "nothing-to-leave-out",
    ),
    _checking("pickup-does-not-fit", "bars", "pickups_that_do_not_fit", _W),
    *_expanding(
        "voicings",
        "no-such-string",
        "no-such-fret",
        "open-string-moved",
        "lift-nothing",
        "finger-unknown",
        "hop-impossible",
    ),
    Rule("muted-string-plucked", "picking", "expanding", (_E, _I)),
    *_expanding("picking", "string-plucked-twice", "no-home-string"),
    _checking("thumb-off-bass", "picking", "thumb_off_bass", _E, _I),
    _checking("finger-off-strings", "picking", "fingers_off_strings", _W, _I),
    _checking("finger-on-two-strings", "picking", "fingers_on_two_strings", _E),
    Rule("slur-wrong-way", "picking", "checking", check="fretloom.rules.slurs:slurs_the_wrong_way"),
    *_expanding(
        "form",
        "repeat-not-closed",
        "ending-without-repeat",
        "ending-missing",
        "end-without-repeat",
        "no-such-bar",
        "changes-overlap",
        "too-many-bars",
    ),
    _checking("section-never-played", "form", "sections_never_played", _W),
    Rule("capo-and-keys", "keys", "checking", check="fretloom.rules.keys:capo_and_keys"),
    _checking("meter-grouping-assumed", "keys", "meter_grouping_assumed", _I),
    _checking("name-does-not-sound", "chords", "names_that_do_not_sound", _E, _W),
    _checking("wrong-bass", "chords", "wrong_basses", _E),
    _checking("bass-off-chord", "chords", "basses_off_chord", _W),
    Rule(
        "third-not-plucked",
        "chords",
        "checking",
        (_I,),
        waivable=True,
        check="fretloom.rules.plucked_chords:thirds_not_plucked",
    ),
    Rule(
        "barre-without-relief",
        "hands",
        "checking",
        (_I,),
        waivable=True,
        check="fretloom.rules.strain:barres_without_relief",
    ),
    Rule(
        "steep-ladder",
        "hands",
        "checking",
        (_I,),
        waivable=True,
        check="fretloom.rules.strain:steep_ladders",
    ),
    *_together(
        "hands",
        "hands:voicings",
        ("no-fingering", _E),
        ("finger-missing", _E),
        ("finger-idle", _E),
        ("finger-two-frets", _E),
        ("finger-order", _E),
        ("finger-tangled", _E),
        ("finger-reversed", _I),
        ("barre-inner", _E),
        ("barre-treble", _E),
        ("barre-large", _W),
        ("reach", _E),
        ("stretch", _W),
        ("thumb-string", _E, _W),
        ("thumb-reach", _E),
        ("thumb-barre", _E),
    ),
    *_together(
        "hands",
        "hand_changes:changes",
        ("change-too-fast", _E, _W),
        ("hop-too-fast", _E),
        ("hop-tight", _W),
        ("no-finger-free", _E),
    ),
    *_together(
        "hands",
        "hand_picking:picking",
        ("pick-repeat", _E, _W),
        ("pick-rate", _E, _W),
        ("pick-rate-all", _E),
        ("pick-crossed", _E, _W),
        ("thumb-above", _W),
        ("pick-spread", _W),
    ),
    Rule("unknown-rule", "waivers", "checking", (_W,)),
    Rule("waiver-without-reason", "waivers", "checking", (_W,)),
    Rule("waiver-not-needed", "waivers", "checking", (_W,)),
    Rule("cannot-be-waived", "waivers", "checking", (_W,)),
)

_BY_NAME = {rule.name: rule for rule in RULES}


def find_rule(name: str) -> Rule | None:
    """Return the rule of that name, if there is one."""
    return _BY_NAME.get(name)


def rules_of(family: str) -> tuple[Rule, ...]:
    """Return the rules of a family, in the order of their pages."""
    return tuple(rule for rule in RULES if rule.family == family)
