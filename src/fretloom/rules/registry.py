"""The checks in the order in which they run; each is only imported when it runs.

A check is a generator of diagnostics that takes a `fretloom.performance.reading.Reading`. Each rule
that it reports is a row in `fretloom.rule_facts`; its page stands beside it.
"""

from __future__ import annotations

from fretloom import rule_facts
from fretloom.rule_facts import RULES, Rule
from fretloom.rules.own import own_rules

#: "module:function", the module below `fretloom.rules.families`.
CHECKS = (
    "names.names:doubled_names",
    "names.names:unused_names",
    "bars.pickups:pickups_that_do_not_fit",
    "picking.strings:plucked_strings",
    "picking.slurs:slurs_the_wrong_way",
    "form.unplayed:sections_without_bars",
    "form.unplayed:sections_never_played",
    "form.shortened:playings_shortened",
    "form.sung:words_never_sung",
    "keys.keys:capo_and_keys",
    "keys.keys:keys_without_signature",
    "keys.swings:swings_and_meters",
    "keys.keys:meter_grouping_assumed",
    "chords.names:names_that_do_not_sound",
    "chords.names:wrong_basses",
    "chords.names:names_with_two_readings",
    "chords.names:basses_off_chord",
    "chords.plucked:thirds_not_plucked",
    "hands.strain:barres_without_relief",
    "hands.strain:first_barre",
    "hands.strain:steep_ladders",
    "hands.holding:voicings",
    "hands.changes:changes",
    "hands.picking:picking",
)


def all_rules() -> tuple[Rule, ...]:
    """Return the facts of every rule, those of other packages last."""
    return (*RULES, *(one.facts for one in own_rules().values()))


def find_rule(name: str) -> Rule | None:
    """Return the facts of a rule of this or another package, None if there is no such rule."""
    found = rule_facts.find_rule(name)
    if found is None and name in own_rules():
        return own_rules()[name].facts
    return found
