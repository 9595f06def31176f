"""The templates of the pages, filled in with every text escaped."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from fretloom.errors import FretloomError
from fretloom.package_data import packaged_text
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import root_and_rest

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

#: The package that the templates lie in.
ROOM = "fretloom.formats.students.handout"
_MISSING = "a page for students needs {name}, which belongs to fretloom: pip install fretloom"


@cache
def _environment() -> Environment:
    # Not needed until a page is made; Jinja escapes what is filled in, so that no title becomes markup.
    try:
        from jinja2 import Environment, FunctionLoader, StrictUndefined
    except ModuleNotFoundError as error:
        raise _missing(error) from None

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
    """Return a template filled in; a text among the values is escaped, `trusted` markup is not.

    Raises:
        FretloomError: Jinja is not installed.
    """
    return trusted_markup(_environment().get_template(template).render(values))


def trusted_markup(written: str) -> Markup:
    """Return markup that this package has written itself and that is escaped within.

    Raises:
        FretloomError: MarkupSafe, which comes with Jinja, is not installed.
    """
    try:
        from markupsafe import Markup
    except ModuleNotFoundError as error:
        raise _missing(error) from None
    return Markup(written)


def _missing(error: ModuleNotFoundError) -> FretloomError:
    return FretloomError(_MISSING.format(name=(error.name or "jinja2").partition(".")[0]))
