"""Counts what is plucked against the limits: all that is played, and once each what differs."""

from __future__ import annotations

from fretloom.limits import LIMITS


class Room:
    """How many notes there may still be.

    What is played again is cheap, since it is worked out once. So there is one limit for all that is
    played, and a lower one for bars that differ: as they are written, and as they sound when
    others follow them. A silent bar counts as one note there.
    """

    def __init__(self) -> None:
        self._played = LIMITS.notes
        self._written = self._sounding = LIMITS.notes_different
        self._known: set[object] = set()
        self.lacking = ""

    def again(self) -> None:
        """Give as much again for what is played, for the sections as they are written."""
        if not self.lacking:
            self._played = LIMITS.notes

    def played(self, bar: object, notes: int) -> bool:
        """Count a bar that is played; say whether there is room for it. Equal objects are one bar."""
        self._played -= notes
        if self._is_new(bar):
            self._written -= max(1, notes)
        if self._played < 0:
            self.lacking = "played"
        elif self._written < 0:
            self.lacking = "different"
        return not self.lacking

    def sounds(self, bar: object, notes: int) -> bool:
        """Count a bar as it sounds with what follows; say whether there is room for it."""
        if self._is_new(bar):
            self._sounding -= max(1, notes)
        if self._sounding < 0:
            self.lacking = "different"
        return not self.lacking

    def _is_new(self, bar: object) -> bool:
        if bar in self._known:
            return False
        self._known.add(bar)
        return True

    def words(self) -> tuple[str, str]:
        """Return what is said when there is no room, and what to do."""
        if self.lacking == "played":
            message = f"the lesson would pluck more than {LIMITS.notes} notes, which is the limit"
            return message, "play its sections less often, or pluck fewer notes in a beat"
        message = (
            f"the bars of this lesson that differ have more than {LIMITS.notes_different} notes "
            "together (a silent bar counts as one), which is the limit"
        )
        return message, "write what is played again as a repeat or in the form, or make two lessons"
