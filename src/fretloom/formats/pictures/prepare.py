"""Changes a MusicXML file where verovio would draw less than it says, or something else.

The file itself stays as it is: what is changed here is for verovio (6.4) alone, and each change says why.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from fretloom.formats.musicxml.front.lettering import ems, fitted
from fretloom.formats.pictures.drawing.beside import BendArrow, Beside
from fretloom.values import frozen

#: Words among the music: how many ems a line has, and how many lines they take at most.
_LINE, _MOST_LINES = 40.0, 99
#: Their size in points, of no account here.
_SIZE = 10


@frozen
class Prepared:
    """A score as verovio is to read it, and what is drawn without it.

    Args:
        score: MusicXML. head: what stands over it, the title first. foot: the rights.
        beside: what stands beside digits, by the `id` of their notes.
    """

    score: str
    head: tuple[str, ...]
    foot: str
    beside: Mapping[str, Beside]


def prepared(score: bytes) -> Prepared:
    """Return a score as verovio is to read it."""
    tree = ElementTree.fromstring(score)
    credits = _credits(tree)
    head = tuple(words for kind, words in credits if kind != "rights")
    foot = next((words for kind, words in credits if kind == "rights"), "")
    for harmony in tree.iter("harmony"):
        _whole_suffix(harmony)
    beside: dict[str, Beside] = {}
    for part in tree.iter("part"):
        tabs, sung = _tab_staves(part), set[str]()
        for measure in part.iter("measure"):
            if "1" not in tabs and None not in tabs:
                _words_below(measure)
            _long_words(measure)
            for note in measure.findall("note"):
                _letters_of_plucks(note)
                _hyphens(note)
            sung = _verse_numbers(measure, sung)
            _gaps_of_ties(measure, tabs)
            for digit, found in _beside_digits(measure, tabs):
                name = f"digit-{len(beside)}"
                digit.set("id", name)
                beside[name] = found
    return Prepared(ElementTree.tostring(tree, encoding="unicode"), head, foot, beside)


def _credits(tree: Element) -> list[tuple[str | None, str]]:
    """Return what stands around the music, with its kind; the lines of a title, of a name are joined again."""
    found: list[tuple[str | None, str]] = []
    for credit in tree.iter("credit"):
        kind, words = credit.findtext("credit-type"), credit.findtext("credit-words", "")
        if kind is not None and found and found[-1][0] == kind:
            words = f"{found.pop()[1]} {words}"
        found.append((kind, words))
    return found


def _whole_suffix(harmony: Element) -> None:
    """Degrees become part of the kind's text; verovio puts them in brackets, and draws hidden ones too."""
    kind = harmony.find("kind")
    if kind is None or kind.get("text") is None:
        return
    printed = ""
    for degree in harmony.findall("degree"):
        harmony.remove(degree)
        if degree.get("print-object") != "no":
            printed += _printed_degree(degree)
    if kind.get("parentheses-degrees") == "yes":
        printed = f"({printed})"
    kind.set("text", kind.get("text", "") + printed)


def _printed_degree(degree: Element) -> str:
    kind, alter = degree.find("degree-type"), degree.find("degree-alter")
    word = "" if kind is None else kind.get("text", "")
    plain = alter is not None and alter.get("plus-minus") == "yes"
    signs = {"-1": "-", "1": "+"} if plain else {"-2": "♭♭", "-1": "♭", "1": "♯"}
    sign = "" if alter is None else signs.get(alter.text or "", "")
    return f"{word}{sign}{degree.findtext('degree-value')}"


def _letters_of_plucks(note: Element) -> None:
    """Letters of the plucking hand are not drawn, but whatever stands as a fingering is."""
    for technical in note.iterfind("notations/technical"):
        for pluck in technical.findall("pluck"):
            pluck.tag = "fingering"


def _hyphens(note: Element) -> None:
    """A hyphen goes with its syllable; verovio's go on to the next one in the same voice, which may be bars away."""
    for lyric in note.findall("lyric"):
        syllabic, text = lyric.find("syllabic"), lyric.find("text")
        if syllabic is not None and text is not None and syllabic.text in ("begin", "middle"):
            syllabic.text = "single"
            text.text = f"{text.text}-"


def _verse_numbers(measure: Element, before: set[str]) -> set[str]:
    """Put its number before a verse where it begins below another; verovio prints none.

    `before` are the verses of the measure before. Returned are those of this one, or `before` if
    nothing is sung in it.
    """
    first: dict[str, Element] = {}
    for lyric in measure.iterfind("note/lyric"):
        text = lyric.find("text")
        if text is not None:
            first.setdefault(lyric.get("number", "1"), text)
    if len(first) > 1:
        for number in first.keys() - before:
            first[number].text = f"{number}. {first[number].text}"
    return set(first) if first else before


def _words_below(measure: Element) -> None:
    """Words that hold for all that follows go between the staves; above, verovio writes them over the chords."""
    for direction in measure.findall("direction"):
        if direction.findtext("direction-type/words") == "let ring":
            direction.set("placement", "below")


def _long_words(measure: Element) -> None:
    """Words that are too long for a line take several; verovio has all of them on one."""
    for words in measure.iterfind("direction/direction-type/words"):
        if words.text and ems(words.text) > _LINE:
            words.text = "\n".join(fitted(words.text, ((_SIZE, _LINE),), _MOST_LINES).lines)


def _tab_staves(part: Element) -> set[str | None]:
    """Return the numbers of the staves that are tablature; None if the only staff is."""
    return {
        clef.get("number")
        for clef in part.iterfind("measure/attributes/clef")
        if clef.findtext("sign") == "TAB"
    }


def _gaps_of_ties(measure: Element, tabs: set[str | None]) -> None:
    """Hidden digits leave a gap in the line of their string: time goes on there instead."""
    for chord in _chords(measure):
        if chord[0].findtext("staff") not in tabs:
            continue
        hidden = [note for note in chord if note.get("print-object") == "no"]
        if not hidden or chord[0].find("rest") is not None:
            continue
        if len(hidden) == len(chord):
            _become_time(chord[0])
            hidden = chord[1:]
        elif chord[0] in hidden:
            first = next(note for note in chord if note not in hidden)
            first.remove(next(first.iter("chord")))
        for note in hidden:
            measure.remove(note)


def _beside_digits(measure: Element, tabs: set[str | None]) -> Iterator[tuple[Element, Beside]]:
    """Take grace notes and bends out of tablature, and yield the notes that they belong to."""
    graces: list[Element] = []
    for chord in _chords(measure):
        if chord[0].findtext("staff") not in tabs:
            continue
        if chord[0].find("grace") is not None:
            graces += chord
            continue
        for note in chord:
            mine = [grace for grace in graces if _string(grace) == _string(note)]
            bends = tuple(map(_bend, note.iterfind("notations/technical/bend")))
            if bends:
                _words_of_bend(measure, chord[0], bends[0].words)
            if mine or bends:
                _without(measure, mine, note)
                frets = tuple(one.findtext("notations/technical/fret", "") for one in mine)
                yield note, Beside(frets, bends)
        graces = []


def _string(note: Element) -> tuple[str | None, str | None]:
    return note.findtext("voice"), note.findtext("notations/technical/string")


def _bend(bend: Element) -> BendArrow:
    return BendArrow(Fraction(bend.findtext("bend-alter", "0")), bend.find("pre-bend") is not None)


def _words_of_bend(measure: Element, first: Element, words: str) -> None:
    """Put the words of a bend over its chord, so that verovio leaves room for them."""
    direction = Element("direction", {"placement": "above"})
    SubElement(SubElement(direction, "direction-type"), "words").text = words
    staff = first.findtext("staff")
    if staff is not None:
        SubElement(direction, "staff").text = staff
    measure.insert(list(measure).index(first), direction)


def _without(measure: Element, graces: list[Element], main: Element) -> None:
    """Take grace notes out, and the ends of the slurs that began on them."""
    slurs = {
        one.get("number")
        for grace in graces
        for one in grace.iter("slur")
        if one.get("type") == "start"
    }
    for grace in graces:
        measure.remove(grace)
    for notations in main.findall("notations"):
        for slur in notations.findall("slur"):
            if slur.get("type") == "stop" and slur.get("number") in slurs:
                notations.remove(slur)


def _chords(measure: Element) -> Iterator[list[Element]]:
    """Yield the notes that are struck together, a note alone too."""
    chord: list[Element] = []
    for note in measure.findall("note"):
        if note.find("chord") is None and chord:
            yield chord
            chord = []
        chord.append(note)
    if chord:
        yield chord


def _become_time(note: Element) -> None:
    keep = [child for child in note if child.tag in ("duration", "voice", "staff")]
    note.tag = "forward"
    note.attrib.clear()
    note[:] = keep
