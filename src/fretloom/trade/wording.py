"""Verdicts about hands in the words of a teacher."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from fretloom.trade.playability.shape import Verdict


def hand_words(size: str | Fraction) -> str:
    """Name a hand: "an average hand", "a hand of 180 mm"."""
    if isinstance(size, str):
        return f"{'an' if size == 'average' else 'a'} {size} hand"
    return f"a hand of {float(size):g} mm"


def finger_word(finger: str) -> str:
    """Name a fretting finger: "finger 2", "the thumb"."""
    return "the thumb" if finger == "T" else f"finger {finger}"


def _strings(verdict: Verdict) -> str:
    names = [str(string) for string in verdict.strings]
    if len(names) == 1:
        return f"string {names[0]}"
    return f"strings {', '.join(names[:-1])} and {names[-1]}"


def _pair(verdict: Verdict) -> str:
    one, other = verdict.fingers
    low, high = verdict.frets
    return f"fingers {one} (fret {low}) and {other} (fret {high})"


def _missing(verdict: Verdict, _: str) -> str:
    return f"{_strings(verdict)} at fret {verdict.frets[0]} has no finger"


def _idle(verdict: Verdict, _: str) -> str:
    state = "open" if verdict.frets else "not played"
    return f"{finger_word(verdict.fingers[0])} is written on {_strings(verdict)}, which is {state}"


def _two_frets(verdict: Verdict, _: str) -> str:
    low, high = verdict.frets
    return f"{finger_word(verdict.fingers[0])} cannot hold fret {low} and fret {high} at once"


def _barre_inner(verdict: Verdict, _: str) -> str:
    return (
        f"{_strings(verdict)} should sound lower, but lies under "
        f"the barre of {finger_word(verdict.fingers[0])} at fret {verdict.frets[0]}"
    )


def _barre_treble(verdict: Verdict, _: str) -> str:
    return (
        f"the barre of {finger_word(verdict.fingers[0])} at fret {verdict.frets[0]} is "
        f"{verdict.value:.0f} mm long and also stops {_strings(verdict)}; "
        f"only up to {verdict.limit:.0f} mm the fingertip leaves the next string free"
    )


def _barre_large(verdict: Verdict, _: str) -> str:
    return f"{finger_word(verdict.fingers[0])} bars {len(verdict.strings)} strings"


def _order(verdict: Verdict, _: str) -> str:
    one, other = verdict.fingers
    low, high = verdict.frets
    return f"finger {one} (fret {low}) would have to be above finger {other} (fret {high})"


def _tangled(verdict: Verdict, _: str) -> str:
    one, other = verdict.fingers
    return f"fingers {one} and {other} lie across one another at fret {verdict.frets[0]}"


def _reversed(verdict: Verdict, _: str) -> str:
    one, other = verdict.fingers
    low, high = verdict.strings
    return f"at fret {verdict.frets[0]} finger {one} is on string {low}, finger {other} on string {high}"


def _reach(verdict: Verdict, whose: str) -> str:
    limit = f"{whose} reaches {verdict.limit:.0f} mm between them"
    return f"{_pair(verdict)} are {verdict.value:.0f} mm apart; {limit}"


def _stretch(verdict: Verdict, whose: str) -> str:
    limit = f"up to {verdict.limit:.0f} mm are comfortable for {whose}"
    return f"{_pair(verdict)} are {verdict.value:.0f} mm apart, a wide stretch; {limit}"


def _thumb_string(verdict: Verdict, _: str) -> str:
    if verdict.severity == "warning":
        return f"the thumb reaches over the neck to {_strings(verdict)}, which is far for it"
    return f"the thumb cannot reach over the neck to {_strings(verdict)}"


def _thumb_reach(verdict: Verdict, _: str) -> str:
    other = finger_word(verdict.fingers[1])
    return (
        f"the thumb (fret {verdict.frets[0]}) and {other} (fret {verdict.frets[1]}) are "
        f"{verdict.value:.0f} mm apart; with the thumb over the neck {verdict.limit:.0f} mm can be reached"
    )


def _thumb_barre(verdict: Verdict, _: str) -> str:
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
