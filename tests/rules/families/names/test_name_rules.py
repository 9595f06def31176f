"""Names that are doubled or unused, sections never played, keys and meters."""

from __future__ import annotations

from pathlib import Path

import pytest
from rule_lessons import HEAD, PATTERNS, SECTION, VOICINGS, findings, lesson, reported

from fretloom.api import check, load, loads
from fretloom.notation.syntax.fields.table import FIELDS, Field


def test_doubled_field_names_both_lines() -> None:
    """A field given twice is reported at the second, with the line of the first."""
    (found,) = findings(lesson(head=HEAD + "  tempo 90\n  tempo 96\n"))
    assert (found.rule, found.span.line) == ("doubled-name", 4)
    assert "here and on line 3" in found.message


@pytest.mark.parametrize("row", [pytest.param(row, id=row.name) for row in FIELDS.values()])
def test_doubled_field_is_called_as_it_is_written(row: Field, tmp_path: Path) -> None:
    """`plays in`, not `plays`: what the table of fields says, for every field in it."""
    head = f'lesson "Two cups"\n  {row.examples[0]}\n  {row.examples[0]}\n'
    found = [one for one in check(loads(head, root=tmp_path)) if one.rule == "doubled-name"]
    assert [one.message.partition(" is given")[0] for one in found] == [f"the field {row.word}"]


def test_doubled_picking_finger() -> None:
    """The picking block names each finger once."""
    more = "picking\n  p plays 6 5 4\n  p plays 6 5\n"
    assert reported(lesson(more=more)) == [("error", "doubled-name")]


def test_library_file_has_nothing_unused(tmp_path: Path) -> None:
    """A file of voicings and patterns is there for others."""
    path = tmp_path / "open.lesson"
    path.write_text(VOICINGS + PATTERNS)
    assert check(load(path)) == []


def test_voicing_used_only_by_another_is_used() -> None:
    """`like` uses a voicing."""
    voicings = VOICINGS + "  Cmaj7  like C  lift 1\n"
    assert reported(lesson(voicings=voicings, section="section t  using plain\n  Cmaj7\n")) == []


def test_voicing_used_only_by_a_step_or_a_but_is_used() -> None:
    """Steps and changes in the form use voicings."""
    voicings = VOICINGS + "  Cmaj7  like C  lift 1\n"
    step = 'step "One"\n  show voicing Cmaj7\n'
    form = "form\n  tune\n    but last bar: Cmaj7\n"
    assert reported(lesson(voicings=voicings, more=step)) == []
    assert reported(lesson(voicings=voicings, more=form)) == []


def test_easier_version_uses_what_its_base_plays(tmp_path: Path) -> None:
    """A voicing redefined for beginners is used by the sections of the base lesson."""
    (tmp_path / "whole.lesson").write_text(lesson())
    easy = 'lesson "Two cups, easy"\n  based on "whole.lesson"\n\nvoicings\n  C  xx2010  bass 4\n'
    (tmp_path / "easy.lesson").write_text(easy)
    assert [one.rule for one in check(load(tmp_path / "easy.lesson"))] == []


def test_nothing_is_called_unused_while_lines_are_unread() -> None:
    """The use may stand in the line that was not understood, so that would be a second fault."""
    voicings = VOICINGS + "  G  320003  fingers 21...3  bass 6 4 6 4\n"
    section = "section tune  using plain\n  C | C\n  G G using\n"
    assert [rule for _, rule in reported(lesson(voicings=voicings, section=section))] == [
        "not-understood"
    ]


@pytest.mark.parametrize(
    ("right", "wrong", "rule"),
    [("C | G", "C | Gg", "unknown-voicing"), ("using slow", "using sloe", "unknown-pattern")],
)
def test_misspelt_use_is_one_fault(right: str, wrong: str, rule: str) -> None:
    """What a misspelt name stands for is not called unused as well."""
    text = lesson(
        voicings=VOICINGS + "  G  320003  fingers 21...3  bass 6 4 6 4\n",
        patterns=PATTERNS + "  slow   p , m , p , i\n",
        section="section tune  using plain\n  C | G | C using slow\n",
    )
    assert reported(text) == []
    assert [name for _, name in reported(text.replace(right, wrong))] == [rule]


def test_misspelt_section_is_one_fault() -> None:
    """A section that the form misspells is not called never played as well."""
    text = lesson(
        section=SECTION + "\nsection close  using plain\n  C\n", more="form\n  tune\n  cloze\n"
    )
    assert reported(text) == [("error", "unknown-section")]


def test_section_shown_in_a_step_is_not_forgotten() -> None:
    """A section that only a step shows is there for practice."""
    more = 'section drill  using plain\n  C\n\nform\n  tune\n\nstep "Drill"\n  show section drill\n'
    assert reported(lesson(section=SECTION, more=more)) == []


# Capo arithmetic: a fret is a semitone (MusicXML 4.0, `capo`: added to the pitch of each string).
@pytest.mark.parametrize(
    ("capo", "plays", "sounds"),
    [(3, "E", "G"), (0, "D", "D"), (4, "D", "F#"), (4, "D", "Gb"), (2, "Am", "Bm"), (7, "C", "G")],
)
def test_keys_that_agree(capo: int, plays: str, sounds: str) -> None:
    """Played key and capo give the sounding key, however it is spelled."""
    head = f"{HEAD}  capo {capo}\n  plays in {plays}\n  sounds in {sounds}\n"
    assert reported(lesson(head=head)) == []


@pytest.mark.parametrize(
    ("capo", "plays", "sounds", "message", "hint"),
    [
        (
            3,
            "C",
            "D",
            "what is played in C with the capo at 3 sounds in Eb, not in D",
            "write `sounds in Eb`, or `capo 2`, or `plays in B`",
        ),
        (
            2,
            "G",
            "G",
            "what is played in G with the capo at 2 sounds in A, not in G",
            "write `sounds in A`, or no capo, or `plays in F`",
        ),
        (
            0,
            "E",
            "Em",
            "what is played in E without a capo sounds in E, not in Em",
            "write `sounds in E`, or `plays in Em`",
        ),
    ],
)
def test_keys_that_contradict(capo: int, plays: str, sounds: str, message: str, hint: str) -> None:
    """The message gives the right sum and every way out."""
    head = f"{HEAD}  capo {capo}\n  plays in {plays}\n  sounds in {sounds}\n"
    (found,) = findings(lesson(head=head))
    assert (found.message, found.hint) == (message, hint)


def test_partial_capo_is_left_to_the_teacher() -> None:
    """A capo on some strings raises no key."""
    head = HEAD + "  capo 2 on 5 4 3\n  plays in E\n  sounds in A\n"
    assert ("error", "capo-and-keys") not in reported(lesson(head=head))


def test_guitar_tuned_down_may_count_that() -> None:
    """On a guitar half a step down, E sounds in Eb; a teacher may also think from standard."""
    head = HEAD + "  tuning Eb2 Ab2 Db3 Gb3 Bb3 Eb4\n  plays in E\n  sounds in {}\n"
    assert reported(lesson(head=head.format("Eb"))) == []
    assert reported(lesson(head=head.format("E"))) == []
    assert reported(lesson(head=head.format("D"))) == [("error", "capo-and-keys")]


def test_open_grouping_is_reported_once_with_the_reading() -> None:
    """7/8 does not say its groups; the reading taken is reported (music21 10.5.1 beams it 2+2+3, too)."""
    head = 'lesson "Two cups"\n  meter 7/8\n'
    patterns = "patterns\n  plain in 7/8: p m , p i , p m i\n"
    (found,) = findings(lesson(head=head, patterns=patterns))
    assert found.message == "7/8 does not say how it is grouped; it is counted as 2+2+3"
    assert found.hint == "write meter 2+2+3/8, or another order such as 3+2+2/8"
