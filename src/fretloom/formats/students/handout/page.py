"""Puts a page together: the head, and the parts that are wanted, in order."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.formats.students.handout.lettering import faces, style
from fretloom.formats.students.handout.options import PARTS, SHEETS, HandoutOptions
from fretloom.formats.students.handout.parts.all_parts import Parts
from fretloom.formats.students.handout.parts.card_fit import CardFit, card_fit
from fretloom.formats.students.handout.parts.player_part import player_style
from fretloom.formats.students.handout.size import refuse_too_much
from fretloom.formats.students.handout.templating import filled, trusted_markup
from fretloom.formats.students.telling.head import PageHead, counted_from, head_of
from fretloom.performance.reading import Reading
from fretloom.values import evolve
from fretloom.version import VERSION


def page_of(reading: Reading, options: HandoutOptions, *, as_pdf: bool = False) -> str:
    """Return the page of a lesson in HTML, whole in itself: no other file is needed to read it.

    A page that becomes a PDF may hold less: `as_pdf`.

    Raises:
        FretloomError: nothing is played in the lesson, or there is more to draw than a page holds.
    """
    if not reading.timeline.bars:
        raise FretloomError("no bar is played in the lesson, so there is nothing to hand out")
    if as_pdf:
        options = evolve(options, without_player=True)
    settings = reading.timeline.settings
    head = head_of(settings)
    parts = Parts(reading, options)
    wanted = wanted_parts(options)
    refuse_too_much(parts, wanted, as_pdf=as_pdf)
    made = parts.made(wanted)
    player = parts.player()
    return str(
        filled(
            "page.html",
            head=head,
            title=head.title,
            neck=parts.artist.neck(),
            parts=made,
            player=player,
            sheet=options.sheet,
            paper=options.page_size,
            body_class=f"{options.sheet} {'large' if options.large else 'usual'}",
            fit=_fit(parts, head, options),
            fonts=trusted_markup(faces()),
            style=trusted_markup(
                style(options.page_size, options.large) + (f"\n{player_style()}" if player else "")
            ),
            foot=counted_from(settings, parts.listener),
            version=VERSION,
        )
    )


def _fit(parts: Parts, head: PageHead, options: HandoutOptions) -> CardFit | None:
    """Return how a wall card is laid out; in large print it takes the sheets that it needs."""
    if options.sheet != "wall-card" or options.large:
        return None
    return card_fit(parts, head, options.page_size)


def wanted_parts(options: HandoutOptions) -> tuple[str, ...]:
    """Return the parts of a sheet, in the order of the page.

    Raises:
        FretloomError: parts are named for a sheet that has its own.
    """
    if not options.parts:
        return SHEETS[options.sheet]
    if options.sheet != "handout":
        raise FretloomError(f"parts can be chosen for the handout, not for the {options.sheet}")
    return tuple(part for part in PARTS if part in options.parts)
