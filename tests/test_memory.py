"""Dead objects are not looked for while many live ones are made, and are again afterwards."""

from __future__ import annotations

import gc
from threading import Event, Thread

import pytest

from fretloom.memory import no_collection


@pytest.mark.parametrize("collects", [True, False])
def test_the_search_is_put_off_and_left_as_it_was(collects: bool) -> None:
    """Whether it was on or off before, and also after an exception."""
    was = gc.isenabled()
    try:
        (gc.enable if collects else gc.disable)()
        with pytest.raises(ValueError, match="kiln"), no_collection():
            assert not gc.isenabled()
            raise ValueError("kiln")
        assert gc.isenabled() is collects
    finally:
        (gc.enable if was else gc.disable)()


def test_further_in_nothing_changes() -> None:
    """Only the outermost brings the search back, and once it is back it can be put off again."""
    assert gc.isenabled()
    with no_collection():
        with no_collection():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()
    with no_collection():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_threads_that_overlap_leave_it_as_it_was() -> None:
    """One that comes in the middle of another's work and stays longer neither brings it back nor keeps it off."""
    came, left = Event(), Event()

    def stay() -> None:
        with no_collection():
            came.set()
            left.wait(60)

    with no_collection():
        thread = Thread(target=stay)
        thread.start()
        assert came.wait(60)
        assert not gc.isenabled()
    assert (
        gc.isenabled()
    )  # Though the other is still inside: or many of them could keep it off for ever.
    with no_collection():
        left.set()
        thread.join(60)
        assert not gc.isenabled()
    assert gc.isenabled()
