"""The parser and its kept tables."""

from __future__ import annotations

from fretloom.notation.syntax import grammar

LINES = {
    "voicing_line": "B7 x21202 fingers .213.4 bass 5 4 6 4 hop 2 to 6@2",
    "body_line": '"la" E:3 E7:1 x2 | % | A { p+a, (p i), [p -] m } with a@3 on 2&',
    "form_line": "but bars 5-6: A | B7",
}


def test_the_kept_tables_are_those_of_the_grammar() -> None:
    """After a change of the grammar, `python -m fretloom.notation.syntax.grammar` has to be run.

    Tables made by another version of Lark are not used and need not be the same.
    """
    import lark

    with grammar.TABLES.open("rb") as kept:
        fingerprint, _, version = kept.readline().decode("ascii").split()
    assert fingerprint == grammar.fingerprint() or version != lark.__version__


def test_a_parser_from_tables_reads_what_a_parser_from_the_grammar_reads(
    tmp_path, monkeypatch
) -> None:
    """The tables are a short cut and nothing else."""
    grammar.write_tables(tmp_path / "tables")
    monkeypatch.setattr(grammar, "TABLES", tmp_path / "tables")
    quick, slow = grammar._from_tables(), grammar.worked_out()
    assert quick is not None
    for rule, line in LINES.items():
        assert quick.parse(line, start=rule) == slow.parse(line, start=rule)


def test_tables_for_another_grammar_are_not_used(monkeypatch) -> None:
    """Old tables cost time, never a wrong reading."""
    monkeypatch.setattr(grammar, "fingerprint", lambda: "of-another-grammar")
    assert grammar._from_tables() is None
