"""A statement in its terminals: as the parser reads it where it is right, and bounded where it is not."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import example, given
from statements import VALID, statements

from fretloom.notation.syntax.parsing import scanning
from fretloom.notation.syntax.parsing.driver import parse
from fretloom.notation.syntax.parsing.scanning import UNFIT, scanned
from fretloom.notation.syntax.parsing.tree import Unexpected


def _terminals(text: str, rule: str) -> list[tuple[str, str]]:
    return [(one.terminal, text[one.start : one.end]) for one in scanned(text, rule)]


@pytest.mark.parametrize(("rule", "text"), [(rule, one) for rule, all in VALID.items() for one in all])  # fmt: skip
def test_what_the_parser_reads_has_nothing_unfit(rule: str, text: str) -> None:
    """Every statement that is right falls into terminals of the grammar, and nothing of it is left."""
    found = list(scanned(text, rule))
    assert UNFIT not in {one.terminal for one in found}
    assert "".join(text[one.start : one.end] for one in found) == "".join(text.split(" ")) or '"' in text  # fmt: skip


@given(statements())
@example(("body_line", 'E | "open A | B'))
@example(("pattern_line", "plain p , p"))
def test_pieces_follow_one_another_and_leave_out_blanks_only(statement: tuple[str, str]) -> None:
    """Right or wrong, no character of a statement is lost or found twice."""
    rule, text = statement
    at = 0
    for one in scanned(text, rule):
        assert one.start < one.end
        assert not text[at : one.start].strip(" \t")
        at = one.end
    assert not text[at:].strip(" \t")


@given(statements())
def test_the_parser_stops_at_the_first_that_is_unfit(statement: tuple[str, str]) -> None:
    """Where the parser finds something that it did not expect before the end, so does the scanner."""
    rule, text = statement
    read = parse(text, rule)
    unfit = next((one for one in scanned(text, rule) if one.terminal == UNFIT), None)
    if isinstance(read, Unexpected) and read.start < len(text) and text[read.start] != "|":
        assert unfit is not None and unfit.start == read.start
    elif not isinstance(read, Unexpected):
        assert unfit is None


def test_what_does_not_fit_is_passed_over_by_the_word() -> None:
    """Behind it the line goes on as if it were not there; a bar line begins anew."""
    assert _terminals("tempo fast 60", "setting_line") == [
        ("TEMPO", "tempo"), (UNFIT, "fast"), ("NUMBER", "60"),
    ]  # fmt: skip
    assert _terminals("E: | with a on 3", "body_line")[2:] == [
        ("VBAR", "|"), ("WITH", "with"), ("PLUCK", "a"), ("ON", "on"), ("COUNT", "3"),
    ]  # fmt: skip
    assert _terminals('E "open A | B', "body_line")[1:] == [(UNFIT, '"open A | B')]


HOSTILE: dict[str, tuple[str, Callable[[int], str]]] = {
    "quotes left open": ("body_line", lambda size: 'E "\\" ' + '\\" ' * size),
    "brackets left open": ("body_line", lambda size: "E { " + "( [ " * size),
    "names with brackets": ("body_line", lambda size: "a( " * size),
    "bar lines": ("body_line", lambda size: "|" * size),
    "signs": ("pattern_line", lambda size: "p " + ":" * size),
    "words that do not fit": ("show_line", lambda size: "show " + "with " * size),
    "half a ramp": ("body_line", lambda size: "rit. " * size),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_twice_the_text_takes_twice_the_steps(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is written, each place is looked at once: counted, for 2,000 and 4,000 repetitions."""
    rule, text = HOSTILE[name]
    looks = []
    look = scanning.next_token

    def counted(*given: object) -> object:
        looks.append(given)
        return look(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(scanning, "next_token", counted)
    counts = []
    for size in (2000, 4000):
        looks.clear()
        list(scanned(text(size), rule))
        counts.append(len(looks))
        assert len(looks) <= len(text(size))
    assert counts[1] <= 2 * counts[0] + 8
