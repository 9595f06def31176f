"""How large a lesson can be: every limit, in one place. `docs/reference/limits.md` says why and what happens.

All of them are far beyond what a teacher writes. They are there so that no text, whoever it comes
from, takes more than its share of time and memory: each is counted before the work is done that it
bounds. A text within them is read, checked and exported in a time that grows with its length.
"""

from __future__ import annotations

from fretloom.values import frozen


@frozen
class Limits:
    """The largest number of each thing; all are counts without a unit unless it says so.

    Args:
        characters, lines: in a text. json_characters: in the JSON of a lesson. line: characters in
            one line, without its comment. word: characters in a name or any other word outside
            quotes.
        faults: after which the rest of a text is not read. links: files from one to the next.
        files: that a lesson names, with those that they name; they have `characters` together.
        lessons_named, folders_named: of a collection, looked through for a name.
        outlined: lines of an outline, folds, and hints, that an editor is given of a text, of each.
        depth: brackets inside one another. repeats_deep: repeats inside one another; the text is
            indented for no more than `depth` of them.
        names: different voicings, patterns or sections in a lesson, of each. strings: of a tuning.
        beat: places in a beat. bar: places in a bar's beats. patches: `with` and `without` of a bar.
        parts: voicings in a bar. verses: lines of words under a line of bars.
        bars_written: in a section. bars_played: in the whole lesson; its sections as written have no
            more either. notes: plucked in it, and sounded by slurs. notes_different: those of bars
            that differ, each counted once; a silent bar counts as one. repeats: passes of a repeat.
        compared: names among which a like one is looked for. compared_letters: of each.
            hinted: unknown names for which that is done.
        message, message_word: characters of a message or hint, and of a word that it quotes.
        pair_choices: pairs of fingerings of two voicings that are compared to find a song's best.
            choices: combinations of more than two. Beyond them it is searched for, without being
            sure. capo_lines: lines written, times the places of the capo judged.
            candidates: combinations of frets looked at in one place of the neck, for a voicing.
        bars_drawn, bars_in_a_pdf, bars_in_a_strip: of a score, on pages, in one document, and on one
            long strip. bars_in_a_handout, bars_in_a_handout_pdf: of a page for students; each of its
            other pictures counts as a bar, and a bar of many notes as several. bars_in_a_player: that it plays.
            dots: of all pictures of a score together; dots_of_one: of the largest.
        minutes_of_sound: that a recording lasts. minutes_of_practice: that all recordings of one lesson to practise
            with last. notes_heard: plucks in what is heard, each as often as it is played.
    """

    characters: int = 2_000_000
    json_characters: int = 20_000_000
    lines: int = 100_000
    line: int = 20_000
    word: int = 120
    faults: int = 100
    links: int = 20
    files: int = 200
    lessons_named: int = 20_000
    folders_named: int = 20_000
    outlined: int = 5_000
    depth: int = 16
    repeats_deep: int = 1_000
    names: int = 4_000
    strings: int = 12
    beat: int = 48
    bar: int = 1_000
    patches: int = 32
    parts: int = 64
    verses: int = 64
    bars_written: int = 5_000
    bars_played: int = 20_000
    notes: int = 20_000
    notes_different: int = 10_000
    repeats: int = 9_999
    compared: int = 200
    compared_letters: int = 40
    hinted: int = 100
    message: int = 800
    message_word: int = 120
    pair_choices: int = 8_000
    choices: int = 60_000
    capo_lines: int = 6_000
    candidates: int = 6_000
    bars_drawn: int = 2_000
    bars_in_a_pdf: int = 600
    bars_in_a_strip: int = 200
    bars_in_a_handout: int = 700
    bars_in_a_handout_pdf: int = 250
    bars_in_a_player: int = 1_000
    dots: int = 200_000_000
    dots_of_one: int = 40_000_000
    minutes_of_sound: int = 30
    minutes_of_practice: int = 240
    notes_heard: int = 200_000


LIMITS = Limits()
