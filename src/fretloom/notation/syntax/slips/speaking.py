"""Loudness, speed, words of the song and slaps, as they are said elsewhere."""

from __future__ import annotations

import re
from collections.abc import Callable

from fretloom.notation.syntax.slips.slip import Slip

#: A finder and what it says: `{0}` is all that was found, `{1}` its first group.
_Sign = tuple[re.Pattern[str], str, str]
_GRADUAL = "write it on a line of its own, above the bars: ritardando to 60 over 2 bars, or crescendo to f over 4 bars"
_PLACE = (
    r"(?:(?:bars?\s+[0-9]+(?:\s*(?:-|to)\s*[0-9]+)?)|(?:(?:last|first)\s+(?:[0-9]+\s+)?bars?)|"
    r"(?:from\s+bar\s+[0-9]+))"
)

_IN_SECTIONS: tuple[_Sign, ...] = (
    (
        re.compile(
            r"^\s*(slowing|slower|slow down|getting slower|faster|getting faster|speeding up)(?=\s+to\b|\s*$).*"
        ),
        "`{1}` is written with the word that scores have",
        "write ritardando to 60 over 2 bars, or accelerando to 120 over 2 bars",
    ),
    (
        re.compile(r"^\s*(softer|louder|getting softer|getting louder)(?=\s+to\b|\s*$).*"),
        "`{1}` is written with the word that scores have",
        "write dynamic p, or diminuendo to p over 2 bars",
    ),
    (
        re.compile(r"^\s*tempo\s+[0-9.]+\s+over\s.*"),
        "a tempo on its own line counts at once",
        "for a change that takes its time write ritardando to 60 over 2 bars, or accelerando",
    ),
    (
        re.compile(
            r"^\s*(?:rit(?:ardando|\.)?|rall\S*|accel(?:erando|\.)?|cresc(?:endo|\.)?|dim(?:inuendo|\.)?|decresc\S*)\s+to\s+\S+(?:\s+over\s+[0-9]+)?\s*$"
        ),
        "`{0}` does not say over how many bars",
        _GRADUAL,
    ),
    (
        re.compile(r"^\s*(lyrics?|text|sung|sing|vocals?|verse words)(?:\s+[0-9]+)?\s*:?(?=\s*\")"),
        "the words of the song stand on a line that begins with `words:`",
        'write words: "Lamps are lit" | "along the lane"',
    ),
)
_IN_BARS: tuple[_Sign, ...] = (
    (
        re.compile(
            r"(?<=[^\s|]\s)(ritardando|accelerando|crescendo|diminuendo|rit\.?|accel\.?|cresc\.?|dim\.?)"
            r"\s+to\s+\S+"
        ),
        "`{1}` stands on a line of its own",
        "write it above the bars in which it happens: ritardando to 60 over 2 bars, crescendo to f over 2 bars",
    ),
    (
        re.compile(r"(?<![^\s|])(pause|hold|wait)(?=\s+on\s+[0-9])"),
        "where the beat waits is called `fermata` in a lesson",
        "write fermata on 4",
    ),
    (
        re.compile(r"(?<!with )(?<![^\s|])((?:body-|string-)?slap!?)(?=\s+on\s+[0-9])"),
        "a slap is added to a bar like a pluck, with `with`",
        "write with {1} on 2",
    ),
)
_IN_FORMS: tuple[_Sign, ...] = (
    (
        re.compile(rf"^\s*but\s+{_PLACE}\s*:\s*(tempo|dynamic)\s+\S+\s*$"),
        "after a colon bars follow, and `{1}` is not one",
        "leave the colon out: but bars 5-8 {1} ...",
    ),
    (
        re.compile(r"^\s*but\s+(slower|faster|slowly|quicker)\b.*"),
        "`{1}` does not say how fast",
        "write but tempo 72, or but ritardando to 60 over last 2 bars",
    ),
    (
        re.compile(
            r"^\s*but\s+(softer|louder|quieter|softly|loud|soft|quiet|ppp?|p|mp|mf|fff?|f)\s*$"
        ),
        "`{1}` alone does not say that it is about loudness",
        "write but dynamic p (ppp, pp, p, mp, mf, f, ff or fff)",
    ),
    (
        re.compile(
            r"^\s*but\s+((?:no|without the|without any|without)\s+repeat|"
            r"no\s+repeats|without the repeats|repeats? once|repeats?)\s*$"
        ),
        "`{1}` is not how a lesson says that repeats are left out",
        "write but without repeats",
    ),
    (
        re.compile(
            r"^\s*but\s+(?:rit\S*|accel\S*|rall\S*|cresc\S*|dim\S*|decresc\S*)\s+to\s+\S+(?:\s+over\s+(?!last\b|first\b|bars?\s+[0-9]|from\b).*)?$"
        ),
        "it does not say in which bars of the section this happens",
        "write over and the bars: but ritardando to 60 over last 2 bars, but crescendo to f over bars 5-8",
    ),
    (
        re.compile(r"^\s*but\s+(?:words\s+(?:of\s+)?verse|verse)\s+([0-9]+)(?:\s+words)?\s*$"),
        "the words of another time are named by its number",
        "write but words {1}",
    ),
    (
        re.compile(r"^\s*but\s+only\s+([0-9]+(?:\s*-\s*[0-9]+)?)\s*$"),
        "`{1}` are numbers; what they count is missing",
        "write but only bars {1}",
    ),
)


def _finder(sign: _Sign) -> Callable[[str, str], Slip | None]:
    pattern, message, hint = sign

    def find(text: str, blank: str) -> Slip | None:
        found = pattern.search(blank if '"' not in pattern.pattern else text)
        if found is None:
            return None
        words = (found[0].strip(), *found.groups(""))
        start = found.start(1) if found.re.groups else found.end() - len(found[0].lstrip())
        end = found.end(1) if found.re.groups else found.end()
        return Slip("not-understood", start, end, message.format(*words), hint.format(*words))

    return find


#: What is looked for in any bar, in lines of sections, and in lines of the form.
IN_ONE_BAR = tuple(map(_finder, _IN_BARS))
IN_SECTIONS = tuple(map(_finder, (*_IN_SECTIONS, *_IN_BARS)))
IN_FORMS = tuple(map(_finder, _IN_FORMS))
