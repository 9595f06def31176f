"""Make `voicings.tsv` from the guitar file of an open voicing dataset.

    npm pack @tombatossals/chords-db@0.5.1
    tar xzf tombatossals-chords-db-0.5.1.tgz
    python tests/data/make_voicing_table.py package/lib/guitar.json

The dataset writes frets relative to `baseFret`; the table has absolute frets. `barres` and `capo`
of the dataset are left out: they contradict its own fingers in places.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

TABLE = Path(__file__).with_name("voicings.tsv")
HEAD = """\
# Guitar voicings with the fingers a player would use, one a line.
# Source: npm package @tombatossals/chords-db 0.5.1, file lib/guitar.json, MIT licence,
#   Copyright (c) 2016 David Rubert (text in voicings.LICENSE). Made by make_voicing_table.py.
# index: running number in file order. key, suffix, position: its place in the source.
# frets and fingers: string 6 to string 1; x not played, 0 open; fingers 1 to 4, 0 none.
# The source has slips (15 malformed fingerings, some wrong notes); they are kept as they are.
index\tkey\tsuffix\tposition\tfrets\tfingers
"""


def rows(dataset: dict[str, Any]) -> Iterator[str]:
    """Yield the lines of the table in the dataset's own order."""
    index = 0
    for chords in dataset["chords"].values():
        for chord in chords:
            for number, position in enumerate(chord["positions"]):
                frets = "-".join(
                    _absolute(fret, position["baseFret"]) for fret in position["frets"]
                )
                fingers = "".join(map(str, position["fingers"])) or "0" * len(position["frets"])
                yield f"{index}\t{chord['key']}\t{chord['suffix']}\t{number}\t{frets}\t{fingers}\n"
                index += 1


def _absolute(fret: int, base: int) -> str:
    if fret < 0:
        return "x"
    return str(fret + base - 1 if fret else 0)


if __name__ == "__main__":
    text = HEAD + "".join(rows(json.loads(Path(sys.argv[1]).read_text("utf-8"))))
    TABLE.write_text(text, "utf-8")
    sys.stdout.write(f"{TABLE.name}: {text.count(chr(10)) - HEAD.count(chr(10))} voicings\n")
