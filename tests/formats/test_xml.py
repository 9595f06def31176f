"""XML is written byte for byte as lxml writes it, which is our independent writer and reader here."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from fretloom.errors import FretloomError
from fretloom.formats.xml import DECLARATION, Element, start_tag, written

NAMES = st.sampled_from(["note", "first-fret", "a", "übung"])
#: XML 1.0 (fifth edition), production 2: what may stand in a document, seldom ones often.
TEXTS = st.text(
    st.one_of(
        st.sampled_from("ab1 &<>\"'\t\n\r\x7f\x80\x85\xa0\u2028\ue000\ufffd𝄞;#"),
        st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]).filter(
            lambda one: one not in "\ufffe\uffff"
        ),
    ),
    max_size=8,
)


@st.composite
def elements(draw: st.DrawFn, deep: int = 3) -> Element:
    made = Element(draw(NAMES), draw(st.dictionaries(NAMES, TEXTS, max_size=3)))
    made.text = draw(st.none() | TEXTS)
    for _ in range(draw(st.integers(0, 3)) if deep else 0):
        made.put(draw(elements(deep - 1)))
    return made


def in_lxml(made: Element) -> etree._Element:
    tree = etree.Element(made.tag, dict(made.attributes))
    tree.text = made.text
    tree.extend(map(in_lxml, made.children))
    return tree


def has_empty_text_before_children(made: Element) -> bool:
    """lxml drops an empty text where there are children."""
    return (made.text == "" and bool(made.children)) or any(
        map(has_empty_text_before_children, made.children)
    )


@given(elements())
def test_written_as_lxml_writes(made: Element) -> None:
    """The bytes are the same: escapes, indentation, empty elements, the order of attributes."""
    if has_empty_text_before_children(made):
        return
    assert written(made).encode() == etree.tostring(
        in_lxml(made), encoding="UTF-8", pretty_print=True, xml_declaration=False
    )


@given(elements())
def test_read_back_as_it_was(made: Element) -> None:
    """A reader finds the same texts and attributes, line ends included."""
    read = etree.fromstring((DECLARATION + written(made)).encode())
    for ours, theirs in zip(_all(made), read.iter(), strict=True):
        assert (ours.tag, dict(ours.attributes)) == (theirs.tag, dict(theirs.attrib))
        if ours.text is not None or not ours.children:
            assert (ours.text or "") == (theirs.text or "")


def _all(made: Element):
    yield made
    for child in made.children:
        yield from _all(child)


def test_the_bytes_of_a_document() -> None:
    """As libxml2 2.14 writes it."""
    root = Element("score", {"b": "1", "a": "\"<&>'\t\n\r"})
    root.add("empty")
    root.add("nothing", text="")
    root.add("words", {"x": "é"}, text="a < b & c > d \"e\" 'f'\t\n\r𝄞\x85")
    root.add("part").add("line", text="0")
    root.add("mixed", text="one").add("b", text="two").add("c")
    assert DECLARATION + written(root) == (
        "<?xml version='1.0' encoding='UTF-8'?>\n"
        '<score b="1" a="&quot;&lt;&amp;&gt;\'&#9;&#10;&#13;">\n'
        "  <empty/>\n"
        "  <nothing></nothing>\n"
        '  <words x="é">a &lt; b &amp; c &gt; d "e" \'f\'\t\n&#13;𝄞\x85</words>\n'
        "  <part>\n"
        "    <line>0</line>\n"
        "  </part>\n"
        "  <mixed>one<b>two<c/></b></mixed>\n"
        "</score>\n"
    )


def test_setting_an_attribute_leaves_the_callers_alone() -> None:
    """Two elements may be given the same mapping."""
    shared = {"placement": "above"}
    one, other = Element("a", shared), Element("b", shared)
    one.set("placement", "below")
    one.set("type", "start")
    assert written(one) == '<a placement="below" type="start"/>\n'
    assert written(other) == '<b placement="above"/>\n'


def test_what_is_written_already_is_put_in_as_it_is() -> None:
    """Equal bars share the text of their notes."""
    notes = written(Element("note", text="<"), depth=1)
    assert notes == "  <note>&lt;</note>\n"
    bar = Element("bar")
    bar.add("print")
    bar.put(notes)
    bar.put(notes)
    assert written(bar) == f"<bar>\n  <print/>\n{notes}{notes}</bar>\n"


@pytest.mark.parametrize("character", "\0\x01\x08\x0b\x0c\x0e\x1f\ud800\udfff\ufffe\uffff")
def test_what_xml_cannot_hold_is_refused_in_a_sentence(character: str) -> None:
    """XML 1.0, production 2. Dropping it would change a name, and a reader would refuse the file."""
    said = f"holds the character U\\+{ord(character):04X}, which an XML file cannot carry"
    with pytest.raises(FretloomError, match=said):
        written(Element("a", text=f"so{character}"))
    with pytest.raises(FretloomError, match=said):
        written(Element("a", {"name": character}))
    with pytest.raises(FretloomError, match=said):
        start_tag("part", {"id": character})
