"""Dead objects are not looked for while many live ones are made, and are again afterwards."""

from __future__ import annotations

import gc

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
