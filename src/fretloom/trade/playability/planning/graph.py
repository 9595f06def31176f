"""The graph of a song's changes: voicings with the options still open, and what pairs of them cost.

It knows numbers only: what a voicing costs with each option, and a function for what a change costs.
Every cost of a change is worked out once, and all that is worked out or compared is counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

#: Rounds of striking out; each makes the next one find more, but seldom after a few.
_ROUNDS = 10
_ALIKE = 1e-12

#: What changing between two voicings (the lower one first) costs with an option of each.
PairCost = Callable[[int, int, int, int], float]


class Graph:
    """Voicings by number, their open options, and their changes.

    Args:
        held: for each voicing the cost of each of its options.
        pairs: which voicings are changed between, the lower number first.
        cost: what a pair costs. most: of how many pairs of options costs are worked out; where it
            would be more, only the first options of every voicing stay open.
    """

    def __init__(
        self,
        held: Sequence[Sequence[float]],
        pairs: Iterable[tuple[int, int]],
        cost: PairCost,
        most: int,
    ) -> None:
        self.held = held
        self.pairs = tuple(dict.fromkeys(pairs))
        self.near: list[list[int]] = [[] for _ in held]
        for one, other in self.pairs:
            self.near[one].append(other)
            self.near[other].append(one)
        self._cost = cost
        self._known: dict[tuple[int, int, int, int], float] = {}
        self.steps = 0
        self.kept = self._options_kept(most)
        self.open = [list(range(min(len(costs), self.kept))) for costs in held]

    @property
    def whole(self) -> bool:
        """Whether all options were open at the beginning."""
        return all(len(costs) <= self.kept for costs in self.held)

    def _options_kept(self, most: int) -> int:
        kept = max((len(costs) for costs in self.held), default=1)
        while kept > 1 and self._size(kept) > most:
            kept -= 1
        return kept

    def _size(self, kept: int) -> int:
        sizes = [min(len(costs), kept) for costs in self.held]
        return sum(sizes[one] * sizes[other] for one, other in self.pairs)

    def pair(self, one: int, other: int, first: int, second: int) -> float:
        """What changing between two voicings costs with an option of each."""
        self.steps += 1
        if one > other:
            one, other, first, second = other, one, second, first
        key = (one, other, first, second)
        cost = self._known.get(key)
        if cost is None:
            cost = self._known[key] = self._cost(*key)
        return cost

    def around(self, at: int, option: int, chosen: Sequence[int]) -> float:
        """What an option of a voicing costs while all others are chosen."""
        return self.held[at][option] + sum(
            self.pair(at, other, option, chosen[other]) for other in self.near[at]
        )

    def strike_out(self) -> None:
        """Remove options that lose to a better one whatever the neighbours do (exact)."""
        for _ in range(_ROUNDS):
            struck = [self._strike(at) for at in range(len(self.held))]
            if not any(struck):
                return

    def _strike(self, at: int) -> bool:
        options = self.open[at]
        if len(options) < 2:
            return False
        best = min(options, key=lambda option: (self.held[at][option], option))
        worst = self.held[at][best] + sum(
            max(self.pair(at, other, best, theirs) for theirs in self.open[other])
            for other in self.near[at]
        )
        kept = [one for one in options if one == best or self.held[at][one] < worst]
        kept = [one for one in kept if one == best or not self._loses(at, one, best)]
        self.open[at] = kept
        return len(kept) < len(options)

    def _loses(self, at: int, one: int, best: int) -> bool:
        gain = self.held[at][one] - self.held[at][best]
        for other in self.near[at]:
            gain += min(
                self.pair(at, other, one, theirs) - self.pair(at, other, best, theirs)
                for theirs in self.open[other]
            )
        return gain > _ALIKE or (gain >= -_ALIKE and one > best)
