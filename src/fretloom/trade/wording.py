"""How a teacher says it: hands, fingers, strings, changes, and verdicts about hands."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from fretloom.text import agreeing, listed, told_apart

if TYPE_CHECKING:  # Words are wanted where nothing is judged or named, too.
    from fractions import Fraction

    from fretloom.trade.guitar.tuning import Capo
    from fretloom.trade.harmony.heard.mistaken import Mistaken
    from fretloom.trade.harmony.naming import ChordName
    from fretloom.trade.harmony.symbol import ChordSymbol
    from fretloom.trade.playability.moving.changes import Change
    from fretloom.trade.playability.shape import Verdict

#: The caution that goes with anything that can strain a hand, for a hint and as a sentence.
CARE = "rest before the hand tires, stop if it hurts"
CAUTION = f"Warm up first. {CARE.capitalize()}; ask a teacher or clinician."
#: Picking fingers as one says them; the letters are those of the classical guitar.
PICKING_FINGER_WORDS = {
    "p": "the thumb",
    "i": "the index finger",
    "m": "the middle finger",
    "a": "the ring finger",
    "c": "the little finger",
}
#: What fingers do in a change, by `FingerMove.kind` and in the order it is said: of one, of several.
_DOING = {
    "anchor": ("stays", "stay"),
    "guide": ("slides along its string", "slide along their strings"),
    "extend": ("lies down to a barre", "lie down to a barre"),
    "move": ("moves", "move"),
    "place": ("is put down", "are put down"),
    "lift": ("lifts", "lift"),
}
_SIGNS = {"b": "♭", "#": "♯"}
_BEFORE_DEGREE = re.compile(r"[b#](?=[b#]*[0-9])")
_BEHIND_NOTE = re.compile(r"(?<=^[A-H])[b#]|(?<=/[A-H])[b#]")
_ROOT = re.compile("[A-H][♯♭]?(?=$|[^a-z]|m|add|alt|aug|dim|sus)")
_SYMBOL = re.compile(r"[A-H](?:[#b0-9]|[^a-z]|m|maj|dim|aug|sus|add|$)")


def with_signs(name: str) -> str:
    """Return a chord symbol or note with printed signs: `C#m7b5` is `C♯m7♭5`; other words stay."""
    if not _SYMBOL.match(name):
        return name
    return suffix_with_signs(_BEHIND_NOTE.sub(lambda found: _SIGNS[found[0]], name))


def root_and_rest(name: str) -> tuple[str, str]:
    """Return the root of a chord as it is printed, and what follows it, smaller; a plain word is all root."""
    root = _ROOT.match(name)
    return (root[0], name[root.end() :]) if root else (name, "")


def suffix_with_signs(suffix: str) -> str:
    """Return the suffix of a chord symbol with printed signs: `m7b5` is `m7♭5`."""
    return _BEFORE_DEGREE.sub(lambda found: _SIGNS[found[0]], suffix)


def hand_words(size: str | Fraction) -> str:
    """Name a hand: "an average hand", "a hand of 180 mm"."""
    if isinstance(size, str):
        return f"{'an' if size == 'average' else 'a'} {size} hand"
    return f"a hand of {float(size):g} mm"


def finger_word(finger: str) -> str:
    """Name a fretting finger: "finger 2", "the thumb"."""
    return "the thumb" if finger == "T" else f"finger {finger}"


def fingers_words(fingers: Sequence[str], last: str = "and") -> str:
    """Name fingers of either hand: "finger 2", "fingers 1 and 3", "the thumb and finger 2"."""
    others = [finger for finger in fingers if finger != "T"]
    word = agreeing(len(others), "finger", "fingers")
    thumb = ["the thumb"] * (len(others) < len(fingers))
    if len(others) < 2:
        return listed([*thumb, *(f"{word} {finger}" for finger in others)], last)
    named = f"{word} {listed(others, last)}"
    return f"the thumb, {named}" if thumb else named


def strings_words(strings: Sequence[int], last: str = "and") -> str:
    """Name strings in the order given: "string 2", "strings 5, 4 and 3"."""
    return f"{agreeing(len(strings), 'string', 'strings')} {listed(strings, last)}"


def fret_words(string: int, fret: int) -> str:
    """Name a place of the fretboard, frets counted from the capo: "string 3, fret 2", "string 3, open"."""
    return f"string {string}, " + (f"fret {fret}" if fret else "open")


def capo_words(capo: Capo) -> str:
    """Name a capo: "capo 2", "capo 2 on strings 5 4 3", "no capo"."""
    if not capo.fret:
        return "no capo"
    numbers = " ".join(map(str, capo.strings))
    word = agreeing(len(capo.strings), "string", "strings")
    return f"capo {capo.fret}" + (f" on {word} {numbers}" if numbers else "")


def name_words(name: ChordName, naming: str) -> str:
    """Write a chord name in a naming, and say if it is without its root: "C/E", "Am7 without its root"."""
    return name.symbol.written(naming) + (" without its root" if name.rootless else "")


def mistaken_words(symbol: ChordSymbol, mistaken: Mistaken, naming: str) -> str:
    """Say why a name is not heard: "no string sounds A, its root, so it is heard as C"."""
    from fretloom.trade.harmony.note_names import write_note

    heard = mistaken.heard.written(naming) if mistaken.heard else ""
    if mistaken.lacks is None:
        return f"what sounds is heard as {heard}"
    tone = "root" if mistaken.lacks.pitch_class == symbol.root.pitch_class else "fifth"
    lacks = f"no string sounds {write_note(mistaken.lacks, naming)}, its {tone}, so "
    if heard:
        return f"{lacks}it is heard as {heard}"
    return f"{lacks}the chord over its bass is not whole"


def change_words(made: Change) -> str:
    """Say what the fingers do in a change: "1 and 3 stay, 2 moves"."""
    said = []
    for kind, doing in _DOING.items():
        fingers = ["the thumb" if one == "T" else one for one in made.of_kind(kind)]
        if fingers:
            said.append(f"{listed(fingers)} {agreeing(len(fingers), *doing)}")
    block = made.groups == 1 and sum(move.moves for move in made.moves) > 1
    return ", ".join(said) + (" (all as one block)" if block else "")


def _pair(verdict: Verdict) -> str:
    one, other = verdict.fingers
    low, high = verdict.frets
    return f"fingers {one} (fret {low}) and {other} (fret {high})"


def _missing(verdict: Verdict, _: str) -> str:
    return f"{strings_words(verdict.strings)} at fret {verdict.frets[0]} has no finger"


def _idle(verdict: Verdict, _: str) -> str:
    state = "open" if verdict.frets else "not played"
    return f"{finger_word(verdict.fingers[0])} is written on {strings_words(verdict.strings)}, which is {state}"


def _two_frets(verdict: Verdict, _: str) -> str:
    low, high = verdict.frets
    return f"{finger_word(verdict.fingers[0])} cannot hold fret {low} and fret {high} at once"


def _barre_inner(verdict: Verdict, _: str) -> str:
    return (
        f"{strings_words(verdict.strings)} should sound lower, but lies under "
        f"the barre of {finger_word(verdict.fingers[0])} at fret {verdict.frets[0]}"
    )


def _barre_treble(verdict: Verdict, _: str) -> str:
    far, most = told_apart(verdict.value, verdict.limit, 0)
    return (
        f"the barre of {finger_word(verdict.fingers[0])} at fret {verdict.frets[0]} is "
        f"{far} mm long and also stops {strings_words(verdict.strings)}; "
        f"the fingertip leaves the next string free only up to {most} mm"
    )


def _barre_large(verdict: Verdict, _: str) -> str:
    return f"{finger_word(verdict.fingers[0])} bars {len(verdict.strings)} strings"


def _order(verdict: Verdict, _: str) -> str:
    one, other = verdict.fingers
    low, high = verdict.frets
    return f"finger {one} (fret {low}) would have to be above finger {other} (fret {high})"


def _tangled(verdict: Verdict, _: str) -> str:
    one, other = verdict.fingers
    return f"fingers {one} and {other} lie across each other at fret {verdict.frets[0]}"


def _reversed(verdict: Verdict, _: str) -> str:
    one, other = verdict.fingers
    low, high = verdict.strings
    return f"at fret {verdict.frets[0]} finger {one} is on string {low}, finger {other} on string {high}"


def _reach(verdict: Verdict, whose: str) -> str:
    far, most = told_apart(verdict.value, verdict.limit, 0)
    limit = f"{whose} reaches {most} mm between them"
    return f"{_pair(verdict)} are {far} mm apart; {limit}"


def _stretch(verdict: Verdict, whose: str) -> str:
    far, most = told_apart(verdict.value, verdict.limit, 0)
    limit = f"up to {most} mm is comfortable for {whose}"
    return f"{_pair(verdict)} are {far} mm apart, a wide stretch; {limit}"


def _thumb_string(verdict: Verdict, _: str) -> str:
    if verdict.severity == "warning":
        return f"the thumb reaches over the neck to {strings_words(verdict.strings)}, which is a long way for it"
    return f"the thumb cannot reach over the neck to {strings_words(verdict.strings)}"


def _thumb_reach(verdict: Verdict, _: str) -> str:
    far, most = told_apart(verdict.value, verdict.limit, 0)
    other = finger_word(verdict.fingers[1])
    return (
        f"the thumb (fret {verdict.frets[0]}) and {other} (fret {verdict.frets[1]}) are "
        f"{far} mm apart; with the thumb over the neck the hand reaches {most} mm"
    )


def _thumb_barre(_: Verdict, __: str) -> str:
    return "a barre over four strings or more needs the thumb behind the neck, not over it"


_SAID: dict[str, Callable[[Verdict, str], str]] = {
    "finger-missing": _missing,
    "finger-idle": _idle,
    "finger-two-frets": _two_frets,
    "barre-inner": _barre_inner,
    "barre-treble": _barre_treble,
    "barre-arch": _barre_treble,
    "barre-large": _barre_large,
    "finger-order": _order,
    "finger-tangled": _tangled,
    "finger-reversed": _reversed,
    "reach": _reach,
    "stretch": _stretch,
    "thumb-string": _thumb_string,
    "thumb-reach": _thumb_reach,
    "thumb-barre": _thumb_barre,
}


def say(verdict: Verdict, whose: str) -> str:
    """Say a verdict in words; `whose` names the hand."""
    said = _SAID.get(verdict.rule)
    return said(verdict, whose) if said else verdict.rule.replace("-", " ")
