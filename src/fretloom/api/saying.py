"""Answers in words, as plain data and as JSON: one function each for all of them."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any, TypeAlias

from fretloom.api.arguments import text_given
from fretloom.diagnostics import Diagnostic
from fretloom.text import listed
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.arranging.easing.eased import Eased
    from fretloom.arranging.easing.fits import LevelFits
    from fretloom.arranging.find_capos import CapoChoices
    from fretloom.arranging.find_voicings import FoundVoicings
    from fretloom.arranging.new_key import Transposed
    from fretloom.arranging.sounds import Sounds
    from fretloom.performance.hands.hardest import Hands
    from fretloom.practising.plan import PracticePath

    Answer: TypeAlias = (
        Diagnostic
        | Sequence[Diagnostic]
        | Hands
        | Sounds
        | FoundVoicings
        | CapoChoices
        | Transposed
        | PracticePath
        | LevelFits
        | Eased
    )


@frozen
class _Saying:
    """How one kind of answer is said: its class, the kind of its document, and "module:function" for both forms."""

    made_by: str
    kind: str
    text: str
    data: str


_FINDINGS = _Saying(
    "", "findings", "report.findings.text:findings_text", "report.findings.json:findings_data"
)
_SAYINGS = {
    "Hands": _Saying(
        "fretloom.performance.hands.hardest",
        "hands",
        "report.advice.hands_text:hands_text",
        "report.advice.hands_json:hands_data",
    ),
    "Sounds": _Saying(
        "fretloom.arranging.sounds",
        "sounds",
        "report.advice.sounds_text:sounds_text",
        "report.advice.sounds_json:sounds_data",
    ),
    "FoundVoicings": _Saying(
        "fretloom.arranging.find_voicings",
        "voicings",
        "report.advice.suggestions_text:voicings_text",
        "report.advice.suggestions_json:voicings_data",
    ),
    "CapoChoices": _Saying(
        "fretloom.arranging.find_capos",
        "capos",
        "report.advice.suggestions_text:capos_text",
        "report.advice.suggestions_json:capos_data",
    ),
    "Transposed": _Saying(
        "fretloom.arranging.new_key",
        "transposed",
        "report.advice.remarks:remarks_text",
        "report.advice.suggestions_json:transposed_data",
    ),
    "PracticePath": _Saying(
        "fretloom.practising.plan",
        "practice",
        "formats.students.practice.page:practice_text",
        "report.practice.practice_json:practice_data",
    ),
    "LevelFits": _Saying(
        "fretloom.arranging.easing.fits",
        "levels",
        "report.easing.levels_text:levels_text",
        "report.easing.levels_json:levels_data",
    ),
    "Eased": _Saying(
        "fretloom.arranging.easing.eased",
        "eased",
        "report.easing.eased_text:eased_text",
        "report.easing.eased_json:eased_data",
    ),
}


def as_text(answer: Answer) -> str:
    """Return an answer for people, as the command prints it; every line ends with a line end.

    Findings come with place, message, the line with a caret, and what to do; of a transposed or an
    eased lesson what its teacher should look at. No findings and no remarks are an empty text.

    Args:
        answer: a finding, a list or tuple of findings, or what `hands`, `sounds`,
            `suggest_voicings`, `suggest_capos`, `transpose`, `practice`, `levels` or `ease` returned.

    Raises:
        TypeError: it is something else.
    """
    saying, given = _saying(answer)
    text: str = _function(saying.text)(given)
    return text


def as_data(answer: Answer) -> dict[str, Any]:
    """Return an answer as values that JSON has: dicts, lists, texts, numbers, True, False and None.

    `format` names the kind of document and `version` says which fields it has; `json_schema`
    describes them. Takes and raises what `as_text` does.
    """
    from fretloom.report.documents import document

    saying, given = _saying(answer)
    return document(saying.kind, _function(saying.data)(given))


def as_json(answer: Answer) -> str:
    """Return what `as_data` returns as JSON text."""
    from fretloom.report.documents import as_json_text

    return as_json_text(as_data(answer))


def json_schema(kind: str) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a kind of document.

    Args:
        kind: what follows `fretloom-` in the document's `format`: "findings", "hands", "sounds",
            "voicings", "capos", "transposed", "levels", "eased", "practice", "music" or "lesson".

    Raises:
        FretloomError: there is no such kind.
    """
    from fretloom.report.documents import schema

    text_given("kind", kind)

    return schema(kind)


def _saying(answer: object) -> tuple[_Saying, object]:
    if isinstance(answer, Diagnostic):
        return _FINDINGS, (answer,)
    if isinstance(answer, list | tuple) and all(isinstance(one, Diagnostic) for one in answer):
        return _FINDINGS, answer
    saying = _SAYINGS.get(type(answer).__name__)
    if saying is None or saying.made_by != type(answer).__module__:
        names = listed(["Diagnostic", "a list of them", *_SAYINGS], "or")
        raise TypeError(f"answer is {names}, not {type(answer).__name__}")
    return saying, answer


def _function(place: str) -> Any:
    module, _, name = place.partition(":")
    return getattr(import_module(f"fretloom.{module}"), name)
