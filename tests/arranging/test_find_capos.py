"""Capos and shapes for a lesson, ranked by how hard the song is with them."""

from __future__ import annotations

import pytest

from fretloom.api import as_text, check, dumps, expand, loads, transpose, with_easiest_capo
from fretloom.arranging import new_key as module
from fretloom.arranging.capo_places import capo_places
from fretloom.arranging.find_capos import find_capos
from fretloom.arranging.remarks import LineLost
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.reading import Reading, read_through
from fretloom.trade.music.key import parse_key

FLAT = """\
lesson "Flat key"
  plays in Eb
  tempo 80

voicings
  Eb  x68886
  Ab  466544
  Bb  x13331

patterns
  plain  p , p m , p i , p m

section tune  using plain
  Eb | Ab | Bb | Eb
"""


def test_shapes_without_barres_come_before_barres() -> None:
    """Eb, Ab and Bb become open chords: those of D with capo 1, or of A with capo 6."""
    choices = find_capos(read_through(loads(FLAT))).choices
    assert (choices[0].capo, str(choices[0].plays)) in {(1, "D"), (6, "A")}
    now = next(choice for choice in choices if choice.now)
    assert len(now.barres) == 3
    assert choices[0].barres == ()
    assert [one.points for one in choices] == sorted(one.points for one in choices)


def test_it_sounds_as_before() -> None:
    """Whatever the capo, the root of the first bar sounds the same."""
    before = expand(loads(FLAT)).bars[0].bar.notes[0].midi % 12
    for choice in find_capos(read_through(loads(FLAT))).choices:
        note = expand(loads(dumps(choice.lesson))).bars[0].bar.notes[0]
        assert note.midi % 12 == before


def test_another_key_can_be_reached() -> None:
    """Asked for F, every choice sounds in F, and none is as the lesson stands."""
    choices = find_capos(read_through(loads(FLAT)), parse_key("F")).choices
    assert {str(one.sounds) for one in choices} == {"F"}
    assert not any(one.now for one in choices)


def test_the_lesson_can_be_written_anew() -> None:
    """The text with the easiest capo has no errors and is in the open key."""
    text = dumps(with_easiest_capo(loads(FLAT)))
    assert not [one for one in check(loads(text)) if one.severity.value == "error"]
    assert "capo" in text


def frets_at(capo: int, voicings: str, chord: str) -> dict[str, str]:
    """Return the voicings of a lesson in Eb, written anew for another capo."""
    head = FLAT[: FLAT.index("voicings")]
    patterns = "patterns\n  plain  p , - , - , -\n"
    text = f"{head}voicings\n{voicings}\n{patterns}section tune  using plain\n  {chord}\n"
    (choice,) = (one for one in find_capos(read_through(loads(text))).choices if one.capo == capo)
    return {entry.name: entry.frets_text for entry in choice.voicings}


def test_a_barre_moved_along_gives_way_to_the_open_shape() -> None:
    """Eb x68886 would be D x57775 with capo 1; every beginner's book has xx0232 (common practice, no source)."""
    assert frets_at(1, "  Eb  x68886", "Eb") == {"D": "xx0232"}


def test_a_guitar_tuned_down_as_a_whole_has_its_open_shapes() -> None:
    """The shapes keep their names when every string is a half step lower."""
    text = FLAT.replace("plays in Eb", "plays in Eb\n  tuning Eb2 Ab2 Db3 Gb3 Bb3 Eb4")
    (choice,) = (
        one for one in find_capos(read_through(loads(text))).choices if str(one.plays) == "D"
    )
    shapes = {voicing.name: voicing.frets_text for voicing in choice.voicings}
    assert shapes == {"D": "xx0232", "G": "320003", "A": "x02220"}
    assert choice.without_open == ()


def test_a_tagged_voicing_was_chosen_for_its_shape() -> None:
    """A name with a tag says which shape is meant."""
    assert frets_at(1, "  Eb.barre  x68886", "Eb.barre") == {"D.barre": "x57775"}


def test_voicings_with_open_strings_stay() -> None:
    """The teacher's own open A is moved to no other: only barres are replaced by open shapes.

    Written for the same shapes under another capo the lesson asks for another sounding key.
    """
    text = FLAT.replace("plays in Eb", "plays in A").replace("Eb |", "A |").replace("| Eb", "| A")
    text = text.replace("  Eb  x68886", "  A   x0222x").replace("Ab  466544", "D   xx0235")
    text = text.replace("Bb  x13331", "E   0221xx").replace("| Ab | Bb |", "| D | E |")
    choices = find_capos(read_through(loads(text)), parse_key("B")).choices
    (choice,) = (one for one in choices if one.capo == 2)
    shapes = {voicing.name: voicing.frets_text for voicing in choice.voicings}
    assert shapes == {"A": "x0222x", "D": "xx0235", "E": "0221xx"}


def test_a_small_barre_is_not_replaced_by_a_full_one() -> None:
    """F has no open shape (133211 is a full barre), so what was moved along stays."""
    text = FLAT.replace("Ab  466544", "Ab  xx6544").replace("plays in Eb", "plays in Eb\n  capo 3")
    (choice,) = (one for one in find_capos(read_through(loads(text))).choices if one.capo == 6)
    assert {"F": "xx3211"}.items() <= {one.name: one.frets_text for one in choice.voicings}.items()


def test_the_lesson_as_it_stands_is_one_of_the_choices() -> None:
    """Its key is written as the teacher writes it, though six sharps are as good as six flats."""
    text = FLAT.replace("plays in Eb", "plays in F#\n  capo 1\n  sounds in G")
    text = text.replace("Eb", "F#").replace("Ab", "B").replace("Bb", "C#")
    text = text.replace("x68886", "244322").replace("466544", "x24442").replace("x13331", "x46664")
    reading = read_through(loads(text))
    (now,) = (one for one in find_capos(reading).choices if one.now)
    assert (now.capo, str(now.plays), now.lesson) == (1, "F#", reading.lesson)
    assert now.remarks == ()


def test_a_minor_lesson_is_asked_for_a_minor_key() -> None:
    """`--sounds C` for a lesson in Am means Cm: three frets up, or shapes of Am at capo 3."""
    text = (
        FLAT.replace("plays in Eb", "plays in Am").replace("Eb", "Am").replace("x68886", "x02210")
    )
    text = text.replace("  Ab  466544\n  Bb  x13331\n", "").replace("| Ab | Bb |", "| Am |")
    choices = find_capos(read_through(loads(text)), parse_key("C")).choices
    assert {str(one.sounds) for one in choices} == {"Cm"}
    assert {one.capo: str(one.plays) for one in choices}[3] == "Am"


@pytest.mark.parametrize("text", [FLAT, FLAT.replace("plays in Eb", "plays in Eb\n  capo 2")])
def test_each_text_is_laid_out_once(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven other capos are seven other texts; the lesson itself has been read through before."""
    laid_out: list[str] = []

    def counted(lesson: Lesson) -> Reading:
        laid_out.append(dumps(lesson))
        return read_through(lesson)

    monkeypatch.setattr(module, "read_through", counted)
    lesson = loads(text)
    find_capos(read_through(lesson))
    assert len(laid_out) == len(set(laid_out)) == 7
    assert dumps(lesson) not in laid_out


def test_the_listing_of_places_and_the_choices_agree() -> None:
    """`sounds` and `suggest capo` name the same capos, keys and open shapes."""
    reading = read_through(loads(FLAT))
    choices = {one.capo: one for one in find_capos(reading).choices}
    for place in capo_places(reading.timeline):
        choice = choices[place.capo]
        assert (place.plays, place.sounds, place.now) == (choice.plays, choice.sounds, choice.now)
        assert (place.chords, place.without_open) == (choice.chords, choice.without_open)
        names = {str(one) for one in place.chords}
        assert {voicing.symbol for voicing in choice.voicings} == names
        if not place.now:
            closed = {one.symbol for one in choice.voicings if 0 not in one.frets}
            assert closed == {str(one) for one in place.without_open}


FLATS = """\
lesson "Five flats"
  plays in Db
  tempo 90

voicings
  Db  x46664
  Gb  244322
  Ab  466544

patterns
  plain  p , i , p , m

section tune  using plain
  Db | Gb | Ab | Db
"""


def test_high_capos_cost() -> None:
    """In D flat the shapes of A at 4 and of C at 1 come before those of G at 6 (common practice, no source)."""
    order = [one.capo for one in find_capos(read_through(loads(FLATS))).choices]
    assert max(order.index(4), order.index(1)) < order.index(6)


def test_frets_that_the_body_hides_cost() -> None:
    """A barre at 9 lies clear of the body without a capo, and over it on a classical guitar with one at 4."""
    text = FLATS.replace("  Db  x46664", "  Db.high  9-11-11-10-9-9").replace("Db |", "Db.high |")
    text = text.replace("| Db", "| Db.high").replace(
        "plays in Db", "plays in Db\n  instrument classical"
    )
    high = text.replace("  tempo", "  capo 4\n  tempo")
    (now,) = (one for one in find_capos(read_through(loads(text))).choices if one.now)
    (hidden,) = (one for one in find_capos(read_through(loads(high))).choices if one.now)
    assert now.hidden == ()
    assert hidden.hidden == ("Db.high",)
    assert hidden.points > now.points + 2
    assert find_capos(read_through(loads(high))).choices[0].hidden == ()


def test_only_open_shapes_and_no_higher_than_asked() -> None:
    """A and G have D flat's chords open; with the capo at 5 at most only A is left."""
    reading = read_through(loads(FLATS))
    found = find_capos(reading, open_only=True).choices
    assert {str(one.plays) for one in found} == {"A", "G"}
    assert [one.capo for one in find_capos(reading, open_only=True, highest=5).choices] == [4]
    assert find_capos(reading, open_only=True, highest=0).choices == ()
    assert str(find_capos(reading, open_only=True, highest=0).sounds) == "Db"


def test_its_shapes_are_those_of_transposing() -> None:
    """Whoever takes one of the choices gets the voicings that were shown."""
    lesson = loads(FLATS)
    for choice in find_capos(read_through(lesson)).choices:
        if not choice.now:
            moved = transpose(lesson, plays=str(choice.plays), capo=choice.capo).lesson
            assert [(one.name, one.frets) for one in moved.voicings] == [
                (one.name, one.frets) for one in choice.lesson.voicings
            ]


def test_a_line_that_is_lost_is_said_and_costs() -> None:
    """From Am over G to Em there is no D below the open string 6 (arithmetic)."""
    text = FLATS.replace("plays in Db", "plays in Am\n  capo 2")
    text = text.replace("Db  x46664", "Am  x02210").replace("Gb  244322", "Am/G  302210")
    text = text.replace("  Ab  466544\n", "").replace("Db | Gb | Ab | Db", "Am | Am/G")
    choices = {one.capo: one for one in find_capos(read_through(loads(text))).choices}
    (lost,) = (one for one in choices[7].remarks if isinstance(one, LineLost))
    assert (lost.before, lost.after) == ("Em", "Em/D")
    assert "from Em to Em/D" in as_text(find_capos(read_through(loads(text))))


def test_a_ukulele_has_its_own_shapes() -> None:
    """In D flat a capo at 1 gives C, F and G of the ukulele."""
    text = FLATS.replace("tempo 90", "tempo 90\n  tuning ukulele").replace("x46664", "1114")
    text = text.replace("244322", "3121").replace("466544", "5343")
    choices = {one.capo: one for one in find_capos(read_through(loads(text))).choices}
    shapes = {one.name: one.frets_text for one in choices[1].voicings}
    assert shapes == {"C": "0003", "F": "2010", "G": "0232"}


def test_a_lesson_without_a_key() -> None:
    """Without a key there is nothing to keep."""
    with pytest.raises(FretloomError, match="plays in"):
        find_capos(read_through(loads('lesson "No key"\n')))
