"""The kept tables, and a parser that goes by them."""

from __future__ import annotations

import json

from fretloom.notation.syntax.parsing import tables
from fretloom.notation.syntax.parsing.driver import parse
from fretloom.notation.syntax.parsing.making import tables_data
from fretloom.notation.syntax.parsing.tree import Node


def test_the_kept_tables_are_those_of_the_grammar() -> None:
    """After a change of the grammar, `python -m fretloom.notation.syntax.parsing.tables` has to be run."""
    kept = json.loads(tables.KEPT.read_text(encoding="utf-8"))
    assert kept.pop("fingerprint") == tables.fingerprint()
    assert kept == json.loads(json.dumps(tables_data()))


def test_writing_the_tables_twice_gives_the_same_file(tmp_path) -> None:
    """Nothing in them hangs on the order in which a set is walked."""
    tables.write_tables(tmp_path / "tables.json")
    assert (tmp_path / "tables.json").read_bytes() == tables.KEPT.read_bytes()


def test_tables_for_another_grammar_are_not_used(monkeypatch) -> None:
    """Old tables cost time, never a wrong reading."""
    monkeypatch.setattr(tables, "fingerprint", lambda: "of-another-grammar")
    assert tables.kept_data() is None


def test_without_kept_tables_they_are_worked_out(tmp_path, monkeypatch) -> None:
    """A package without them, or with a spoiled file, reads all the same."""
    for text in (None, "{", '{"fingerprint": "?"}'):
        if text is not None:
            (tmp_path / "tables.json").write_text(text, encoding="utf-8")
        monkeypatch.setattr(tables, "KEPT", tmp_path / "tables.json")
        tables.tables.cache_clear()
        try:
            assert isinstance(parse("E:3 E7:1 x2 | %", "body_line"), Node)
        finally:
            tables.tables.cache_clear()
