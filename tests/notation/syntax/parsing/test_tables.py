"""The kept tables, and a parser that goes by them."""

from __future__ import annotations

from fretloom.notation.syntax.parsing import tables
from fretloom.notation.syntax.parsing.driver import parse
from fretloom.notation.syntax.parsing.making import table_lines
from fretloom.notation.syntax.parsing.tree import Tree


def test_the_kept_tables_are_those_of_the_grammar() -> None:
    """After a change of the grammar, `python -m fretloom.notation.syntax.parsing.tables` has to be run.

    Another version of Lark may name and order things otherwise; the same one does not.
    """
    kept, made = tables.kept_lines(), [*table_lines(), ""]
    assert kept is not None
    assert kept == made or kept[0] != made[0]


def test_tables_are_read_back_as_they_are_written(tmp_path, monkeypatch) -> None:
    """The file holds what was worked out, and says for which grammar."""
    tables.write_tables(tmp_path / "tables.txt")
    monkeypatch.setattr(tables, "packaged_text", lambda _, name: (tmp_path / name).read_text())
    assert tables.kept_lines() == [*table_lines(), ""]


def test_tables_for_another_grammar_are_not_used(monkeypatch) -> None:
    """Old tables cost time, never a wrong reading."""
    monkeypatch.setattr(tables, "fingerprint", lambda: "of-another-grammar")
    assert tables.kept_lines() is None


def test_without_kept_tables_they_are_worked_out(tmp_path, monkeypatch) -> None:
    """A package without them, or with a spoiled file, reads all the same."""
    for text in (None, "", "of-another-grammar\nblank X\n"):
        if text is not None:
            (tmp_path / "tables.txt").write_text(text, encoding="utf-8")
        monkeypatch.setattr(tables, "packaged_text", lambda _, name: (tmp_path / name).read_text())
        tables.tables.cache_clear()
        try:
            assert isinstance(parse("E:3 E7:1 x2 | %", "body_line"), Tree)
        finally:
            tables.tables.cache_clear()


def test_without_the_grammar_the_kept_tables_count(monkeypatch) -> None:
    """An application may be built from a checkout, whose grammar lies outside the package."""

    def missing() -> str:
        raise FileNotFoundError

    kept = tables.kept_lines()
    monkeypatch.setattr(tables, "grammar_text", missing)
    assert kept and tables.kept_lines() == kept
