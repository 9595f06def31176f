"""Ways to mend words and signs: misspelt, missing, doubled, too many, or those of another habit."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax import synonyms
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.mending.ways import Case, Way, each, keywords, put
from fretloom.notation.syntax.parsing.tables import tables
from fretloom.text import only_near

#: Words that would make something new of what follows, so they are not put in.
_NEVER_ADDED = {
    "rest", "same", "end", "early", "release", "stop", "with", "without", "repeat", "ending",
    "pickup", "last", "beat", "beats", "first",
}  # fmt: skip
_PICKING = {
    "thumb": "p", "index": "i", "middle": "m", "ring": "a", "little": "c", "pinky": "c",
}  # fmt: skip
_SHOWN = {"chord": "voicing", "shape": "voicing", "rhythm": "pattern", "part": "section"}
_CHANGES = {"remove": "lift", "raise": "lift", "damp": "mute", "put": "add"}
_FILLER = re.compile(
    r"\s+(?:at|the|fret|bpm|is|=)(?!\S)|(?<=\d)\s*bpm(?!\S)|(?<=\w)\s*[:=](?=\s|$)", re.I
)
_SHARP = re.compile(r"(?<=\b[A-G])[ -]?(sharp|flat)(?!\w)", re.I)
_MODE = re.compile(r"(?<=\b[A-G])[ -]?(?=major|minor)|(?<=\b[A-G][#b])[ -]?(?=major|minor)", re.I)
_KEY = re.compile(
    r"(?<=\bin)\s+([A-Ga-g])\s?([#b♯♭]?|\s?sharp|\s?flat)[ -]?(major|minor)?\s*$", re.I
)
_DASHED = re.compile(r"[^\W\d_][^\s|]*(?:\s+(?:[-–—]\s+)?[^\W\d_][^\s|]*)+")
_DASH = re.compile(r"(?<=\s)[-–—](?=\s)")
_SEMICOLON = re.compile(r"\s*;")
_DOUBLED = re.compile(r"(\+|:|@|,)\s*\1|(?<!\S)([a-z]{2,}|\d[\d/.:]*)\s+\2(?!\S)")
#: What only the opening line of a section says.
_SECTION = re.compile(r"\b(?:\d+ bars?|using [^\W\d_])")
_BLOCKS = OPENERS
#: Lines in which a colon stands before the bars.
_WITH_COLON: dict[str, tuple[str, ...]] = {
    "lesson": ("swing ",),
    "section": ("pickup ", "ending ", "last ", "words "),
    "form": ("but ",),
}
#: How many words before a fault may be what is misspelt.
_MOST_BACK = 3
_LITERAL = re.compile(r"[a-z]+")


def _keywords(case: Case) -> list[str]:
    """Return the words that could have stood where the parser stopped."""
    known = tables().terminals
    found = (known[name][0] for name in sorted(case.wanted) if name in known and not known[name][1])
    return [word for word in found if _LITERAL.fullmatch(word)]


def misspelt(case: Case) -> Iterator[Way]:
    """Write the word that could stand there and looks like the one that does, or one a little before it."""
    word = re.match(r"[^\W\d_]+", case.statement[case.at :])
    wanted = _keywords(case)
    if word is not None and (near := only_near(word[0], wanted)):
        end = case.at + word.end()
        if case.fits(near, case.at, end):
            yield put(case, case.at, end, near)
    for before in list(re.finditer(r"[^\W\d_]+(?=[\s:]|$)", case.bare[: case.at]))[-_MOST_BACK:]:
        near = only_near(before[0], keywords())
        if near and case.fits(near, before.start(), before.end()):
            yield put(case, before.start(), before.end(), near)


def habits(case: Case) -> Iterator[Way]:
    """Write the word of the notation for one that teachers use elsewhere."""
    word = case.word.lower().rstrip(":")
    meant = ""
    if case.block == "picking":
        meant = _PICKING.get(word, "")
    elif case.block == "step":
        meant = _SHOWN.get(word, "")
    elif case.block == "voicings":
        meant = _CHANGES.get(word, "")
    elif case.block == "section":
        meant = synonyms.BARS.get(word, "")
    elif case.rule == "unknown-word" and case.block == "lesson":
        near = synonyms.FIELDS.get(word, "") or only_near(word, FIELDS)
        meant = FIELDS[near].word if near else ""
        if " " in meant and case.statement[case.end :].split()[:1] == meant.split()[1:]:
            meant = meant.split()[0]
    if meant and _LITERAL.fullmatch(meant.replace(" ", "")):
        yield put(case, case.start, case.end, meant)


def as_said(case: Case) -> Iterator[Way]:
    """Write what the hint says."""
    if case.meant:
        yield put(case, case.start, case.end, case.meant)


def cases(case: Case) -> Iterator[Way]:
    """Write a word in small letters."""
    word = case.word
    if (
        case.alone
        and word.lower() != word
        and (case.block not in ("section", "form") or _known(case, word.lower()))
        and case.rule not in ("bad-frets", "unreadable-chord-name")
    ):
        yield put(case, case.start, case.end, word.lower())


def _known(case: Case, word: str) -> bool:
    return word in keywords() or word in case.elsewhere


def openers(case: Case) -> Iterator[Way]:
    """Add the word that should begin the line."""
    if case.block == "form" and not case.statement.startswith("but"):
        yield put(case, 0, 0, "but ", "write but before it")


def sections(case: Case) -> Iterator[Way]:
    """Add the word section before a name such as verse."""
    word = case.first.rstrip(":")
    part = synonyms.BLOCKS.get(word.lower()) == "section" and word.lower() != "part"
    if case.rule != "unknown-word" or case.block:
        return
    if re.match(r"section[^\W\d_]", word):
        yield put(case, 7, 7, " ", f"write section {word[7:]}")
    elif part or (_SECTION.search(case.bare) and word.isalpha() and not only_near(word, _BLOCKS)):
        start = len(word)
        colon = case.statement.startswith(":", start)
        gone = ((start, start + 1, ""),) if colon else ()
        name = ((0, start, word.lower()),) if word != word.lower() else ()
        title = f"write section {word.lower()}"
        yield Way(title, ((0, 0, "section "), *name, *gone))


def blocks(case: Case) -> Iterator[Way]:
    """Write the word that opens the block that is meant."""
    if case.rule == "unknown-word" and not case.block:
        word = case.first
        name = word.rstrip(":").lower()
        meant = synonyms.BLOCKS.get(name) or only_near(name, _BLOCKS)
        if meant:
            yield put(case, 0, len(word), meant)


def missing(case: Case) -> Iterator[Way]:
    """Add the word or the colon that should stand where the parser stopped."""
    colon = "COLON" in case.wanted and ":" not in case.bare
    if colon and case.statement.startswith(_WITH_COLON.get(case.block, ())):
        end = len(case.statement[: case.at].rstrip())
        yield put(case, end, end, ":", f"write a colon after {_last(case.statement[:end])}")
        if case.statement[case.at : case.at + 1].isupper():
            return  # A voicing: bars follow, and not the name of a pattern.
    for word in _keywords(case):
        what = case.statement[case.at :].split(maxsplit=1)
        another = bool(what) and what[0] in keywords()
        if word not in _NEVER_ADDED and not another and case.fits(word, case.at, case.at):
            before = len(case.statement[: case.at].rstrip())
            if what and what[0][0] not in ":#":
                title = f"write {word} before {what[0]}"
                yield put(case, case.at, case.at, f"{word} ", title)
            elif what and what[0][0] == ":":
                title = f"write {word} after {_last(case.statement[:before])}"
                yield put(case, before, before, f" {word}", title)


def _last(text: str) -> str:
    return text.rsplit(maxsplit=1)[-1] if text.split() else "it"


def fillers(case: Case) -> Iterator[Way]:
    """Leave out words and signs that say nothing."""
    said = case.block != "voicings" or case.statement.split(":")[0].strip() in case.elsewhere
    if case.block == "patterns":
        return
    if case.block == "lesson" or (case.word.strip() in (":", "=") and said):
        found = list(_FILLER.finditer(case.bare))
        pieces = tuple((one.start(), one.end(), "") for one in found)
        if pieces:
            gone = " and ".join(one[0].strip() for one in found)
            yield Way(f"remove {gone}", pieces)


def keys(case: Case) -> Iterator[Way]:
    """Write a key as the notation does: F#m, Bb major."""
    for match in _KEY.finditer(case.statement) if case.block == "lesson" else ():
        tonic, sign, mode = match[1], match[2].strip().lower(), (match[3] or "").lower()
        sign = {"sharp": "#", "flat": "b", "♯": "#", "♭": "b"}.get(sign, sign)
        if tonic.isupper() or mode:
            key = f"{tonic.upper()}{sign}{' ' if mode else ''}{mode}"
            yield put(case, match.start(), match.end(), f" {key}")


def bar_lines(case: Case) -> Iterator[Way]:
    """Write | for dashes between chords."""
    if case.block == "section" and _DASHED.fullmatch(case.bare):
        yield from each(case, _DASH, lambda _: "|", "write | between the bars")


def separators(case: Case) -> Iterator[Way]:
    """Write commas for semicolons between beats."""
    if case.rule == "bad-pluck":
        yield from each(case, _SEMICOLON, lambda _: " ,", "write commas between the beats")


def doubled(case: Case) -> Iterator[Way]:
    """Write a doubled word or sign once."""
    for match in case.near(_DOUBLED):
        once = match[1] or match[2]
        if once != ",":
            yield put(case, match.start(), match.end(), once, f"write {once} once")


def joined(case: Case) -> Iterator[Way]:
    """Write together what was cut in two: `bar s`, `C #m`."""
    before = re.search(r"(\S+)(\s+)$", case.statement[: case.start])
    after = re.match(r"\S+", case.statement[case.start :])
    if before is None or after is None:
        return
    together = before[1] + after[0]
    known = len(together) > 3 and together in case.elsewhere
    whole = known or together in keywords() or (case.rule == "bad-frets" and after[0][0] in "#b")
    if whole:
        yield put(case, before.start(2), case.start, "", f"write {together}")


def basses(case: Case) -> Iterator[Way]:
    """Write the bass of a chord as a capital letter."""
    if case.rule == "unreadable-chord-name":
        match = re.compile(r"/[a-g][#b]?(?!\S)").match(case.statement, case.start - 1)
        if match is not None:
            note = f"/{match[0][1].upper()}{match[0][2:]}"
            yield put(case, match.start(), match.end(), note)


def plucks(case: Case) -> Iterator[Way]:
    """Write - where nothing is plucked."""
    if case.rule == "bad-pluck" and case.word in ("–", "—", "−", "_", "."):
        yield put(case, case.start, case.end, "-")
