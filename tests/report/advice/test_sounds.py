"""The report on what voicings sound."""

from __future__ import annotations

import json

from fretloom.api import as_json, as_text, loads, sounds

LESSON = """lesson "Two cups"
{head}
voicings
{voicings}
patterns
  plain  p , m , p , m
section t  using plain
  {first} | {first}
"""


def report(*voicings: str, head: str = "", form: str = "text") -> str:
    lines = "\n".join(f"  {line}" for line in voicings)
    first = voicings[0].split()[0]
    say = as_json if form == "json" else as_text
    return say(sounds(loads(LESSON.format(head=head, voicings=lines, first=first))))


def test_text_of_a_voicing_with_capo():
    """Every line of the table, worked out by hand: E at capo 3 sounds G (E2 is 40, G2 is 43)."""
    text = report("E7  020100", head="  capo 3\n  plays in E")
    assert text == (
        "Two cups\n"
        "  plays in E, capo 3, sounds in G\n"
        "  tuning E2 A2 D3 G3 B3 E4 (standard)\n"
        "\n"
        "Capos for this key\n"
        "  no capo  plays in G: all open\n"
        "  capo 1   plays in Gb: 1 without an open shape: Gb7\n"
        "  capo 2   plays in F: 1 without an open shape: F7\n"
        "  capo 3   plays in E: all open\n"
        "  capo 4   plays in Eb: 1 without an open shape: Eb7\n"
        "  capo 5   plays in D: all open\n"
        "  capo 6   plays in Db: 1 without an open shape: Db7\n"
        "  capo 7   plays in C: all open\n"
        "\n"
        "E7  020100\n"
        "  string  6  5  4  3  2  1\n"
        "  fret    0  2  0  1  0  0\n"
        "  note    E  B  D  G# B  E\n"
        "  degree  R  5  b7 3  5  R\n"
        "  sounds  G2 D3 F3 B3 D4 G4\n"
        "  name    E7 is right\n"
        "  heard as G7\n"
    )


def test_other_right_names():
    """Am7 with its root lowest can be called C6/A."""
    assert "  also    C/A, C6/A" in report("Am7  x02010")


def test_wrong_name_is_said():
    """What is foreign and what is missing, in the report as in the check."""
    assert "Em7 is wrong: G# is not in it; G is missing" in report("Em7  020100")


def test_a_name_that_nobody_hears_is_said() -> None:
    """C E G under the name of Am7, as text and as data."""
    found = report("Am7  x32010")
    assert "Am7 is wrong: no string sounds A, its root, so it is heard as C" in found
    (voicing,) = json.loads(report("Am7  x32010", form="json"))["voicings"]
    assert (voicing["right"], voicing["missing"], voicing["heard_instead"]) == (False, ["A"], "C")


def test_several_notes_take_a_plural() -> None:
    """One note is missing, two are."""
    found = report("F#  x0000x")
    assert "F# is wrong: A, D, G and B are not in it; F# and A# are missing" in found


def test_plain_name_gets_the_best_name():
    """A voicing without a chord symbol is named by what it sounds."""
    assert "not a chord symbol; it sounds as Am" in report("walkdown  x02210")


def test_key_is_worked_out_when_not_stated():
    """The head says which key the chords suggest and how sure that is."""
    assert "key not stated; by its chords Am (sure), no capo" in report("Am  x02210")


def test_retuning_is_said():
    """The head says how to retune."""
    assert "    string 6 down 2 half steps, to D2\n" in report("D  000232", head="  tuning drop D")


def test_partial_capo_names_what_is_heard():
    """A capo at 2 on strings 5 4 3 under open strings sounds E B E A B E, which is Esus4 (arithmetic)."""
    text = report("walk  000000", head="  capo 2 on 5 4 3")
    assert "capo 2 on strings 5 4 3" in text
    assert "sounds  E2 B2 E3 A3 B3 E4" in text
    assert "sounds as Esus4" in text


def test_json_has_the_same_facts():
    """One voicing as data."""
    data = json.loads(report("C/G  332010", head="  capo 2\n  plays in C", form="json"))
    assert (data["plays"], data["sounds"], data["capo"]) == ("C", "D", {"fret": 2, "strings": []})
    (voicing,) = data["voicings"]
    assert (voicing["right"], voicing["sounding_name"], voicing["lowest_string"]) == (
        True,
        "D/A",
        6,
    )
    assert voicing["strings"][0] == {
        "string": 6, "fret": 3, "note": "G", "degree": "5", "sounds": "A2", "midi": 45,
    }  # fmt: skip


def test_german_names():
    """Notes and names in the lesson's naming."""
    text = report("H7  x21202", head="  names german")
    assert "  note    H    Dis  A    H    Fis\n" in text
    assert "  name    H7 is right\n" in text


def test_no_capo_choices_on_other_tunings():
    """Common shapes are those of standard tuning, so nothing is said about others."""
    head = "  tuning D2 A2 D3 G3 A3 D4\n  plays in D"
    assert "Capos for this key" not in report("D5  000200", head=head)


def test_capo_choices_as_data():
    """The sounding key stays; the shapes follow the capo (E at capo 3 and D at capo 5 are G)."""
    data = json.loads(report("E  022100", head="  capo 3\n  plays in E", form="json"))
    plays = {choice["capo"]: choice["plays"] for choice in data["capo_choices"]}
    assert plays == {0: "G", 1: "Gb", 2: "F", 3: "E", 4: "Eb", 5: "D", 6: "Db", 7: "C"}
    assert data["capo_choices"][2]["without_open_shape"] == ["F"]


def test_a_bar_without_a_chord_needs_no_open_shape():
    """N.C. says that there is none."""
    data = json.loads(report("NC  xxxxxx", "E  022100", head="  plays in E", form="json"))
    assert data["capo_choices"][0]["chords"] == ["N.C.", "E"]
    assert data["capo_choices"][0]["without_open_shape"] == []
