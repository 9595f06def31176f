"""Options of MusicXML, plain and packed."""

from __future__ import annotations

from typing import Literal, TypeAlias

from fretloom.formats.musicxml.planning.staves import LAYOUTS
from fretloom.formats.options import FormatOptions, date, one_of, switch
from fretloom.values import frozen

FingersName: TypeAlias = Literal["first", "all"]
FormName: TypeAlias = Literal["folded", "played"]
LayoutName: TypeAlias = Literal["notation-and-tab", "two-parts", "notation", "tab"]
WordsName: TypeAlias = Literal["song", "none"]


@frozen(kw_only=True)
class ScoreOptions(FormatOptions):
    """How a score is written.

    Args:
        layout: "notation-and-tab" (one part with two staves), "two-parts", "notation" or "tab".
        concert: what sounds is written instead of what the hand plays with the capo.
        fingers: "first" prints each finger where it is news to the reader, "all" at every note.
        ring_ties: every note that rings over a bar line is marked with a let-ring tie. Left off, the
            words "let ring" stand over the first bar: some programs play a bar late after such ties.
        words: "song" puts the words of the song under the notes, "none" leaves them out.
        form: "folded" (each bar once, with repeats, endings and a jump where they say what is played)
            or "played" (every bar in performing order).
        encoding_date: a day, `YYYY-MM-DD`, to be written into the file; None for none.
    """

    layout: LayoutName = one_of(tuple(LAYOUTS), "which staves to write, in one part or two")
    concert: bool = switch("write what sounds, not what the hand plays with the capo")
    fingers: FingersName = one_of(
        ("first", "all"), "print each finger where it is news, or at every note"
    )
    ring_ties: bool = switch("put a let-ring tie on each note that rings over a bar line")
    words: WordsName = one_of(
        ("song", "none"), "whether the words of the song stand under the notes"
    )
    form: FormName = one_of(
        ("folded", "played"), "write each bar once, with repeats, or all bars as they are played"
    )
    encoding_date: str | None = date("the day to write into the file")
