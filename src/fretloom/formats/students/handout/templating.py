"""The templates of the pages, filled in with every text escaped."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from fretloom.package_data import packaged_text
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import root_and_rest

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

#: The package that the templates lie in.
ROOM = "fretloom.formats.students.handout"


@cache
def _environment() -> Environment:
    # Not needed until a page is made; Jinja escapes what is filled in, so that no title becomes markup.
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    made = Environment(
        loader=FunctionLoader(lambda name: packaged_text(ROOM, f"templates/{name}")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals |= {"say": say, "split_chord": root_and_rest}
    return made


def filled(template: str, **values: object) -> Markup:
    """Return a template filled in; a text among the values is escaped, `trusted` markup is not."""
    from markupsafe import Markup

    return Markup(_environment().get_template(template).render(values))


def trusted_markup(written: str) -> Markup:
    """Return markup that this package has written itself and that is escaped within."""
    from markupsafe import Markup

    return Markup(written)
