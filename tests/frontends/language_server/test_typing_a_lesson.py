"""Lessons typed in an editor that speaks to the server as any other does: one process, driven over stdio."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from editing import Editor
from lsprotocol import types
from places import EXAMPLES
from pygls.exceptions import JsonRpcException

from fretloom import check, loads
from fretloom.limits import LIMITS
from fretloom.source import Source, Span

pytestmark = pytest.mark.process

LINES = """lesson "Two cups"
  plays in C
  tempo 80

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4
  Am  x02210  fingers ..231.  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section verse  using plain
  C | Am | C x2

form
  verse
"""


@pytest.fixture(scope="module", params=[0], ids=["editor-share-0"])
def editor(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Editor]:
    """Return an editor with the server running; it leaves as the protocol wants it, and nothing was amiss."""
    folder = tmp_path_factory.mktemp("typing")
    one = Editor()
    answer = one.start(folder)
    assert answer.capabilities.position_encoding == types.PositionEncodingKind.Utf16
    one.folder = folder  # type: ignore[attr-defined]
    yield one
    code, errors = one.end()
    assert (code, errors, one.wrong) == (0, b"", [])
    assert one.said == []


def _file(editor: Editor, name: str) -> Path:
    folder: Path = editor.folder  # type: ignore[attr-defined]
    return folder / name


def _at(uri: str) -> types.TextDocumentIdentifier:
    return types.TextDocumentIdentifier(uri)


def _applied(editor: Editor, uri: str, edits: list[types.TextEdit]) -> str:
    """Return a text after edits, made by the places that an editor counts."""
    text = editor.texts[uri]
    starts = [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))

    def offset(place: types.Position) -> int:
        rest = text[starts[place.line] :].encode("utf-16-le")[: 2 * place.character]
        return starts[place.line] + len(rest.decode("utf-16-le"))

    for one in sorted(edits, key=lambda edit: offset(edit.range.start), reverse=True):
        text = text[: offset(one.range.start)] + one.new_text + text[offset(one.range.end) :]
    return text


def _changes(edit: types.WorkspaceEdit) -> dict[str, list[types.TextEdit]]:
    return {one.text_document.uri: list(one.edits) for one in edit.document_changes or ()}  # type: ignore[union-attr, arg-type, misc]


def _actions(
    editor: Editor, uri: str, place: types.Position, only: str | None = None
) -> list[types.CodeAction]:
    context = types.CodeActionContext([], only=[only] if only else None)
    asked = types.CodeActionParams(_at(uri), types.Range(place, place), context)
    found: list[types.CodeAction] = editor.ask(types.TEXT_DOCUMENT_CODE_ACTION, asked)
    return found


def _offered(editor: Editor, uri: str, place: types.Position) -> list[types.CompletionItem]:
    asked = types.CompletionParams(_at(uri), place)
    return list(editor.ask(types.TEXT_DOCUMENT_COMPLETION, asked).items)


def test_a_lesson_is_typed_line_by_line(editor: Editor) -> None:
    """From an empty text to one without findings; after each line the findings are those of a check."""
    file = _file(editor, "cups.lesson")
    uri = editor.open(file, "")
    assert editor.codes(uri) == ["empty-lesson"]
    for line in LINES.splitlines(keepends=True):
        editor.type_out(uri, line)
        expected = [one.rule for one in check(loads(editor.texts[uri], path=file))]
        assert editor.codes(uri) == expected
    assert editor.codes(uri) == []
    editor.close(uri)
    assert editor.shown[uri].diagnostics in ([], ())


def test_a_finding_has_all_that_an_editor_shows(editor: Editor) -> None:
    """Its rule, its place, how bad it is, what to do, what it is related to, and whether it is needless."""
    uri = editor.open(
        _file(editor, "found.lesson"), LINES.replace("form\n", "  C using fill\n\nform\n")
    )
    (fault,) = editor.findings(uri)
    assert (fault.code, fault.source) == ("unknown-pattern", "fretloom")
    assert fault.severity == types.DiagnosticSeverity.Error
    assert "there is no pattern fill\n" in fault.message
    assert fault.range.start == editor.place(uri, "using fill", 6)
    editor.put(uri, LINES.replace("Am | C x2", "C x3"))
    (unused,) = editor.findings(uri)
    assert (unused.code, unused.severity) == ("unused-voicing", types.DiagnosticSeverity.Warning)
    assert unused.tags == [types.DiagnosticTag.Unnecessary] or tuple(unused.tags or ()) == (1,)
    editor.put(uri, LINES.replace("form\n", "voicings\n  C  x32013\n\nform\n"))
    (twice,) = [one for one in editor.findings(uri) if one.code == "doubled-name"]
    (other,) = twice.related_information or ()
    assert (other.location.uri, other.location.range.start.line) == (uri, 5)
    editor.close(uri)


def test_a_fault_is_mended_by_its_quick_fix(editor: Editor) -> None:
    """The sure change of a finding, all of them at once, and the comment that allows one."""
    uri = editor.open(_file(editor, "fix.lesson"), LINES.replace("using plain", "using plainn"))
    assert editor.codes(uri) == ["unknown-pattern"]
    (fix,) = [one for one in _actions(editor, uri, editor.place(uri, "plainn")) if one.is_preferred]
    assert fix.kind == types.CodeActionKind.QuickFix
    assert _applied(editor, uri, _changes(fix.edit)[uri]) == LINES  # type: ignore[arg-type]
    spoiled = LINES.replace("using plain", "using plainn").replace("patterns\n", "paterns\n")
    editor.put(uri, spoiled)
    editor.findings(uri)
    whole = types.Range(types.Position(0, 0), types.Position(99, 0))
    asked = types.CodeActionParams(_at(uri), whole, types.CodeActionContext([], only=["quickfix"]))
    assert (
        len([one for one in editor.ask(types.TEXT_DOCUMENT_CODE_ACTION, asked) if one.is_preferred])
        == 2
    )
    (every,) = _actions(editor, uri, types.Position(0, 0), "source.fixAll")
    assert _applied(editor, uri, _changes(every.edit)[uri]) == LINES  # type: ignore[arg-type]
    editor.put(uri, LINES.replace("Am | C x2", "C x3"))
    (allow,) = _actions(editor, uri, editor.place(uri, "Am  x"), "quickfix")
    editor.put(uri, _applied(editor, uri, _changes(allow.edit)[uri]))  # type: ignore[arg-type]
    assert editor.codes(uri) == ["unused-voicing", "waiver-without-reason"]
    editor.put(uri, editor.texts[uri].replace("voicing: ", "voicing: for next week"))
    assert editor.codes(uri) == []
    editor.close(uri)


def test_what_stands_at_a_place_and_what_may_follow(editor: Editor) -> None:
    """Hover, completion, outline, folding and hints, as an editor asks for them."""
    uri = editor.open(_file(editor, "asked.lesson"), LINES + "section odd\n  Am { p , p")
    hover = editor.ask(
        types.TEXT_DOCUMENT_HOVER, types.HoverParams(_at(uri), editor.place(uri, "Am |"))
    )
    assert "Am is right" in hover.contents.value
    assert hover.range == types.Range(editor.place(uri, "Am |"), editor.place(uri, "Am |", 2))
    nothing = editor.ask(
        types.TEXT_DOCUMENT_HOVER, types.HoverParams(_at(uri), types.Position(3, 0))
    )
    assert nothing is None
    items = _offered(editor, uri, editor.place(uri, "plain\n", 2))
    assert [one.label for one in items] == ["plain"]
    edit = items[0].text_edit
    assert isinstance(edit, types.TextEdit)
    assert edit.range == types.Range(editor.place(uri, "plain\n"), editor.place(uri, "plain\n", 2))
    symbols = editor.ask(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL, types.DocumentSymbolParams(_at(uri)))
    assert [one.name for one in symbols] == [
        "Two cups",
        "voicings",
        "patterns",
        "verse",
        "form",
        "odd",
    ]
    assert [one.name for one in symbols[1].children] == ["C", "Am"]
    folds = editor.ask(types.TEXT_DOCUMENT_FOLDING_RANGE, types.FoldingRangeParams(_at(uri)))
    assert [(one.start_line, one.end_line) for one in folds][:2] == [(0, 2), (4, 6)]
    whole = types.Range(types.Position(0, 0), types.Position(99, 0))
    (hint,) = editor.ask(types.TEXT_DOCUMENT_INLAY_HINT, types.InlayHintParams(_at(uri), whole))
    assert (hint.label, hint.position) == ("2 beats left", editor.place(uri, "{ p , p", 7))
    editor.close(uri)


def test_a_file_that_lessons_share_is_read_as_it_is_typed(editor: Editor) -> None:
    """Not saved at all, or otherwise than on the disk; the lessons that use it are looked at again."""
    shared, file = _file(editor, "shapes.lesson"), _file(editor, "user.lesson")
    named = LINES.replace("voicings\n", 'use "shapes.lesson"\n\nvoicings\n').replace(
        "  Am  x02210  fingers ..231.  bass 5 4 5 4\n", ""
    )
    uri = editor.open(file, named)
    assert editor.codes(uri) == ["file-not-found"]
    other = editor.open(shared, "voicings\n  Am  x02210  fingers ..231.  bass 5 4 5 4\n")
    editor.until_codes(uri, [])
    editor.put(other, editor.texts[other].replace("Am ", "Em "))
    editor.until_codes(uri, ["unknown-voicing"])
    editor.put(other, "# of the group\n" + editor.texts[other].replace("Em ", "Am "))
    editor.until_codes(uri, [])
    asked = types.DefinitionParams(_at(uri), editor.place(uri, "Am |"))
    place = editor.ask(types.TEXT_DOCUMENT_DEFINITION, asked)
    assert (place.uri, place.range.start) == (other, editor.place(other, "Am"))
    asked = types.DefinitionParams(_at(uri), editor.place(uri, "shapes"))
    place = editor.ask(types.TEXT_DOCUMENT_DEFINITION, asked)
    assert (place.uri, place.range.start) == (other, types.Position(0, 0))
    everywhere = types.ReferenceParams(
        types.ReferenceContext(True), _at(other), editor.place(other, "Am")
    )
    found = editor.ask(types.TEXT_DOCUMENT_REFERENCES, everywhere)
    assert [(one.uri, one.range.start) for one in found] == [
        (other, editor.place(other, "Am")), (uri, editor.place(uri, "Am |")),
    ]  # fmt: skip
    asked = types.DocumentHighlightParams(_at(uri), editor.place(uri, "verse"))
    assert len(editor.ask(types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT, asked)) == 2
    _rename(editor, uri, other)
    editor.close(other)
    editor.until_codes(uri, ["file-not-found"])
    editor.close(uri)


def _rename(editor: Editor, uri: str, other: str) -> None:
    """Rename a voicing of the shared file from a lesson that uses it; what cannot be is refused, and nothing is done."""
    place = editor.place(uri, "Am |", 1)
    ready = editor.ask(
        types.TEXT_DOCUMENT_PREPARE_RENAME, types.PrepareRenameParams(_at(uri), place)
    )
    assert (ready.placeholder, ready.range.start) == ("Am", editor.place(uri, "Am |"))
    nowhere = types.PrepareRenameParams(_at(uri), types.Position(3, 0))
    assert editor.ask(types.TEXT_DOCUMENT_PREPARE_RENAME, nowhere) is None
    for wrong, why in (("C", "already"), ("two words", "cannot be called"), ("Bb7", "finding")):
        with pytest.raises(JsonRpcException, match=why):
            editor.ask(types.TEXT_DOCUMENT_RENAME, types.RenameParams(_at(uri), place, wrong))
    edit = editor.ask(types.TEXT_DOCUMENT_RENAME, types.RenameParams(_at(uri), place, "Am.soft"))
    changes = _changes(edit)
    assert {one.text_document.version for one in edit.document_changes} == {
        editor.versions[uri], editor.versions[other],
    }  # fmt: skip
    after = {one: _applied(editor, one, edits) for one, edits in changes.items()}
    assert after == {one: editor.texts[one].replace("Am", "Am.soft") for one in (uri, other)}
    for one, text in after.items():
        editor.put(one, text)
    editor.until_codes(uri, [])


def test_a_fault_of_a_shared_file_is_shown_in_it_while_a_lesson_uses_it(editor: Editor) -> None:
    """Once, however many lessons use it; with the last of them it goes."""
    shared = _file(editor, "faulty.lesson")
    shared.write_text("patterns\n  plain  p , p m , p i\n")
    text = LINES.replace("patterns\n  plain  p , p m , p i , p m\n", 'use "faulty.lesson"\n')
    first = editor.open(_file(editor, "one.lesson"), text)
    second = editor.open(_file(editor, "two.lesson"), text)
    assert (editor.codes(first), editor.codes(second)) == ([], [])
    editor.until_codes(shared.as_uri(), ["pattern-beats"])
    editor.close(first)
    editor.until_codes(shared.as_uri(), ["pattern-beats"])
    editor.close(second)
    editor.until_codes(shared.as_uri(), [])


def test_formatting_is_the_formatter_and_keeps_a_faulty_lesson(editor: Editor) -> None:
    """The edits make the text that `fretloom format` would; of a faulty one nothing is changed."""
    uri = editor.open(
        _file(editor, "format.lesson"), LINES.replace("  C   x", "    C x").replace("\n", "\r\n")
    )
    asked = types.DocumentFormattingParams(_at(uri), types.FormattingOptions(2, True))
    edits = editor.ask(types.TEXT_DOCUMENT_FORMATTING, asked)
    assert _applied(editor, uri, edits) == LINES.replace("\n", "\r\n")
    editor.put(uri, LINES)
    assert list(editor.ask(types.TEXT_DOCUMENT_FORMATTING, asked)) == []
    editor.put(uri, LINES + "nonsense )(\n")
    assert editor.ask(types.TEXT_DOCUMENT_FORMATTING, asked) is None
    editor.close(uri)


def test_what_changes_on_the_disk_is_seen_when_the_editor_says_so(editor: Editor) -> None:
    """A shared file that is not open, and the configuration; a faulty one is said once and does not count."""
    folder = _file(editor, "settled")
    folder.mkdir()
    above = editor.open(folder / "up.lesson", 'use "../above.lesson"\n')
    assert editor.codes(above) == ["file-not-found"]  # And not outside of the folder that is open.
    _file(editor, "above.lesson").write_text("voicings\n")
    change = types.FileEvent(_file(editor, "above.lesson").as_uri(), types.FileChangeType.Created)
    editor.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams([change]))
    editor.until_codes(above, [])
    editor.close(above)
    text = LINES.replace("Am | C x2", "C x3")
    uri = editor.open(folder / "a.lesson", text)
    assert editor.codes(uri) == ["unused-voicing"]
    settings = folder / "fretloom.toml"
    for said, codes in (
        ('[rules]\nunused-voicing = "off"\n', []),
        ("[rules]\nunusd-voicing = 1\n", ["unused-voicing"]),
        ('leave-out = ["*.lesson"]\n', []),
        ("", ["unused-voicing"]),
    ):
        settings.write_text(said)
        change = types.FileEvent(settings.as_uri(), types.FileChangeType.Changed)
        editor.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams([change]))
        editor.until_codes(uri, codes)
        editor.put(uri, editor.texts[uri] + "# more\n")
        assert editor.codes(uri) == codes
    (told,) = editor.said
    assert "fretloom.toml:2" in told and "unused-voicing" in told
    editor.said.clear()
    editor.close(uri)


def test_changes_of_pieces_come_to_the_same_as_the_whole_text(editor: Editor) -> None:
    """Random edits, counted in UTF-16: what is found afterwards is what is found in the whole text."""
    chance = random.Random(20)
    text = (EXAMPLES / "kiln-lane-shuffle.lesson").read_text("utf-8")
    signs = (
        "\U0001f3b8",
        "\u2028",
        "\x0c",
        "\r\n",
        "\n",
        "\r",
        "E",
        " | ",
        "\t",
        "\u00e4",
        "#",
        '"',
        "",
    )
    uri = editor.open(_file(editor, "pieces.lesson"), text)
    other = editor.open(_file(editor, "whole.lesson"), text)
    for _ in range(25):
        text = _edited(editor, uri, text, chance, signs)
        editor.put(other, text)
        found = [(one.code, one.range, one.message) for one in editor.findings(uri)]
        assert found == [(one.code, one.range, one.message) for one in editor.findings(other)]
    editor.close(uri)
    editor.close(other)


def _edited(
    editor: Editor, uri: str, text: str, chance: random.Random, signs: tuple[str, ...]
) -> str:
    """Make some random edits in one message, and in a copy of the text by itself."""
    changes = []
    for _ in range(chance.randrange(1, 4)):
        source = Source("", text)
        first = chance.randrange(len(text) + 1)
        last = min(first + chance.choice((0, 0, 1, 1, 2, 9)), len(text))
        put = chance.choice(signs)
        start, end = Span(source, first, last).utf16
        place = types.Range(types.Position(*start), types.Position(*end))
        if not (text[first - 1 : first + 1] == "\r\n" or text[last - 1 : last + 1] == "\r\n"):
            changes.append(types.TextDocumentContentChangePartial(place, put))
            text = text[:first] + put + text[last:]
    editor.tell(uri, changes)
    return text


def test_nothing_that_is_sent_ends_the_server(editor: Editor) -> None:
    """Texts that are none, places outside of them, texts that are not open."""
    uri = editor.open(_file(editor, "hostile.lesson"), "\ud83c" + LINES)
    (half,) = editor.findings(uri)
    assert "half of a character" in half.message
    assert half.range == types.Range(types.Position(0, 0), types.Position(0, 1))
    editor.put(uri, "#" * (LIMITS.characters + 1))
    assert "too large" in editor.findings(uri)[0].message
    editor.put(uri, "section a\n  C { " + "[" * 500 + "\n\0\x1b \u202e\n")
    assert "hidden-character" in editor.codes(uri)
    far = types.Position(2**31 - 1, 2**31 - 1)
    for place in (far, types.Position(0, 2**31 - 1), types.Position(1, 9)):
        _offered(editor, uri, place)
        editor.ask(types.TEXT_DOCUMENT_HOVER, types.HoverParams(_at(uri), place))
        _actions(editor, uri, place)
    editor.change(uri, far, types.Position(0, 0), LINES)
    assert editor.codes(uri) == []
    gone = "file:///nowhere/at-all.lesson"
    assert editor.ask(types.TEXT_DOCUMENT_HOVER, types.HoverParams(_at(gone), far)) is None
    editor.close(uri)
    untitled = "untitled:Untitled-1"
    item = types.TextDocumentItem(untitled, "lesson", 1, LINES)
    editor.versions[untitled] = 1
    editor.text_document_did_open(types.DidOpenTextDocumentParams(item))
    assert editor.codes(untitled) == []


def test_an_editor_that_counts_bytes_gets_bytes(tmp_path: Path) -> None:
    """The first encoding that both know is taken (Language Server Protocol 3.17, `positionEncodings`)."""
    one = Editor()
    answer = one.start(tmp_path, ["utf-9", "utf-8", "utf-16"])
    uri = one.open(tmp_path / "bytes.lesson", 'section a\n  "\U0001f3b8" Xx\n')
    places = [found.range for found in one.findings(uri) if found.code == "unknown-voicing"]
    assert one.end() == (0, b"")
    assert answer.capabilities.position_encoding == "utf-8"
    assert places == [types.Range(types.Position(1, 9), types.Position(1, 11))]
