"""Tries ways in which a faulty line may have been meant; the one that reads well is a sure change.

A change is sure if the line, read again with it, has all its other faults and no new one, and if no
other way of the same likelihood does as well. What follows is tried only where a fault was found.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Container, Iterable, Mapping, Sequence

from fretloom.diagnostics import Diagnostic, Edit
from fretloom.notation.syntax.lines import Line, comment_at
from fretloom.notation.syntax.mending import numbers, quotes, words
from fretloom.notation.syntax.mending.ways import Case, Guess, Way
from fretloom.source import Source
from fretloom.values import evolve

#: Longer lines, and more faults in one line, are left to the teacher.
LONGEST, MOST_IN_A_LINE = 400, 4
#: From the likeliest: the first row in which a way reads well decides.
GUESSES: tuple[tuple[Guess, ...], ...] = (
    (words.as_said,),
    (quotes.hidden,),
    (quotes.spaces,),
    (quotes.printed, quotes.missing, quotes.look_alikes),
    (words.sections,),
    (quotes.brackets, quotes.chords, numbers.frets, numbers.fingers, numbers.places),
    (numbers.joined_times,),
    (numbers.meters, numbers.times, words.blocks, words.habits, words.misspelt),
    (words.bar_lines, words.separators, words.plucks, words.keys, words.basses),
    (numbers.decimals, numbers.rows, numbers.words, numbers.counts, words.doubled, words.joined),
    (words.cases, words.fillers),
    (words.missing, words.openers),
)
#: Rules whose way out is not in the line itself, or that leave two ways open.
_OPEN = frozenset(
    ("empty-bar", "empty-beat", "outside-a-block", "nested-too-deep", "beat-too-full")
)

#: Reads a line without keeping it; None if it would not be read where it stands.
Try = Callable[[Line], Sequence[Diagnostic] | None]


def mended(
    faults: Sequence[Diagnostic],
    line: Line,
    block: str,
    expected: Mapping[int, tuple[int, frozenset[str]]],
    meant: Mapping[int, str],
    elsewhere: Container[str],
    tried: Try,
) -> list[Diagnostic]:
    """Return the faults of one line with the edits that are sure.

    Args:
        block: the word that opens the block in which the line stands, "" for a line in column one.
        elsewhere: the words of all other lines.
        expected: by the place of a fault where the parser stopped, and what could stand there.
        meant: by the place of a fault what can only have been meant there.
    """
    done = list(faults)
    if len(line.statement) > LONGEST:
        return done
    for index, fault in enumerate(faults[:MOST_IN_A_LINE]):
        if fault.edits or fault.rule in _OPEN:
            continue
        start, end = fault.span.start - line.start, fault.span.end - line.start
        at, wanted = expected.get(fault.span.start, (fault.span.start, frozenset()))
        case = Case(
            fault.rule,
            line.statement,
            start,
            end,
            at - line.start,
            wanted,
            block,
            elsewhere,
            len(faults) == 1,
            meant.get(fault.span.start, ""),
        )
        others = _said(one for one in faults if one is not fault)
        sure = _sure(case, line, others, tried)
        if sure is not None:
            done[index] = evolve(fault, edits=_edits(line, sure))
    return done


def _said(faults: Iterable[Diagnostic]) -> Counter[tuple[str, str]]:
    return Counter((one.rule, one.message) for one in faults)


def _sure(case: Case, line: Line, others: Counter[tuple[str, str]], tried: Try) -> Way | None:
    """Return the one change of the likeliest kind after which the line reads well."""
    for row in GUESSES:
        ways: dict[str, Way] = {}
        for guess in row:
            for change in guess(case):
                ways.setdefault(change.made_in(case.statement), change)
        ways.pop(case.statement, None)
        good = [change for text, change in ways.items() if _reads(text, line, others, tried)]
        if good:
            return good[0] if len(good) == 1 else None
    return None


def _reads(text: str, line: Line, others: Counter[tuple[str, str]], tried: Try) -> bool:
    # A line of its own, as values are read from the text that their places cover.
    source = Source(line.source.name, text)
    statement = text[: comment_at(text)].rstrip(" \t")
    if not statement:
        return not others
    found = tried(evolve(line, source=source, start=0, statement=statement))
    return found is not None and _said(found) <= others


def _edits(line: Line, change: Way) -> tuple[Edit, ...]:
    return tuple(
        Edit(span=line.span(start, end), text=text, title=change.title)
        for start, end, text in change.pieces
    )
