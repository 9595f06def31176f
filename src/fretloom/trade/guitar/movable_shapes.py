"""Movable forms of chords on a guitar in standard tuning, for every kind of chord.

A form is written as the chord that it is at the nut, or close to it: `E 022100` is the E form,
which is F at fret 1 and G at fret 3; what is open there lies under a finger elsewhere. Common
practice, no single source; the tests hear every form on every root.

The forms of a kind stand in groups: what everybody teaches first; its small plucked parts; and what
is good to have too.
"""

from __future__ import annotations

#: Kinds by canonical suffix; a bass after the slash is counted in half steps above the root.
FORMS: dict[str, tuple[str, ...]] = {
    "": ("E 022100, A x02220", "E xx2100, A xx2220, D xx0232", "C x3201x, A x0222x"),
    "m": ("E 022000, A x02210", "E xx2000, A xx2210, D xx0231", "A x0221x"),
    "7": ("E 020100, A x02020", "D xx0212, C x3231x", "E 022130, E 0x010x"),
    "m7": ("E 020000, A x02010", "E 0x000x, D xx0211", "A x0201x"),
    "maj7": ("A x02120, E 0x110x", "D xx0222, F xx3210", "C x3200x, E 021100, A x0212x"),
    "6": ("A x02222, G 3x243x, D xx0202", "C x3221x", "E 022120"),
    "m6": ("A x02212, G 3x233x", "D xx0201, C x3x243", "E 022020"),
    "sus2": ("A x02200", "D xx0230, F xx3011", ""),
    "sus4": ("E 022200, A x02230", "E xx2200, D xx0233, A xx2230", "A x0223x"),
    "7sus4": ("E 020200, A x02030", "D xx0213, C x3331x", "E 0x020x"),
    "5": ("E 022xxx, A x022xx", "D xx023x", ""),
    "add9": ("C x3203x, F xx3213", "A x02420", ""),
    "madd9": ("A x02410", "C x3103x", ""),
    "9": ("C x3233x, C x32333", "E 020102", "E 0x0102"),
    "m9": ("C x3133x", "C x31333, E 020002", ""),
    "maj9": ("C x3243x", "", ""),
    "6/9": ("C x3223x, C x32233", "", ""),
    "m6/9": ("C x3123x", "", ""),
    "11": ("C x33333, C x3333x", "", ""),
    "9sus4": ("C x33333, C x3333x", "", ""),
    "m11": ("G 3x3311", "", ""),
    "13": ("G 3x345x", "C x32335", ""),
    "maj13": ("G 3x445x", "", ""),
    "7b9": ("C x3232x", "G 3x3434", ""),
    "7#9": ("C x3234x", "", ""),
    "7b5": ("G 3x342x", "A x0102x", ""),
    "7#5": ("G 3x344x", "A x03021", ""),
    "maj7#11": ("G 3x442x, C x3445x", "", ""),
    "aug": ("F xx3221", "C x3211x", "E 03211x"),
    "dim": ("A x0121x", "D xx0131", "E 0120xx"),
    "dim7": ("B x2313x, G 3x232x, D xx0101", "", ""),
    "m7b5": ("B x2323x, G 3x332x, D xx0111", "", ""),
    "m(maj7)": ("A x02110", "D xx0221", "E 021000"),
    "/4": ("A x4222x", "D 2x023x, D xx4232, C xx2010", "E 4x245x"),
    "/7": ("E x22100, A 002220", "D x00232, A 00222x", "C 33201x"),
    "/10": ("G xx3433", "D x3x232, A 3x222x", "E xx0100"),
    "/11": ("D x4x232, A 4x222x", "E xx1100", ""),
    "/2": ("F 3x3211", "A x2222x", ""),
    "m/3": ("A x3221x", "D 1x023x, E 3x200x", ""),
    "m/7": ("E x22000", "A 002210, D x00231", ""),
    "m/10": ("E xx0000", "A 3x221x, D x3x231", ""),
    "m/11": ("E xx1000", "A 4x221x, D x4x231", ""),
    "m/9": ("A 2x221x, D x2x231", "", ""),
    "m/8": ("A 1x221x, D x1x231", "", ""),
    "7/4": ("D 2x021x", "", ""),
    "7/7": ("E x20100", "A 00202x", ""),
    "m7/7": ("E x20000", "A 00201x", ""),
    "maj7/7": ("E x21100", "A 00212x", ""),
}
#: Kinds whose shapes sound the same chord on other roots, and by how many half steps they lie apart.
SYMMETRIC = {"dim7": 3, "aug": 4}
