"""Tries very many short texts, changed at random, without counting what they reach: some thirty times as many as `run.py`.

    python tests/fuzz/many.py text --runs 2000000 --corpus build/fuzz/text/corpus

It starts from what `run.py` has collected (or else from the seeds), changes each a few times, and
goes on after a failure: all that failed are written beside the corpus and counted by their kind.
"""

from __future__ import annotations

import argparse
import random
import time
import traceback
from collections import Counter
from pathlib import Path

import laws
import seeds


def changed(data: bytes, other: bytes, words: list[bytes], chance: random.Random) -> bytes:
    """Return bytes with one change: something put in, left out, doubled, or taken from another text."""
    start = chance.randrange(len(data) + 1)
    end = min(len(data), start + chance.choice((0, 1, 1, 2, 4, 8, 30)))
    kind = chance.randrange(5)
    if kind == 0:
        piece = chance.choice(words)
    elif kind == 1:
        piece = b""
    elif kind == 2:
        piece = bytes([chance.randrange(256)])
    elif kind == 3:
        piece = data[start:end] * 2
    else:
        begin = chance.randrange(len(other) + 1)
        piece = other[begin : begin + chance.choice((1, 4, 12, 40))]
    return data[:start] + piece + data[end:]


def main() -> None:
    """Run one law as often as asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("law", choices=laws.LAWS)
    parser.add_argument("--runs", type=int, default=100_000)
    parser.add_argument("--corpus", type=Path, help="a folder of texts to start from")
    parser.add_argument("--longest", type=int, default=120, help="bytes of an input")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    known = seeds.seeds(asked.law)
    if asked.corpus:
        known += [file.read_bytes() for file in sorted(asked.corpus.iterdir())]
    pool = [line for text in known for line in pieces(text, asked.longest)]
    words = [word.encode("utf-8") for word in seeds.words()]
    chance = random.Random(asked.seed)
    law, failed, began = laws.LAWS[asked.law], Counter[str](), time.process_time()
    slowest = 0.0
    for _ in range(asked.runs):
        data = chance.choice(pool)
        for _ in range(chance.choice((1, 1, 2, 3, 5))):
            data = changed(data, chance.choice(pool), words, chance)[: asked.longest]
        before = time.process_time()
        try:
            law(data)
        except Exception as error:
            where = traceback.extract_tb(error.__traceback__)[-1]
            kind = f"{type(error).__name__}: {str(error)[:80]} ({Path(where.filename).name}:{where.lineno})"
            failed[kind] += 1
            if failed[kind] == 1 and asked.corpus:
                (asked.corpus.parent / f"failed-{asked.seed}-{len(failed)}").write_bytes(data)
        slowest = max(slowest, time.process_time() - before)
    spent = time.process_time() - began
    print(
        f"{asked.runs} inputs, {sum(failed.values())} failed, {spent:.0f} s, the slowest {slowest:.2f} s"
    )
    for kind, count in failed.most_common():
        print(f"{count:8} {kind}")


def pieces(text: bytes, longest: int) -> list[bytes]:
    """Return a text, or where it is long its blocks and lines, each short enough."""
    if len(text) <= longest:
        return [text]
    found: list[bytes] = []
    opening = b""
    for line in text.splitlines(keepends=True):
        if not line.startswith((b" ", b"\t", b"#", b"\n")):
            opening = line
            found.append(line)
        else:
            found.append(opening + line)
    return [one for one in dict.fromkeys(found) if len(one) <= longest]


if __name__ == "__main__":
    main()
