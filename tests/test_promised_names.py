"""What was promised once is there: names only come, and one that has to go warns first."""

from __future__ import annotations

import json

import pytest
from places import TESTS

import fretloom
from fretloom import answers, extending, model
from fretloom.frontends.command.main import _COMMANDS
from fretloom.report.documents import DOCUMENTS
from fretloom.rule_facts import RULES

#: Written anew by `python tests/test_promised_names.py`; what is taken out of it has warned before.
PROMISED = TESTS / "data" / "promised.json"


def there_is() -> dict[str, list[str]]:
    """Return all names that programs may build on, by their place."""
    return {
        "fretloom": sorted(fretloom.__all__),
        "fretloom.answers": sorted(answers.__all__),
        "fretloom.extending": sorted(extending.__all__),
        "fretloom.model": sorted(model.__all__),
        "commands": sorted(_COMMANDS),
        "formats": sorted(one.name for one in fretloom.known_formats()),
        "json": sorted(DOCUMENTS),
        "rules": sorted(one.name for one in RULES),
    }


def test_what_was_promised_is_there() -> None:
    """New names may come; the list is written anew before a release, and they are promised from then on."""
    promised = json.loads(PROMISED.read_text(encoding="utf-8"))
    now = there_is()
    gone = {place: sorted(set(names) - set(now[place])) for place, names in promised.items()}
    assert {place: names for place, names in gone.items() if names} == {}
    assert sum(map(len, promised.values())) > 300


def test_a_name_that_will_go_warns_and_works(monkeypatch: pytest.MonkeyPatch) -> None:
    """It says what to use, at the line of the program that uses it."""
    monkeypatch.setitem(fretloom._GOING, "read_lesson", "load")  # type: ignore[attr-defined]
    with pytest.warns(DeprecationWarning, match=r"fretloom\.read_lesson will go: use fretloom\.load") as caught:  # fmt: skip
        assert fretloom.read_lesson is fretloom.load  # type: ignore[attr-defined]
    assert caught[0].filename == __file__
    with pytest.raises(AttributeError, match="has no attribute 'read_lessons'"):
        fretloom.read_lessons  # type: ignore[attr-defined]  # noqa: B018


if __name__ == "__main__":
    PROMISED.write_text(json.dumps(there_is(), indent=1) + "\n", encoding="utf-8")
