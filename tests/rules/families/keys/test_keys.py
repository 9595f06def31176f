"""The keys of a heading against its capo."""

from __future__ import annotations

import pytest
from rule_lessons import HEAD, findings, lesson, reported

from fretloom.api import export, loads


@pytest.mark.parametrize(
    ("fields", "agrees"),
    [
        (("plays in C", "capo 2", "sounds in D"), True),
        (("plays in C", "capo 2", "sounds in E"), False),
        (("plays in C", "sounds in C"), True),
        (("plays in C", "sounds in C#"), False),
        (("plays in Am", "capo 2", "sounds in Bm"), True),
        (("plays in Am", "capo 2", "sounds in B"), False),
        (("plays in F", "capo 1", "sounds in Gb"), True),
        (("plays in F", "capo 1", "sounds in F#"), True),
        (("plays in C", "capo 2 on 5 4 3", "sounds in F"), True),
    ],
)
def test_the_sounding_key_is_the_key_played_raised_by_the_capo(
    fields: tuple[str, ...], agrees: bool
) -> None:
    """A semitone a fret, however the key is spelled; a partial capo leaves it to the teacher."""
    head = HEAD + "".join(f"  {field}\n" for field in fields)
    rules = [rule for _, rule in reported(lesson(head=head))]
    assert ("capo-and-keys" not in rules) is agrees


@pytest.mark.parametrize(
    ("meter", "found"),
    [
        ("7/8", [("info", "meter-grouping-assumed")]),
        ("2+2+3/8", []),
        ("6/8", []),
    ],
)
def test_a_meter_that_may_be_grouped_in_two_ways_is_remarked_on(
    meter: str, found: list[tuple[str, str]]
) -> None:
    """Once, however often it stands there."""
    head = f'lesson "Two cups"\n  meter {meter}\n'
    section = f"section tune  in {meter}\n  rest | rest\n"
    assert reported(lesson(head=head, voicings="", patterns="", section=section)) == found


@pytest.mark.parametrize(
    ("field", "taken"),
    [
        ("plays in G#", "G# would have 8 sharps, so scores and capos take it as Ab"),
        ("plays in Fb", "Fb would have 8 flats, so scores and capos take it as E"),
        ("sounds in D#", "D# would have 9 sharps, so scores and capos take it as Eb"),
        ("plays in Dbm", "Dbm would have 8 flats, so scores and capos take it as C#m"),
        ("plays in C#", ""), ("plays in Cb", ""), ("plays in G#m", ""), ("plays in Abm", ""), ("plays in Ab", ""),
    ],
)  # fmt: skip
def test_a_key_without_a_signature_says_what_it_becomes(field: str, taken: str) -> None:
    """Seven signs are the most (MusicXML and common practice); the circle of fifths from memory."""
    found = findings(lesson(head=f"{HEAD}  {field}\n"))
    said = [one.message for one in found if one.rule == "key-without-signature"]
    assert said == ([taken] if taken else [])


def test_an_export_says_which_key_the_score_shows() -> None:
    """G sharp is written as A flat (four flats)."""
    outputs = export(loads(lesson(head=f"{HEAD}  plays in G#\n")), "musicxml")
    (what,) = [one.what for one in outputs[0].left_out if "key" in one.what]
    assert what == "the key G#, which has no signature: the score says Ab"
    assert b"<fifths>-4</fifths>" in outputs[0].content
