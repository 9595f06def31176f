"""What findings about hands say: figures that differ, and the usual caution."""

from __future__ import annotations

import re

import places
import pytest
from rule_lessons import findings, lesson

from fretloom.api import as_text, check, hands, load, loads
from fretloom.diagnostics import Diagnostic
from fretloom.rules.families.hands.changes import reported_hop
from fretloom.rules.pages import page
from fretloom.trade.playability.moving.hops import HopVerdict, StoppedNote
from fretloom.trade.wording import CARE, CAUTION

LESSONS = sorted((places.TESTS / "lessons" / "hands").glob("*.lesson"))


def _head(tempo: int) -> str:
    return f'lesson "Two cups"\n  meter 4/4\n  tempo {tempo}\n'


def _only(rule: str, text: str) -> Diagnostic:
    return next(one for one in findings(text) if one.rule == rule)


def test_a_pluck_just_too_fast_shows_by_how_much() -> None:
    """At a tempo of 208 quavers are 0.144 s apart, and a finger needs 0.145 s."""
    text = lesson(_head(208), patterns="patterns\n  plain  p , m m , p , p\n")
    found = _only("pick-repeat", text)
    assert found.message.endswith("finger m plucks twice within 0.144 s; it needs 0.145 s")
    assert found.hint.endswith("or slow down to 206 or less")


def test_the_advised_tempo_is_slow_enough() -> None:
    """At the tempo that the hint gives, nothing is too fast any more."""
    text = lesson(_head(206), patterns="patterns\n  plain  p , m m , p , p\n")
    assert [one.severity.value for one in findings(text) if one.rule == "pick-repeat"] == [
        "warning"
    ]


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_what_there_is_and_what_is_needed_differ(path: object) -> None:
    """No message gives one figure for both."""
    for one in check(load(path)):  # type: ignore[arg-type]
        for unit in ("s", "mm"):
            figures = re.findall(rf"([\d.]+) {unit}\b", one.message)
            assert len(set(figures)) == len(figures), one.message


def test_a_wide_stretch_comes_with_the_caution() -> None:
    """The hint advises what the report does, in the same words."""
    found = _only("stretch", page("stretch").lessons("Wrong")["example.lesson"])  # type: ignore[union-attr]
    assert found.hint.endswith(CARE)


def test_report_and_pages_give_one_caution() -> None:
    """Where playing can hurt the whole sentence stands, in the same words everywhere."""
    report = as_text(hands(loads(lesson())))
    assert CAUTION in " ".join(report.split())
    for rule in ("reach", "stretch", "barre-without-relief", "steep-ladder", "pick-repeat"):
        found = page(rule)
        assert found is not None
        why = " ".join(found.sections["Why"].split())
        assert CAUTION in why
        assert "{" not in why


def _changes(tempo: int) -> list[str]:
    """Return how grave the change from C to F is, plucked in quavers at a tempo."""
    text = lesson(
        _head(tempo),
        voicings="voicings\n  C  x32010  fingers .32.1.\n  F  133211  fingers 134211\n",
        patterns="patterns\n  plain  p , p m , p i , p m\n",
        section="section tune  using plain\n  C | F\n",
    )
    return [one.severity.value for one in findings(text) if one.rule == "change-too-fast"]


def test_players_let_the_last_note_go_early() -> None:
    """A change that is possible without the last quarter of a second of the voicing before is not an error."""
    assert [_changes(tempo) for tempo in (60, 160, 220)] == [[], ["warning"], ["warning"]]


def _barres(frets: str, fingers: str, tempo: int = 60) -> list[str]:
    """Return what is said of twelve bars of one barre; at a tempo of 60 they take 48 seconds."""
    text = lesson(
        _head(tempo),
        voicings=f"voicings\n  B  {frets}  fingers {fingers}\n",
        patterns="patterns\n  plain  p , m , i , m\n",
        section="section tune  using plain\n  B x12\n",
    )
    return [one.rule for one in findings(text) if one.rule == "barre-without-relief"]


def test_barres_of_five_strings_tire() -> None:
    """Five strings under the first finger want relief within 40 seconds (an assumption)."""
    assert _barres("x22222", ".11111") == ["barre-without-relief"]
    assert _barres("x22222", ".11111", tempo=80) == []


@pytest.mark.parametrize(
    ("frets", "fingers", "tires"),
    [
        ("xx2222", "..1111", True),  # Four strings, none of them open.
        ("xx3211", "..3211", True),
        ("xx0222", "...111", False),  # The open string lets the hand rest.
        ("xx222x", "..111.", False),
        ("1x3211", "T.3211", True),
        ("200232", "T..132", True),  # The thumb over the neck, whatever is open.
        ("320033", "21..34", False),
    ],
)
def test_grips_without_an_open_string_tire_as_barres_do(
    frets: str, fingers: str, tires: bool
) -> None:
    """Four stopped strings, or the thumb over the neck, want relief too (assumptions)."""
    assert bool(_barres(frets, fingers)) is tires


def test_a_shape_for_the_thumb_is_offered_with_its_fingers() -> None:
    """Where only the thumb over the neck makes it possible, the hint writes the fingers out."""
    found = _only("no-fingering", lesson(_head(60), voicings="voicings\n  shape-a  1x0410\n"))
    assert found.hint == "write `fingers T..31.`, with the thumb over the neck"


@pytest.mark.parametrize(
    ("needed", "reported"),
    [(1.3, "hop-too-fast"), (1.25, "hop-tight"), (1.1, "hop-tight")],
)
def test_a_hop_is_too_fast_where_a_quarter_more_time_is_needed(
    needed: float, reported: str
) -> None:
    """The figures are estimates, so a hop that barely does not fit is only tight."""
    note = StoppedNote(0.0, 0.0, "2", 5, 2)
    verdict = HopVerdict("hop-too-fast", "error", note, note, needed, 1.0)
    found = reported_hop(verdict)
    assert found is not None
    assert (found.rule, found.severity) == (
        (reported, "error") if reported == "hop-too-fast" else (reported, "warning")
    )


@pytest.mark.parametrize(("needed", "reported"), [(0.8, False), (0.81, True)])
def test_a_hop_is_tight_where_it_takes_most_of_the_time(needed: float, reported: bool) -> None:
    """Up to four fifths of the time there is, nothing is said."""
    note = StoppedNote(0.0, 0.0, "2", 5, 2)
    verdict = HopVerdict("hop-tight", "warning", note, note, needed, 1.0)
    assert (reported_hop(verdict) is not None) is reported


@pytest.mark.parametrize(
    ("goal", "steep"), [(100, False), (160, False), (175, False), (176, True), (190, True)]
)
def test_a_ladder_is_steep_above_seven_quarters(goal: int, steep: bool) -> None:
    """From 100 to 190 in one go is more than a sitting brings (an assumption)."""
    more = f'step "Faster"\n  show section tune from 100 to {goal}\n'
    found = [one.rule for one in findings(lesson(more=more)) if one.rule == "steep-ladder"]
    assert bool(found) is steep
