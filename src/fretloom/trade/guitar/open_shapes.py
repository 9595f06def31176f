"""Open shapes of chords on a guitar in standard tuning, as every method book shows them.

Common practice, no single source; the tests hear every shape and compare it with its name. The
shapes of a name stand in the order in which they are taught; each has an open string, or is the
lower part of one that has.
"""

from __future__ import annotations

#: Shapes by the chord's canonical name, from string 6 to string 1.
PLAIN = {
    "C": "x32010", "C7": "x32310", "Cmaj7": "x32000", "Cadd9": "x32030 x32033", "C6": "x32210",
    "Csus2": "x30013 x30033", "Csus4": "x33011", "Cmaj9": "x30000", "Cm6": "x31213", "Caug": "x32110",
    "Cadd11": "x33010", "Cmadd9": "x31033",
    "D": "xx0232", "Dm": "xx0231", "D7": "xx0212", "Dm7": "xx0211", "Dmaj7": "xx0222", "D6": "xx0202",
    "Dm6": "xx0201", "Dsus2": "xx0230", "Dsus4": "xx0233", "D7sus4": "xx0213", "D5": "xx023x",
    "Dm7b5": "xx0111", "Ddim7": "xx0101", "Ddim": "xx0131", "Daug": "xx0332", "Dm(maj7)": "xx0221",
    "Dadd9": "xx0252",
    "E": "022100", "Em": "022000", "E7": "020100 022130", "Em7": "022030 020000 022033",
    "Emaj7": "021100", "E6": "022120", "Em6": "022020", "Esus4": "022200 002200", "Esus2": "024400",
    "E7sus4": "020200", "Eadd9": "022102 024100", "Emadd9": "024000 022002", "E9": "020102",
    "Em9": "020002", "E5": "022xxx 02245x", "E13": "020120", "E7b9": "020101", "E7#9": "020133",
    "Em(maj7)": "021000", "Eaug": "032110 03211x", "E7#5": "030110 0x0110", "Em7b5": "xx2333",
    "Fmaj7": "xx3210 1x3210", "Fsus2": "xx3011", "Fadd9": "xx3213", "Faug": "xx3221",
    "F#m11": "202200",
    "G": "320003 320033", "G7": "320001", "Gmaj7": "320002", "G6": "320000 3x0000", "Gadd9": "3x0203 320203",
    "Gsus4": "330013 3x0013", "Gsus2": "300033 3x0233", "G5": "3x0033", "G9": "3x0201 320201",
    "G7sus4": "330011", "Gaug": "321003", "Gmaj9": "3x0202",
    "A": "x02220", "Am": "x02210", "A7": "x02020", "Am7": "x02010", "Amaj7": "x02120", "A6": "x02222",
    "Am6": "x02212", "Asus2": "x02200", "Asus4": "x02230", "A7sus4": "x02030", "Aadd9": "x02420",
    "Amadd9": "x02410", "Am9": "x02413", "A9": "x02423", "A5": "x022xx x0225x", "A13": "x02022",
    "Am(maj7)": "x02110", "Aaug": "x03221 x0322x", "A7b9": "x02323", "Am7b5": "x01213 x0101x",
    "Adim": "x0121x", "Amaj9": "x02424", "A9sus4": "x02433", "Am11": "x00010", "A7#5": "x03021",
    "B7": "x21202", "Bm7": "x20202", "Bm11": "x20220",
}  # fmt: skip

#: Open shapes that are good to have beside the movable ones.
BESIDE = {
    "C6/9": "x32233", "C#m7": "x42100", "Em7b5": "012030", "F6": "1x0211", "F#7": "xx4320", "F#m7": "2x2220",
    "F#m7b5": "2x2210", "Bb6": "x10031", "Bbadd9": "x10311", "Bbmaj7#11": "x10230", "Bbaug": "x10332",
    "Baug": "x21003", "Bm6": "x20102", "Bm7b5": "x20201", "B7sus4": "x22202",
}  # fmt: skip

#: Open shapes of names with a slash bass.
OVER_A_BASS = {
    "C/G": "332010", "C/E": "032010", "C/B": "x22010 x2x010", "C/Bb": "x12010 x1x010", "C/D": "xx0010",
    "C/A": "x02010", "C/F": "xx3010", "C7/G": "332310", "C7/E": "032310", "Cmaj7/G": "332000",
    "Cmaj7/E": "032000", "Cadd9/G": "332030", "Cadd9/E": "032030",
    "D/F#": "2x0232 200232", "D/A": "x00232", "D/C": "x30232 x3x232", "D/C#": "x40232", "D/E": "0x0232",
    "D/G": "3x0232", "D/B": "x20232 x2x232", "D7/F#": "2x0212 200212", "D7/A": "x00212",
    "Dsus4/A": "x00233", "Dsus2/A": "x00230", "Dmaj7/A": "x00222", "Dmaj7/F#": "2x0222",
    "Dm/A": "x00231", "Dm/F": "1x0231", "Dm/C": "x30231 x3x231", "Dm/B": "x20231 x2x231",
    "Dm/C#": "x40231", "Dm/Bb": "x10231", "Dm/E": "0x0231", "Dm/G": "3x0231", "Dm7/A": "x00211",
    "Dm7/C": "x30211", "Dm7/G": "3x0211",
    "E/G#": "4x2400 4x2100", "E/B": "x22100", "E/D": "xx0100", "E/A": "x02100", "E/C#": "x42100",
    "E/D#": "xx1100", "E/F#": "2x2100", "E7/B": "x20100 x22130", "E7/G#": "4x0100", "E7/D": "xx0130",
    "Em/B": "x22000", "Em/D": "xx0000", "Em/G": "322000 3x2000", "Em/A": "x02000", "Em/C": "x32000",
    "Em/C#": "x42000", "Em/D#": "xx1000", "Em/F#": "2x2000", "Em7/B": "x20000 x22030",
    "Em7/D": "xx0030", "Em7/A": "x00000",
    "F/A": "x03211", "F/C": "x33211", "F/G": "3x3211", "F/E": "0x3211 003211", "F/D": "xx0211",
    "F/Eb": "xx1211", "Fmaj7/C": "x33210", "Fmaj7/A": "x03210", "Fmaj7/E": "0x3210",
    "Fmaj7/G": "3x3210",
    "G/B": "x20003 x20033", "G/D": "xx0003", "G/F#": "2x0003", "G/F": "1x0003", "G/A": "x00003",
    "G/E": "020003", "G/C": "x30003", "G7/B": "x20001", "G7/D": "xx0001", "G7/F": "1x0001",
    "A/C#": "x42220 x4222x", "A/E": "002220", "A/G": "302220 3x2220", "A/G#": "402220 4x2220",
    "A/D": "xx0220", "A/F#": "2x2220", "A/B": "x22220", "A7/C#": "x42223", "A7/E": "002020",
    "A7/G": "3x2020", "Asus4/E": "002230", "Asus2/E": "002200", "A7sus4/E": "002030",
    "Amaj7/E": "002120",
    "Am/E": "002210", "Am/C": "x32210", "Am/G": "302210 3x2210", "Am/F#": "202210 2x2210",
    "Am/F": "1x2210 102210", "Am/G#": "402210 4x2210", "Am/D": "xx0210", "Am/B": "x22210",
    "Am7/G": "302010", "Am7/E": "002010",
    "Bb/D": "xx0331", "B/A": "x04442", "B7/F#": "221202", "B7/A": "x01202", "B7/D#": "xx1202",
    "Bm/A": "x04432", "Bm7/A": "x00202", "Bm7/E": "0x0202", "Bm7/F#": "220202", "Bb/A": "x03331",
    "Gm/D": "xx0333", "Fm/C": "x33111",
}  # fmt: skip
