"""A scene of a script: what is on screen, what is said and played, and how long that takes."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from fretloom.performance.events import TimedBar
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: Times are said in steps of so many seconds.
_STEP = 10


@frozen
class PlayedThing:
    """Something that is played, and how many seconds it takes."""

    text: str
    seconds: Fraction


@frozen(kw_only=True)
class Scene:
    """A scene.

    Args:
        title: what it is about. screen: what should be seen. says: sentences in the order in which they are
            said, each with what belongs to it. plays: what is played after that.
    """

    title: str
    screen: str
    says: tuple[str, ...]
    plays: tuple[PlayedThing, ...] = ()

    @property
    def words(self) -> int:
        """How many words are said."""
        return sum(len(one.split()) for one in self.says)

    def speaking(self, rate: int) -> Fraction:
        """Return the seconds of speaking, at `rate` words a minute."""
        return Fraction(60 * self.words, rate)

    @property
    def playing(self) -> Fraction:
        """The seconds of playing."""
        return sum((one.seconds for one in self.plays), Fraction(0))


def seconds_of(bars: Iterable[TimedBar], quarters_a_minute: Fraction) -> Fraction:
    """Return how long bars take at a tempo."""
    return sum((one.length for one in bars), Fraction(0)) * 60 / quarters_a_minute


def time_words(seconds: Fraction) -> str:
    """Say a time, rounded up to ten seconds: "40 seconds", "2 minutes", "1 minute 30 seconds"."""
    whole = max(1, -(-seconds // _STEP)) * _STEP
    minutes, rest = divmod(int(whole), 60)
    if not minutes:
        return say("script.seconds", seconds=rest)
    said = say("script.minute") if minutes == 1 else say("script.minutes", minutes=minutes)
    return say("script.and-seconds", minutes=said, seconds=rest) if rest else said


def minutes_words(minutes: int) -> str:
    """Say whole minutes: "12 minutes"."""
    return say("script.minute") if minutes == 1 else say("script.minutes", minutes=minutes)
