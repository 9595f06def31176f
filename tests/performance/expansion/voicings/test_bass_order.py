"""The thumb's order on a voicing, when the teacher gave none.

The table is common practice, gathered from public tutorial pages and one book quotation that agree
on the roots and differ on the alternates; the bass of a slash chord is written to be heard first; each row gives all orders that pages teach for the shape.
"""

from __future__ import annotations

import pytest
from timeline_lessons import bass, expanded, expanded_text

#: Chord, frets, orders. Common practice (pages on alternating bass; F by thumb and barre shapes: no source).
STANDARD = """
C     x32010 5454 5464
C/G   332010 6454
C     332010 5464
F/C   x33211 5454
D/A   x00232 5454
A/E   002220 6454
Am/G  302210 6454
Bm/F# 224432 6454
C7    x32310 5454 5464
Cmaj7 x32000 5454 5464
Cadd9 x32030 5454
A     x02220 5454 5464
Am    x02210 5454 5464
A7    x02020 5454 5464
Am7   x02010 5454 5464
B7    x21202 5454 5464
D     xx0232 4343 4545 4353
Dm    xx0231 4343 4545 4353
D7    xx0212 4343 4545 4353
D/F#  2x0232 6464
E     022100 6464 6454
Em    022000 6464 6454
E7    020100 6464 6565
F     xx3211 4343 4353
F     1x3211 6464
F     133211 6464 6454
Fmaj7 xx3210 4343 4353
G     320003 6464 6454
G7    320001 6464 6454
G/B   x20003 5454
Bm    x24432 5454 5464
Bb    x13331 5454 5464
Cm    x35543 5454 5464
F#m   244222 6464 6454
Gm    355333 6464 6454
"""
OTHER = [
    ("drop D", "D", "000232", "6464 6454"),
    ("DADGAD", "Dsus4", "000000", "6464 6454"),
    ("open D", "D", "000000", "6464 6454"),
    ("open G", "G", "000000", "5454 5464"),
]


def _derived(name: str, rest: str, *fields: str) -> str:
    head = 'lesson "Test"\n' + "".join(f"  {field}\n" for field in fields)
    return bass(expanded_text(f"{head}voicings\n  {name} {rest}\n"), name).replace(" ", "")


@pytest.mark.parametrize("row", STANDARD.split("\n")[1:-1])
def test_the_order_is_one_that_teachers_teach(row: str) -> None:
    """Every shape of the table gets one of the orders it is taught with."""
    name, frets, *orders = row.split()
    assert _derived(name, frets) in orders


@pytest.mark.parametrize(("tuning", "name", "frets", "orders"), OTHER)
def test_other_tunings(tuning: str, name: str, frets: str, orders: str) -> None:
    """Common practice, no source: open and dropped tunings have their root on another string."""
    assert _derived(name, frets, f"tuning {tuning}") in orders.split()


def test_a_capo_changes_no_string() -> None:
    """With a capo the strings stay and the notes move (common practice)."""
    assert _derived("C", "x32010", "capo 5") == _derived("C", "x32010")


def test_a_hop_makes_the_alternate() -> None:
    """B7 with the middle finger's hop to string 6 alternates 5 4 6 4."""
    assert _derived("B7", "x21202 fingers .213.4 hop 2 to 6@2") == "5464"


def test_an_order_given_is_kept() -> None:
    """The teacher's word is law."""
    assert _derived("C", "x32010 bass 5 3 4 3") == "5343"


def test_a_voicing_like_another_keeps_its_order_where_it_fits() -> None:
    """E7 is E with a finger less: the thumb goes on as on E."""
    body = "voicings\n  E7 like E lift 3\n  C/G like C move 3 to 6@3\n"
    expansion = expanded(body)
    assert bass(expansion, "E7") == "6 4 5 4"
    # On C/G the open string 5 is an A, which the order of C would lead to.
    assert "5" not in bass(expansion, "C/G")


def test_ukulele_thumb_stays_on_its_only_string() -> None:
    """On four strings the usual plan gives the thumb string 4 alone."""
    assert _derived("C", "0003", "tuning G4 C4 E4 A4") == "4"


def test_pitch_decides_where_the_lowest_string_is_not_the_last() -> None:
    """On a high-G ukulele with the thumb on 4 and 3 the root C is string 3, the lower one."""
    head = 'lesson "Test"\n  tuning G4 C4 E4 A4\npicking\n  p plays 4 3\n'
    expansion = expanded_text(head + "voicings\n  C 0003\n")
    assert bass(expansion, "C") == "3 4 3 4"


def test_seven_strings() -> None:
    """The low B of a seven-string guitar is left alone by an Em that does not play it."""
    fields = "tuning B1 E2 A2 D3 G3 B3 E4"
    assert _derived("Em", "x022000", fields) == "6454"


def test_a_plain_name_stays_on_the_thumbs_strings() -> None:
    """Of a shape without a chord name only the strings are known."""
    assert _derived("walkdown", "xx0232") == "4"
    assert _derived("walkdown", "x20003") == "5454"
