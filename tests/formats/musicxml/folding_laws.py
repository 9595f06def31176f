"""A folded score says what is played: it is read through and compared, bar by bar, with one that is written out."""

from __future__ import annotations

import re
from collections import defaultdict

from hearing_scores import heard
from lxml import etree
from musicxml_reading import schema
from writing_scores import to_musicxml

from fretloom.performance.events import Timeline


def check_folded(timeline: Timeline, **options: object) -> bytes:
    """Check every law of folding on a timeline, and return the folded score."""
    options = {"fingers": "all"} | options
    folded = to_musicxml(timeline, form="folded", **options)
    played = to_musicxml(timeline, **options)
    tree = etree.fromstring(folded)
    assert schema().validate(tree), schema().error_log
    for part in range(len(tree.findall("part"))):
        now, wanted = heard(folded, part), heard(played, part)
        assert len(now) == len(wanted)
        for place, (one, other) in enumerate(zip(now, wanted, strict=True), start=1):
            assert one.same() == other.same(), f"bar {place}"
        shown: defaultdict[int, set[str]] = defaultdict(set)
        for one, other in zip(now, wanted, strict=True):
            shown[one.measure] |= other.words
        for one in now:
            assert plain(one.words) == plain(shown[one.measure])
        assert {one.measure for one in now} == set(range(len(tree.findall("part")[part])))
    return folded


def plain(words: set[str]) -> set[str]:
    """Return words without the number of their verse."""
    return {re.sub(r"^([\d/]+): \d+\. ", r"\1: ", one) for one in words}
