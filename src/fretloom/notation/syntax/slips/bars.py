"""Why a line of bars cannot be read: signs and orders of other ways to write chords down."""

from __future__ import annotations

import re

from fretloom.notation.syntax.slips.slip import Slip, instead

_CHORD = r"[A-H][^\s|:{}\[\]()<>,;!/]*(?:/[A-H][#b]?)?"
_BEGIN, _END = r"(?<![^\s|])", r"(?![^\s|])"
_LONGEST = 400
#: Chords with one other sign between them.
_SEPARATOR = r"(?:\s*(?:[;,!¦‖]|\|\|)\s*|\s+[/\\l1I–—-]+\s+|\s+)"
_ROW = re.compile(rf"{_CHORD}(?:\s*:\s*\d)?(?:{_SEPARATOR}{_CHORD}(?::\d)?)+\s*[;,!/|]*")
_BETWEEN = re.compile(r"\s*(?:[;,!¦‖]|\|\||(?<=\s)[/\\l1I–—-]+(?=\s))\s*")
_STROKES = re.compile(rf"{_CHORD}(?:\s+/)+{_END}")
_DOUBLE = re.compile(r"\|\s*\|+\]?|\|\]|\[\|")
_NUMBERED = re.compile(rf"(?:(?<=\|)|^)\s*(\(?\d{{1,3}}[.):]?)\s+(?={_CHORD})")
_BAR_WORD = re.compile(
    r"(?:bars?|measures?|takt|mesure)\s+\d{1,3}(?:\s*[-–]\s*\d{1,3})?\s*:?\s*", re.I
)
_ROUND_CHORD = re.compile(rf"{_BEGIN}[\[(<]({_CHORD}|N\.?C\.?)[\])>]{_END}")
_ANY_ROUND = re.compile(r"[\[(<]|[\])>]")
_QUOTED_CHORD = re.compile(rf'{_BEGIN}"({_CHORD})"{_END}')
_TIMES_ROUND = re.compile(r"\(\s*([xX×]\s*\d{1,3}|\d{1,3}\s*[xX×])\s*\)")
_SHARE = re.compile(rf"{_BEGIN}({_CHORD})\s+(\d{{1,2}}){_END}(?!\s+times)")
_TAB = re.compile(r"^\s*[A-Ha-h]?[#b]?\s*\|?[-–\d hpsx/\\~|]*-{2,}[-–\d hpsx/\\~|]*$")
_BEATS_ROUND = re.compile(r"(\s)[\[(]([^\[\](){}|]*,[^\[\](){}|]*)[\])]")
_BEATS_BARE = re.compile(
    r"^(\"[^\"]*\"\s+)?(\S+)\s+((?:(?:[pimac][\d@hps]*|\+|-)\s*)+(?:,\s*(?:(?:[pimac][\d@hps]*|\+|-)\s*)+)+)$"
)
_PATTERN_ROUND = re.compile(
    r"(?<=\s)\(([a-z][\w-]*)\)|(?<=\s)(?:pattern|with)\s+([a-z][\w-]{2,})(?!\S)"
)
_COUNT = re.compile(r"(?<=\s)(?:(?:on|at)\s+(?:the\s+)?(?:beat|count)|at)\s+(?=\d)")
_AND = re.compile(r"(?<=\bon\s\d)\s+(?:and|und|et|\+|&)(?![^\s|])")
_DAMPED = re.compile(r"(?<=\s)(?:damp|mute|choke|silence|silent)(?=\s+on\s+\d)")
_COUNTED = (
    (_COUNT, "on ", "a count in a bar stands behind `on`"),
    (_AND, "&", "a count between two beats ends with &"),
    (_DAMPED, "stop", "strings are damped by `stop`"),
)
_ENDING = re.compile(
    r"^(?:\[?(?P<a>[12345])(?:\.|st|nd|rd|th)?\s*(?:ending|time|volta)?\s*[.:\]]?|(?P<b>first|second|third)\s+(?:ending|time)\s*:?"
    r"|ending(?P<c>\d)\s*:?|ending\s+(?P<d>one|two|three|first|second|third)\s*:?)\s+(?=[A-H\"])",
    re.I,
)
_ENDING_WORD = re.compile(r"ending|time|volta|\[|st|nd|rd|first|second|third", re.I)
_ORDER = {"one": "1", "two": "2", "three": "3", "first": "1", "second": "2", "third": "3"}
_HEADING = {
    "time": "meter", "signature": "meter", "metre": "meter", "bpm": "tempo", "speed": "tempo",
}  # fmt: skip
_ONLY_HEADING = (
    "capo",
    "key",
    "tuning",
    "swing",
    "instrument",
    "plays",
    "sounds",
    "level",
    "hand",
    "scale",
)
_PICKUP = re.compile(r"^(?:upbeat|pick-up|pick up|anacrusis|auftakt|levée|anacrouse)\b", re.I)


def of_a_line(text: str, blank: str) -> Slip | None:
    """Return why a whole line of a section cannot be read, if that is known."""
    for look in (_heading, _pickup, _ending, _numbers, _rows, _strokes, _doubled):
        if (found := look(text, blank)) is not None:
            return found
    return None


def of_a_bar(text: str, blank: str) -> Slip | None:
    """Return what in the bars of a line cannot be read, if that is known."""
    for look in (_times, _rounds, _quoted, _shares, _counts, _beats, _patterns):
        if (found := look(text, blank)) is not None:
            return found
    return None


def _whole(text: str, meant: str, message: str, hint: str = "") -> Slip:
    return instead(0, len(text), message, meant, hint)


def lines_of_tab(text: str, blank: str) -> Slip | None:
    """Return the slip if a line is one of tab."""
    if len(blank) > _LONGEST or "--" not in blank or not _TAB.match(blank):
        return None
    if "|" not in blank and "---" not in blank:
        return None
    message = "lines of tab are not read: a lesson names the voicing of each bar and a pattern for the picking hand"
    hint = "write the bar as E { p, p i, p m, p i }; a fret beside the voicing is written m2@3 (string 2, fret 3)"
    return Slip("not-understood", 0, len(text), message, hint)


def _heading(text: str, blank: str) -> Slip | None:
    word = blank.split(maxsplit=1)[0].rstrip(":=").lower() if blank.split() else ""
    end = len(blank.split(maxsplit=1)[0]) if word else 0
    if word in _HEADING and re.search(r"\d", blank):
        meant = _HEADING[word]
        return instead(0, end, f"`{text[:end]}` is called {meant} in a lesson", meant)
    if word in _ONLY_HEADING and "|" not in blank:
        message = f"`{word}` is a line of the heading, and holds for the whole lesson"
        return Slip("not-understood", 0, end, message, "put the line under `lesson`, at the top")
    return None


def _pickup(text: str, blank: str) -> Slip | None:
    found = _PICKUP.match(blank)
    if found is None:
        return None
    return instead(0, found.end(), f"`{found[0]}` is called pickup in a lesson", "pickup")


def _ending(text: str, blank: str) -> Slip | None:
    found = _ENDING.match(blank)
    if found is None or not _ENDING_WORD.search(found[0]):
        return None
    said = found["a"] or found["c"] or (found["b"] or found["d"]).lower()
    meant = f"ending {_ORDER.get(said, said)}: "
    message = "an ending begins with the word, the pass it is for and a colon"
    return instead(0, found.end(), message, meant, f"write {meant}{text[found.end() :]}")


def _numbers(text: str, blank: str) -> Slip | None:
    word = _BAR_WORD.match(blank)
    if word is not None:
        message = "bars have no numbers: they are counted as they stand"
        return _whole(text, text[word.end() :], message)
    found = list(_NUMBERED.finditer(blank))
    bars = blank.strip(" |").count("|") + 1
    if not found or (len(found) < bars and not (bars > 1 and found[0][1][-1:] in ".):")):
        return None
    message = "bars have no numbers: they are counted as they stand"
    meant = text
    for one in reversed(found):
        meant = meant[: one.start(1)] + meant[one.end() :]
    return _whole(text, meant, message)


def _strokes(text: str, blank: str) -> Slip | None:
    found = _STROKES.search(blank)
    if found is None:
        return None
    bars = [re.split(r"\s+", bar.strip()) for bar in text.strip(" |").split("|")]
    meant = " | ".join(map(_shared, bars))
    message = (
        "strokes for beats are not written: a voicing fills its bar, or says how many beats it has"
    )
    return _whole(text, meant, message)


def _shared(words: list[str]) -> str:
    """Return a bar in which strokes have become shares: `E:2 A:2` for `E / A /`."""
    chords: list[tuple[str, int]] = []
    for word in words:
        if word == "/" and chords:
            chords[-1] = (chords[-1][0], chords[-1][1] + 1)
        else:
            chords.append((word, 1))
    if len(chords) == 1 or len({beats for _, beats in chords}) == 1:
        return " ".join(chord for chord, _ in chords)
    return " ".join(f"{chord}:{beats}" for chord, beats in chords)


def _rows(text: str, blank: str) -> Slip | None:
    if re.search(r"(?<!\|)\|(?!\|)", blank) or not _ROW.fullmatch(blank.strip()):
        return None
    signs = {one[0].strip() for one in _BETWEEN.finditer(blank)}
    if len(signs) != 1:
        return None
    (sign,) = signs
    meant = _BETWEEN.sub(" | ", text.strip(" ;,!/")).strip(" |")
    message = f"bars are separated by |, not by {'dashes' if sign in '-–—' else sign}"
    return _whole(text, meant, message)


def _doubled(text: str, blank: str) -> Slip | None:
    found = list(_DOUBLE.finditer(blank))
    if not found or not re.search(r"\|\||\|\]|\[\|", blank):
        return None
    meant = text
    for one in reversed(found):
        meant = f"{meant[: one.start()]}|{meant[one.end() :]}"
    message = "a double bar line is written as a single one: sections begin and end by their names"
    return _whole(text, meant.strip(" |"), message)


def _times(text: str, blank: str) -> Slip | None:
    found = _TIMES_ROUND.search(blank)
    if found is None:
        return None
    number = re.sub(r"\D", "", found[1])
    return instead(*found.span(), "how often a bar is played stands without brackets", f"x{number}")


def _rounds(text: str, blank: str) -> Slip | None:
    found = list(_ROUND_CHORD.finditer(blank))
    if not found:
        return None
    meant = text
    for one in reversed(found):
        meant = f"{meant[: one.start()]}{one[1]}{meant[one.end() :]}"
    start, end = found[0].start(), found[-1].end()
    more = len(text) - len(meant)
    return instead(start, end, "voicings are named without brackets", meant[start : end - more])


def _quoted(text: str, blank: str) -> Slip | None:
    found = list(_QUOTED_CHORD.finditer(text))
    bars = len(text.strip(" |").split("|"))
    if not found or (len(found) < bars and not re.search(r'(?:^|\|)\s*"[^"]*"\s*(?:\||$)', text)):
        return None
    meant = _QUOTED_CHORD.sub(r"\1", text)
    return _whole(
        text, meant, "voicings are named without quotes: a text in quotes is for the student"
    )


def _shares(text: str, blank: str) -> Slip | None:
    found = list(_SHARE.finditer(blank))
    if not found:
        return None
    start, end = found[0].start(), found[-1].end()
    meant = re.sub(_SHARE, r"\1:\2", text[start:end])
    return instead(start, end, "how many beats a voicing has stands behind a colon", meant)


def _counts(text: str, blank: str) -> Slip | None:
    for pattern, meant, message in _COUNTED:
        found = pattern.search(blank)
        if found is not None:
            after = blank[found.end() :].split()[:1]
            hint = f"write {meant}{' '.join(after)}" if meant.endswith(" ") else f"write {meant}"
            return instead(*found.span(), message, meant, hint)
    return None


def _beats(text: str, blank: str) -> Slip | None:
    found = _BEATS_ROUND.search(blank)
    if found is not None:
        meant = f"{{ {found[2].strip()} }}"
        return instead(found.start() + 1, found.end(), "the beats of a bar stand in { }", meant)
    start = 0
    for bar in blank.split("|"):
        bare = _BEATS_BARE.match(bar.strip())
        if bare is not None:
            begin = start + len(bar) - len(bar.lstrip()) + bare.start(3)
            beats = bare[3].rstrip()
            message = "the beats of a bar stand in { }"
            return instead(begin, begin + len(beats), message, f"{{ {beats} }}")
        start += len(bar) + 1
    return None


def _patterns(text: str, blank: str) -> Slip | None:
    found = _PATTERN_ROUND.search(blank)
    if found is None or "{" in blank:
        return None
    name = found[1] or found[2]
    if name.endswith("slap"):
        return None  # It is added with `with`, on a count.
    return instead(*found.span(), "the pattern of a bar is named behind `using`", f"using {name}")
