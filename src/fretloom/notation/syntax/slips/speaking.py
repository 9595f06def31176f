"""Loudness, speed, words of the song and slaps, as they are said elsewhere."""

from __future__ import annotations

import re

from fretloom.notation.syntax.slips.slip import TradeSign

_GRADUAL = "write it on a line of its own, above the bars: ritardando to 60 over 2 bars, or crescendo to f over 4 bars"
#: How words for slowing, quickening, growing and falling begin.
_RAMP = r"rit\S*|rall\S*|accel\S*|cresc\S*|dim\S*|decresc\S*"
_PLACE = (
    r"(?:(?:bars?\s+[0-9]+(?:\s*(?:-|to)\s*[0-9]+)?)|(?:(?:last|first)\s+(?:[0-9]+\s+)?bars?)|"
    r"(?:from\s+bar\s+[0-9]+))"
)

_OF_SECTIONS: tuple[TradeSign, ...] = (
    TradeSign(
        re.compile(r"^(a tempo)\s+([0-9.]+)\s*$"),
        "`{1}` goes back to the tempo of the section, so it has no number",
        "write a tempo alone, or tempo {2}",
        at=1,
    ),
    TradeSign(
        re.compile(r"^words\b.*?\bon\s+([0-9&]+(?:\s*,\s*[0-9&]+)+)"),
        "the counts of syllables stand one after the other, without commas",
        "write them so: on 1 2& 3",
        at=1,
    ),
    TradeSign(
        re.compile(
            r"^(slowing|slower|slow down|getting slower|faster|getting faster|speeding up)(?=\s+to\b|\s*$).*"
        ),
        "`{1}` is written with the word that scores have",
        "write ritardando to 60 over 2 bars, or accelerando to 120 over 2 bars",
        at=1,
    ),
    TradeSign(
        re.compile(r"^(softer|louder|getting softer|getting louder)(?=\s+to\b|\s*$).*"),
        "`{1}` is written with the word that scores have",
        "write dynamic p, or diminuendo to p over 2 bars",
        at=1,
    ),
    TradeSign(
        re.compile(r"^tempo\s+[0-9.]+\s+over\s.*"),
        "a tempo on its own line counts at once",
        "for a change that takes its time write ritardando to 60 over 2 bars, or accelerando",
    ),
    TradeSign(
        re.compile(
            r"^(?:rit(?:ardando|\.)?|rall\S*|accel(?:erando|\.)?|cresc(?:endo|\.)?|dim(?:inuendo|\.)?|decresc\S*)\s+to\s+\S+(?:\s+over\s+[0-9]+)?\s*$"
        ),
        "`{0}` does not say over how many bars",
        _GRADUAL,
    ),
    TradeSign(
        re.compile(r"^([Ll]yrics?|text|sung|sing|vocals?|verse|Words)(?:\s+[0-9]+)?\s*:?(?=\s*\")"),
        "the words of the song stand on a line that begins with `words:`",
        'write words: "Lamps are lit" | "along the lane"',
        at=1,
        in_quotes=True,
    ),
)
IN_ONE_BAR: tuple[TradeSign, ...] = (
    TradeSign(
        re.compile(r"(?<=\s)(with\s+fermata)(?=\s+on\s)"),
        "a fermata is said of the bar, without `with`",
        "write fermata on 4",
        at=1,
    ),
    TradeSign(
        re.compile(r"(?<=\s)((?:with\s+)?(?:body|string)\s+slap)(?=\s+on\s)"),
        "`{1}` is a word with a hyphen, and is added with `with`",
        "write with body-slap on 2, or with slap on 2 for one on the strings",
        at=1,
    ),
    TradeSign(
        re.compile(
            r"(?<=[^\s|]\s)(ritardando|accelerando|crescendo|diminuendo|rit\.?|accel\.?|cresc\.?|dim\.?)"
            r"\s+to\s+\S+"
        ),
        "`{1}` stands on a line of its own",
        "write it above the bars in which it happens: ritardando to 60 over 2 bars, crescendo to f over 2 bars",
        at=1,
    ),
    TradeSign(
        re.compile(r"(?<![^\s|])(pause|hold|wait)(?=\s+on\s+[0-9])"),
        "where the beat waits is called `fermata` in a lesson",
        "write fermata on 4",
        at=1,
    ),
    TradeSign(
        re.compile(r"(?<!with )(?<![^\s|])((?:body-|string-)?slap!?)(?=\s+on\s+[0-9])"),
        "a slap is added to a bar like a pluck, with `with`",
        "write with {1} on 2",
        at=1,
    ),
)
IN_FORMS: tuple[TradeSign, ...] = (
    TradeSign(
        re.compile(r"^but\s+(with\s+\S+|without\s+[pimac]|fermata|early|release|stop)\s+on\b.*"),
        "`{1}` is said of a bar, and no bar is named",
        "name the bar, and `same` for what is in it: but last bar: same fermata on 4",
        at=1,
    ),
    TradeSign(
        re.compile(r"^but\s+words\s+([0-9]+)\s+(?:in|for|at|on|over)\s.*"),
        "the words of a time are for the whole playing",
        "write but words {1}",
        at=1,
    ),
    TradeSign(
        re.compile(r"^but\s+(words)\s*:.*"),
        "the words of a playing stand under the bars of its section",
        'number them there (words 2: "..."), and ask for them with but words 2',
        at=1,
    ),
    TradeSign(
        re.compile(r"^but\s+(dynamics|volume|loudness)\s+([pmf]+)\s*$"),
        "`{1}` is called `dynamic`",
        "write but dynamic {2}",
        at=1,
    ),
    TradeSign(
        re.compile(rf"^but\s+({_RAMP})(?:\s+over\s.*)?$"),
        "`{1}` does not say where it leads to",
        "write but ritardando to 60 over last 2 bars, or but crescendo to f over bars 5-8",
        at=1,
    ),
    TradeSign(
        re.compile(r"^but\s+(free time|a tempo)\s*$"),
        "`{1}` stands in a section, above the bars for which it counts",
        "write a section of its own for this playing, or a tempo: but tempo 72",
        at=1,
    ),
    TradeSign(
        re.compile(rf"^but\s+{_PLACE}\s*:\s*(tempo|dynamic)\s+\S+\s*$"),
        "after a colon bars follow, and `{1}` is not one",
        "leave the colon out: but bars 5-8 {1} ...",
        at=1,
    ),
    TradeSign(
        re.compile(r"^but\s+(slower|faster|slowly|quicker)\b.*"),
        "`{1}` does not say how fast",
        "write but tempo 72, or but ritardando to 60 over last 2 bars",
        at=1,
    ),
    TradeSign(
        re.compile(
            r"^but\s+(softer|louder|quieter|softly|loud|soft|quiet|ppp?|p|mp|mf|fff?|f)\s*$"
        ),
        "`{1}` alone does not say that it is about loudness",
        "write but dynamic p (ppp, pp, p, mp, mf, f, ff or fff)",
        at=1,
    ),
    TradeSign(
        re.compile(
            r"^but\s+((?:no|without the|without any|without)\s+repeat|"
            r"no\s+repeats|without the repeats|repeats? once|repeats?)\s*$"
        ),
        "`{1}` is not how a lesson says that repeats are left out",
        "write but without repeats",
        at=1,
    ),
    TradeSign(
        re.compile(
            rf"^but\s+(?:{_RAMP})\s+to\s+\S+(?:\s+over\s+(?!last\b|first\b|bars?\s+[0-9]|from\b).*)?$"
        ),
        "it does not say in which bars of the section this happens",
        "write over and the bars: but ritardando to 60 over last 2 bars, but crescendo to f over bars 5-8",
    ),
    TradeSign(
        re.compile(r"^but\s+(?:words\s+(?:of\s+)?verse|verse)\s+([0-9]+)(?:\s+words)?\s*$"),
        "the words of another time are named by its number",
        "write but words {1}",
        at=1,
    ),
    TradeSign(
        re.compile(r"^but\s+only\s+([0-9]+(?:\s*-\s*[0-9]+)?)\s*$"),
        "`{1}` are numbers; what they count is missing",
        "write but only bars {1}",
        at=1,
    ),
)
#: What is looked for in lines of sections; above, in any bar and in lines of the form.
IN_SECTIONS = (*_OF_SECTIONS, *IN_ONE_BAR)
