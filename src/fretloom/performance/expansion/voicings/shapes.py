"""What `add`, `lift`, `move`, `mute`, `up` and `down` do to a voicing."""

from __future__ import annotations

from fretloom.notation.model.voicing import Add, Change, Lift, Move, Mute, Shift
from fretloom.text import listed


class ShapeFault(Exception):
    """A change that cannot be made: a rule's name, what is wrong, and the hint."""

    def __init__(self, rule: str, message: str, hint: str) -> None:
        super().__init__(message)
        self.rule = rule
        self.message = message
        self.hint = hint


class Shape:
    """Frets and fingers while they are being changed, string with the highest number first.

    `loose` holds open strings that a shift should have moved and could not (yet).
    """

    def __init__(
        self, name: str, frets: tuple[int | None, ...], fingers: tuple[str | None, ...]
    ) -> None:
        self.name = name
        self.frets = list(frets)
        self.fingers: list[str | None] = list(fingers) or [None] * len(frets)
        self.known = bool(fingers)
        self.loose: set[int] = set()
        self.shifted = 0

    def apply(self, change: Change) -> None:
        """Make one change.

        Raises:
            ShapeFault: it cannot be made.
        """
        match change:
            case Add():
                self._put(change.string, change.fret, change.finger)
            case Lift():
                self._lift(change.finger)
            case Move():
                self._lift(change.finger)
                self._put(change.string, change.fret, change.finger)
            case Mute():
                self._put(change.string, None, None)
            case Shift():
                self._shift(change.frets)

    def refinger(self, fingers: tuple[str | None, ...]) -> None:
        """Take other fingers for the same frets."""
        self.fingers, self.known = list(fingers), True

    def _index(self, string: int) -> int:
        return len(self.frets) - string

    def _put(self, string: int, fret: int | None, finger: str | None) -> None:
        index = self._index(string)
        self.frets[index] = fret
        self.fingers[index] = finger if fret else None
        self.loose.discard(index)

    def _lift(self, finger: str) -> None:
        if not self.known:
            hint = f"write the fingers of {self.name}, for instance fingers .231.."
            message = f"it is not known which strings finger {finger} holds in {self.name}"
            raise ShapeFault("finger-unknown", message, hint)
        held = [index for index, one in enumerate(self.fingers) if one == finger]
        if not held:
            raise ShapeFault("lift-nothing", self._holds_nothing(finger), self._who_holds())
        for index in held:
            self.frets[index], self.fingers[index] = self._below(index, finger)

    def _holds_nothing(self, finger: str) -> str:
        who = "the thumb" if finger == "T" else f"finger {finger}"
        return f"{who} does not hold a string in {self.name}"

    def _who_holds(self) -> str:
        used = sorted({finger for finger in self.fingers if finger})
        if not used:
            return f"remove this change: {self.name} needs no fingers"
        return f"name a finger that holds {self.name}: {listed(used, 'or')}"

    def _below(self, index: int, lifted: str) -> tuple[int, str | None]:
        """Return what is left on a string: the barre below the finger, or the open string."""
        top = self.frets[index] or 0
        best: tuple[int, str | None] = (0, None)
        for finger in sorted({one for one in self.fingers if one} - {lifted}):
            barre = self._barre(finger, index)
            if barre is not None and best[0] < barre < top:
                best = (barre, finger)
        return best

    def _barre(self, finger: str, index: int) -> int | None:
        """Return the fret of a finger that lies across a string, held on both sides of it."""
        places = [place for place, one in enumerate(self.fingers) if one == finger]
        frets = {fret for place in places if (fret := self.frets[place])}
        if len(frets) != 1 or not places[0] < index < places[-1]:
            return None
        return frets.pop()

    def _shift(self, frets: int) -> None:
        self.shifted += frets
        for index, fret in enumerate(self.frets):
            if fret is None or index in self.loose:
                continue
            if fret == 0:
                self.loose.add(index)
            elif fret + frets < 1:
                string = len(self.frets) - index
                raise ShapeFault(
                    "no-such-fret",
                    f"down {-frets} would take string {string} of {self.name} below fret 1",
                    f"move it down {fret - 1} at most: {self.name} holds this string at fret {fret}",
                )
            else:
                self.frets[index] = fret + frets

    def settle(self) -> None:
        """Give open strings that were to be moved the fret of a barre that lies over them.

        Raises:
            ShapeFault: some of them are neither under a barre nor muted.
        """
        for index in sorted(self.loose):
            for finger in sorted({one for one in self.fingers if one}):
                barre = self._barre(finger, index)
                if barre is not None:
                    self.frets[index], self.fingers[index] = barre, finger
                    self.loose.discard(index)
                    break
            else:
                if self.fingers[index] and self.shifted > 0:
                    self.frets[index] = self.shifted
                    self.loose.discard(index)
        if self.loose:
            raise self._left_open()

    def _left_open(self) -> ShapeFault:
        strings = [str(len(self.frets) - index) for index in sorted(self.loose)]
        many = len(strings) > 1
        word = "up" if self.shifted > 0 else "down"
        message = (
            f"{self.name} has open strings ({' '.join(strings)}), which cannot move {word}"
            if many
            else f"string {strings[0]} of {self.name} is open and cannot move {word}"
        )
        fret = max(self.shifted, 1)
        hint = f"mute {'them' if many else 'it'} (mute {' '.join(strings)}), or hold "
        hint += f"{'them' if many else 'it'} down: add {strings[0]}@{fret}:1"
        return ShapeFault("open-string-moved", message, hint)
