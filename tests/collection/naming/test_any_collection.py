"""In any collection a renaming leaves every lesson as it is, those that it does not touch included."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from fretloom import api
from fretloom.api.soundness import music_of
from fretloom.collection.naming.names import Names
from fretloom.collection.naming.renaming import renaming
from fretloom.errors import FretloomError

ROOT = Path(__file__).resolve().parent
VOICINGS = ("A", "B7", "E", "walk", "low")
FRETS = ("022100", "x02220", "x21202", "320003", "x32010")
KINDS: dict[Any, tuple[str, ...]] = {
    "voicing": VOICINGS,
    "pattern": ("plain", "roll"),
    "section": ("verse", "close"),
}


def _shapes(chance: Random, number: int) -> list[str]:
    """Return voicings, some like others that may be anywhere, and patterns."""
    lines = ["voicings", f"  spare{number} 022100 bass 6 4"]
    for name in chance.sample(VOICINGS, chance.randint(0, 3)):
        like = chance.choice([one for one in VOICINGS if one != name])
        frets = f"{chance.choice(FRETS)} bass 5 4"
        lines.append(f"  {name} " + (f"like {like} mute 1" if chance.random() < 0.35 else frets))
    for name in chance.sample(("plain", "roll"), chance.randint(0, 2)):
        lines += ["patterns", f"  {name} {chance.choice(('p , p m , p i , p m', 'p , i , m , a'))}"]
    return lines


def _song(chance: Random) -> list[str]:
    lines = []
    for name in chance.sample(("verse", "close"), chance.randint(0, 2)):
        bars = " | ".join(chance.choice(VOICINGS) for _ in range(3))
        lines += [f"section {name} using {chance.choice(('plain', 'roll'))}", f"  {bars}"]
    if chance.random() < 0.4:
        lines += ["form", f"  {chance.choice(('verse', 'close'))}"]
    return lines


def collection(chance: Random) -> dict[Path, str]:
    """Return lessons that use one another or are based on one another; much may be missing in them."""
    texts = {}
    for number in range(chance.randint(2, 6)):
        lines: list[str] = []
        song = number > 0 and chance.random() < 0.7
        if song:
            lines.append(f'lesson "Tune {number}"')
        if song and chance.random() < 0.5:
            lines.append(f'  based on "f{chance.randrange(number)}.lesson"')
        lines += [
            f'use "f{chance.randrange(number)}.lesson"'
            for _ in range(chance.randint(0, 2))
            if number
        ]
        lines += [*_shapes(chance, number), *(_song(chance) if song else ())]
        texts[ROOT / f"f{number}.lesson"] = "\n".join(lines) + "\n"
    return texts


def _state(texts: Mapping[Path, str]) -> dict[Path, object]:
    """Return of each lesson what is found in it, and what is heard if that is clear."""
    states: dict[Path, object] = {}
    for path, text in texts.items():
        lesson = api.examine(api.loads(text, path=path, root=ROOT, texts=texts))
        found = sorted((one.rule, one.span.source.name, one.span.line) for one in lesson.findings)
        unclear = any(one.music_undefined for one in lesson.findings)
        states[path] = (found, None if unclear else music_of(lesson))
    return states


@settings(max_examples=120)
@given(st.integers(0, 2**32 - 1))
def test_no_lesson_is_changed_by_a_renaming(seed: int) -> None:
    """It sounds the same and the same is found in it; and who asks to have the old name back gets the old texts, or a refusal."""
    chance = Random(seed)
    texts = collection(chance)
    file = chance.choice(list(texts))
    kind = chance.choice(list(KINDS))
    old = chance.choice(KINDS[kind])
    new = chance.choice(("zz", "longer-name", *VOICINGS, "plain", "roll", "verse", "close"))
    try:
        there = renaming(Names(ROOT, texts), file, old, new, kind)
    except FretloomError:
        return
    after = texts | {one.path: one.new for one in there.files}
    if not there.gone:
        assert _state(after) == _state(texts)
    try:
        back = renaming(Names(ROOT, after), file, new, old, kind)
    except FretloomError:
        return
    assert after | {one.path: one.new for one in back.files} == texts
