"""The laws that the fuzzer tries hold for what it starts from, and can fail."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "fuzz"))

import laws
import seeds

import fretloom


@pytest.mark.parametrize("law", laws.LAWS)
def test_laws_hold_for_every_tenth_seed(law: str) -> None:
    """Examples, pages of rules and slips; the fuzzer goes on from there."""
    found = seeds.seeds(law)
    assert len(found) > 200
    for seed in found[::10]:
        laws.LAWS[law](seed)


def test_what_is_no_text_is_refused() -> None:
    """Bytes that are not UTF-8 are nobody's lesson."""
    assert laws.read(b"\xff") is None


def test_a_law_can_fail(monkeypatch: pytest.MonkeyPatch) -> None:
    """A writer that changes the lesson is noticed."""
    monkeypatch.setattr(fretloom, "dumps", lambda lesson: 'lesson "Other"\n')
    with pytest.raises(AssertionError, match="another lesson"):
        laws.loads_checks_and_formats(b'lesson "Tea"\n')


def test_the_words_are_those_of_the_notation(tmp_path: Path) -> None:
    """The dictionary has words of the grammar, in the form that the fuzzer reads."""
    listed = seeds.write("text", tmp_path / "corpus").read_text(encoding="ascii")
    escaped = "".join(f"\\x{byte:02x}" for byte in b"section")
    assert f'"{escaped}"\n' in listed
