"""Laws on things that are slow to make: a run makes them once, and tries every law on all of them.

A pool makes its things with a strategy of hypothesis, in shares, the same on every machine. A law is
tried share by share; all tests of a share go to the same worker (`scope_of`), so that none is made
twice. With `pytest --hypothesis-profile deep` every law makes things of its own, new ones each time,
and hypothesis makes what fails smaller.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random
from typing import Any, Generic, TypeVar

import pytest
from attrs import define, evolve, field
from forgetting import forgetful
from hypothesis import given, settings
from hypothesis import strategies as st

#: An attrs class; what it works out and keeps is worked out anew where `forgetful` asks for it.
Thing = TypeVar("Thing")
Law = Callable[..., None]

#: More than any thing is drawn from; where it does not suffice, the next one is tried.
BYTES = 1 << 16


def scope_of(nodeid: str) -> str:
    """Return what a test is kept together with: the others of its share, or nothing but itself."""
    share = re.search(r"\[(\w+-share-\d+)\]$", nodeid)
    return share[1] if share else nodeid


def deep() -> bool:
    """Whether the run was asked for new things instead of pooled ones."""
    return settings.get_current_profile_name() == "deep"


@define(eq=False)
class Pool(Generic[Thing]):
    """So many shares of so many things; `shown` says what one is, and the shortest is the smallest."""

    name: str
    strategy: st.SearchStrategy[Thing]
    shown: Callable[[Thing], str]
    shares: int
    each: int
    _made: dict[int, tuple[Thing, ...]] = field(factory=dict, init=False)

    def law(self, *, most: int | None = None) -> Callable[[Law], Law]:
        """Make a test of a function that takes one thing and fails where its law does not hold.

        Args:
            most: how many things a slow law is tried on, spread evenly; by default all of them.
        """
        wanted = most or self.shares * self.each
        assert 0 < wanted <= self.shares * self.each
        if forgetful():  # Each is worked out for each law.
            wanted = max(self.shares, wanted // 4)

        def of(law: Law) -> Law:
            made = self._fresh(law) if deep() else self._pooled(law, wanted)
            made.__name__, made.__qualname__ = law.__name__, law.__qualname__
            made.__module__, made.__doc__ = law.__module__, law.__doc__
            return made

        return of

    def _fresh(self, law: Law) -> Law:
        @given(self.strategy)
        def test(thing: Thing) -> None:
            law(thing)

        return test

    def _pooled(self, law: Law, wanted: int) -> Law:
        @self.by_share
        def test(share: int) -> None:
            found = self.share(share)
            step = self.shares * self.each / wanted
            kept = [found[int(place * step)] for place in range(-(-wanted // self.shares))]
            for thing in sorted(kept, key=lambda one: len(self.shown(one))):
                try:
                    law(evolve(thing) if forgetful() else thing)
                except Exception as error:
                    error.add_note(
                        f"The smallest of share {share} that fails:\n{self.shown(thing)}"
                    )
                    raise

        return test

    @property
    def by_share(self) -> Any:
        """What makes a test of each share: it gets the number of one, to be given to `share`."""
        return pytest.mark.parametrize(
            "share", range(self.shares), ids=[f"{self.name}-share-{n}" for n in range(self.shares)]
        )

    def share(self, number: int) -> tuple[Thing, ...]:
        """Return the things of one share, in the order in which they were made."""
        if number not in self._made:
            self._made[number] = self._make(number)
        return self._made[number]

    def _make(self, number: int) -> tuple[Thing, ...]:
        """Draw the things one by one from bytes of chance, none a variation of another."""
        chance = Random(f"{self.name} {number}")
        found: list[Thing] = []

        @given(self.strategy)
        def collect(thing: Thing) -> None:
            found.append(thing)

        while len(found) < self.each:
            collect.hypothesis.fuzz_one_input(chance.randbytes(BYTES))
        return tuple(found)
