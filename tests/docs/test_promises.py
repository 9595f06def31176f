"""The page of promises: each line names a test that there is."""

from __future__ import annotations

import re

from places import PROJECT, TESTS

PAGE = (PROJECT / "docs" / "explanation" / "what-is-promised.md").read_text(encoding="utf-8")
_NAMED = re.compile(r"`([\w/]+\.py)(?:::(\w+))?`")


def test_each_promise_names_a_test_that_there_is() -> None:
    """In the last cell of its row."""
    rows = [line for line in PAGE.splitlines() if line.startswith("| ") and line.count(" | ") == 1]
    promises = [row for row in rows if not row.startswith(("| promise", "| ---"))]
    assert len(promises) > 20
    for row in promises:
        found = _NAMED.findall(row.rsplit(" | ", 1)[1])
        assert found, row
        for file, test in found:
            text = (TESTS / file).read_text(encoding="utf-8")
            assert f"\ndef {test}(" in text or not test, row
