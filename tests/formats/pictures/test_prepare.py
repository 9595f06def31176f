"""What is changed for verovio, and that nothing else is."""

from __future__ import annotations

from xml.etree import ElementTree

from fretloom.formats.pictures.prepare import prepared

TAB = "<attributes><clef number='2'><sign>TAB</sign></clef></attributes>"


def changed(measure: str) -> ElementTree.Element:
    score = f"<score-partwise><part><measure>{TAB}{measure}</measure></part></score-partwise>"
    return ElementTree.fromstring(prepared(score.encode()).score).find("part/measure")


def note(fret: int, inside: str = "", staff: int = 2, more: str = "") -> str:
    return (
        f"<note{more}>{inside}<pitch/><duration>2</duration><voice>5</voice><staff>{staff}</staff>"
        f"<notations><tied type='stop'/><technical><fret>{fret}</fret></technical></notations></note>"
    )


HIDDEN = ' print-object="no"'


def test_time_goes_on_where_a_digit_is_hidden():
    measure = changed(note(0) + note(0, more=HIDDEN) + note(1))
    assert [one.tag for one in measure] == ["attributes", "note", "forward", "note"]
    assert [one.tag for one in measure[2]] == ["duration", "voice", "staff"]


def test_a_hidden_chord_is_time_once():
    measure = changed(note(0, more=HIDDEN) + note(1, "<chord/>", more=HIDDEN))
    assert [one.tag for one in measure] == ["attributes", "forward"]


def test_what_is_seen_of_a_chord_stays():
    """The first note that is seen becomes the first of the chord."""
    measure = changed(note(0, more=HIDDEN) + note(1, "<chord/>") + note(2, "<chord/>"))
    assert [one.findtext(".//fret") for one in measure.iter("note")] == ["1", "2"]
    assert [one.find("chord") is not None for one in measure.iter("note")] == [False, True]


def test_ties_stay():
    """Tablature under notation has none in the file; alone it needs them."""
    measure = changed(note(0, staff=1) + note(0))
    assert [len(one.findall(".//tied")) for one in measure.iter("note")] == [1, 1]


def degree(number: int, alter: int, word: str, more: str = "", plain: str = "") -> str:
    return (
        f"<degree{more}><degree-value>{number}</degree-value><degree-alter{plain}>{alter}</degree-alter>"
        f"<degree-type text='{word}'>add</degree-type></degree>"
    )


def suffix(text: str, degrees: str, brackets: str = "no") -> str:
    """Return what stands behind the root when degrees have become part of the kind's text."""
    kind = f"<kind text='{text}' parentheses-degrees='{brackets}'>dominant</kind>"
    measure = changed(f"<harmony>{kind}{degrees}</harmony>")
    assert measure.find("harmony/degree") is None
    return measure.find("harmony/kind").get("text")


def test_degrees_are_part_of_the_suffix():
    """As MusicXML 4.0 has them printed: after the kind's text, in brackets where it says so, hidden ones not."""
    assert suffix("", degree(9, 0, "add")) == "add9"
    assert suffix("7", degree(9, -1, "")) == "7♭9"
    assert suffix("7", degree(9, -1, "", plain=" plus-minus='yes'")) == "7-9"
    assert suffix("7", degree(9, -1, "") + degree(11, 1, ""), "yes") == "7(♭9♯11)"
    assert suffix("7", degree(4, 0, "sus") + degree(3, 0, "no", HIDDEN)) == "7sus4"
    assert suffix("7alt", degree(5, -1, "", HIDDEN)) == "7alt"


def test_degrees_stay_where_the_kind_has_no_text():
    """Then they are all that says them."""
    measure = changed("<harmony><kind>major</kind><degree/></harmony>")
    assert measure.find("harmony/degree") is not None


def digits_beside(measure: str) -> dict[str, tuple[tuple[str, ...], list[str]]]:
    """Return grace frets and words of bends by the fret of their note, which are no longer in the score."""
    score = f"<score-partwise><part><measure>{TAB}{measure}</measure></part></score-partwise>"
    found = prepared(score.encode())
    notes = {one.get("id"): one for one in ElementTree.fromstring(found.score).iter("note")}
    return {
        notes[name].findtext(".//fret"): (one.graces, [bend.words for bend in one.bends])
        for name, one in found.beside.items()
    }


SLUR = "<slur type='{}' number='2'/>"


def grace(fret: int, slur: str = "start") -> str:
    return note(fret, "<grace/>").replace("<tied type='stop'/>", SLUR.format(slur))


def test_grace_notes_of_tablature_are_drawn_without_verovio():
    """They leave the score with their slur, and stand beside the note that they lead to."""
    main = note(3).replace(
        "<tied type='stop'/>", SLUR.format("stop") + "<slur type='start' number='4'/>"
    )
    assert digits_beside(grace(1) + grace(2) + main) == {"3": (("1", "2"), [])}
    measure = changed(grace(1) + main)
    assert [one.findtext(".//fret") for one in measure.iter("note")] == ["3"]
    assert [one.get("number") for one in measure.iter("slur")] == ["4"]


def test_grace_notes_with_no_note_to_lead_to_stay():
    assert digits_beside(note(3) + grace(1)) == {}
    assert len(list(changed(note(3) + grace(1)).iter("note"))) == 2


def test_grace_notes_of_notation_stay():
    assert len(list(changed(note(1, "<grace/>", staff=1) + note(3, staff=1)).iter("note"))) == 2


def test_bends_are_written_in_whole_tones():
    """MusicXML 4.0 counts `bend-alter` in semitones; teachers say half, full, one and a half (common practice, no source)."""
    for semitones, words in (
        ("0.5", "¼"),
        ("1", "½"),
        ("1.5", "¾"),
        ("2", "full"),
        ("3", "1½"),
        ("4", "2"),
    ):
        bend = f"<bend><bend-alter>{semitones}</bend-alter></bend>"
        measure = note(7).replace("<technical>", f"<technical>{bend}")
        assert digits_beside(measure) == {"7": ((), [words])}


def test_what_stands_around_the_music_is_taken_from_the_credits():
    """In their order; the rights apart, and what is one thing in one piece."""
    words = "".join(
        f"<credit>{kind}<credit-words>{text}</credit-words></credit>"
        for kind, text in (
            ("<credit-type>title</credit-type>", "Two"),
            ("<credit-type>title</credit-type>", "Cups"),
            ("", "Capo 3"),
            ("", "Swing 2:1"),
            ("<credit-type>rights</credit-type>", "CC0,"),
            ("<credit-type>rights</credit-type>", "for all"),
        )
    )
    found = prepared(f"<score-partwise>{words}</score-partwise>".encode())
    assert (found.head, found.foot) == (("Two Cups", "Capo 3", "Swing 2:1"), "CC0, for all")


def test_hyphens_are_part_of_their_syllables():
    """A word in the middle of which another voice sings would else be drawn with hyphens for bars."""
    lyrics = "".join(
        f"<lyric><syllabic>{kind}</syllabic><text>{text}</text></lyric>"
        for kind, text in (("begin", "no"), ("middle", "bo"), ("end", "dy"), ("single", "asks"))
    )
    lyric = list(changed(f"<note>{lyrics}</note>").iter("lyric"))
    assert [one.findtext("text") for one in lyric] == ["no-", "bo-", "dy", "asks"]
    assert {one.findtext("syllabic") for one in lyric} == {"single", "end"}


def test_verses_have_their_number_where_they_begin():
    """Only where several stand below one another, and once in a row of bars."""

    def sung(*verses: str) -> str:
        lyrics = "".join(f"<lyric number='{one}'><text>la</text></lyric>" for one in verses)
        return f"<note>{lyrics}</note>"

    bars = [sung("1", "2"), sung("1", "2"), "<note/>", sung("1", "2"), sung("1"), sung("1", "2")]
    measures = "".join(f"<measure>{one}</measure>" for one in bars)
    score = f"<score-partwise><part>{measures}</part></score-partwise>"
    tree = ElementTree.fromstring(prepared(score.encode()).score)
    texts = [[one.text for one in bar.iter("text")] for bar in tree.iter("measure")]
    assert texts == [["1. la", "2. la"], ["la", "la"], [], ["la", "la"], ["la"], ["la", "2. la"]]


def test_let_ring_stands_under_the_notation():
    """Over it verovio writes it across the chord symbols; over tablature alone there is nothing else to stand under."""
    words = '<direction placement="above"><direction-type><words>let ring</words></direction-type></direction>'
    assert changed(words).find("direction").get("placement") == "below"
    only = TAB.replace(" number='2'", "")
    alone = f"<score-partwise><part><measure>{only}{words}</measure></part></score-partwise>"
    direction = ElementTree.fromstring(prepared(alone.encode()).score).find(".//direction")
    assert direction.get("placement") == "above"


def test_long_words_take_several_lines():
    """verovio breaks them where there is a line break, and nowhere else."""
    direction = "<direction><direction-type><words>{}</words></direction-type></direction>"
    words = "when the kilns are warm again on Friday and the whole of the lane comes round to look"
    measure = changed(direction.format(words) + direction.format("slowly"))
    first, second = (one.text for one in measure.iter("words"))
    assert "\n" in first and first.replace("\n", " ") == words
    assert second == "slowly"
