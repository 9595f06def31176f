"""Fit the weights of the fingering terms to the voicings of one half of the table.

    python tests/data/fit_fingering_weights.py            # fit, and print both halves' figures
    python tests/data/fit_fingering_weights.py --search   # cross-validate the penalty on the fit half
    python tests/data/fit_fingering_weights.py --write    # put the weights into the package

A conditional log-linear choice model: the chance of a fingering among all legal ones of the same
frets falls with exp(-cost). Maximum likelihood with a penalty on the squares; a voicing weighs
1/sqrt(n) where n have its shape, so that the shapes written out at every fret do not rule. A "shape" is the fret
list moved so that its lowest stopped fret is 1; shapes with an even `crc32` are the fit half, the
others are held out, so no shape is on both sides. Only the fit half is used to fit and to choose
the penalty. Needs numpy and scipy.
"""

from __future__ import annotations

import sys
import zlib
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.optimize import minimize

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability import weights
from fretloom.trade.playability.reach import Contact, Hand, comfortable, reach
from fretloom.trade.playability.shape import held_places, sounding
from fretloom.trade.playability.solver import fingerings
from fretloom.trade.playability.terms import finger_terms, pair_terms, whole_terms

PENALTY = 0.1
NECK, HAND = Neck(), Hand()
Frets = tuple[int | None, ...]
Fingers = tuple[str | None, ...]
Case = tuple[Frets, Fingers]


def table() -> list[Case]:
    """Return the well-formed voicings with a stopped string."""
    lines = Path(__file__).with_name("voicings.tsv").read_text("utf-8").splitlines()
    cases = []
    for line in lines:
        if line[0].isdigit():
            *_, frets, fingers = line.split("\t")
            case = (
                tuple(None if fret == "x" else int(fret) for fret in frets.split("-")),
                tuple(None if finger == "0" else finger for finger in fingers),
            )
            if any(case[1]) and all(bool(one) == bool(two) for one, two in zip(*case, strict=True)):
                cases.append(case)
    return cases


def half(frets: Frets) -> int:
    """Return 0 for the fit half, 1 for the held-out half."""
    return code(frets) % 2


def code(frets: Frets) -> int:
    """Return a number that is the same for one shape anywhere on the neck."""
    lowest = min(fret for fret in frets if fret)
    moved = [-1 if fret is None else fret and fret - lowest + 1 for fret in frets]
    return zlib.crc32(",".join(map(str, moved)).encode())


def terms(frets: Frets, fingers: Fingers) -> dict[str, float]:
    """Return the terms of a fingering, as the solver adds them up."""
    places = held_places(NECK, frets, fingers)
    sounds = sounding(NECK, frets)
    found: dict[str, float] = {}
    written = [held.fret for held in places] if 0 in frets else []
    stream = list(whole_terms(((held.finger, held.fret) for held in places), written))
    for held in places:
        beyond = sum(at < held.fret and string < held.strings[-1] for string, at in sounds.items())
        stream += finger_terms(held.finger, held.strings, beyond, 0 in frets)
    for at, one in enumerate(places):
        for other in places[at + 1 :]:
            gap = reach(NECK, Contact(*_contact(one)), Contact(*_contact(other)))
            strain = max(0.0, gap - comfortable(HAND, one.finger, other.finger))
            stream += pair_terms(
                (one.finger, one.strings),
                (other.finger, other.strings),
                other.fret - one.fret,
                strain,
            )
    for name, value in stream:
        found[name] = found.get(name, 0.0) + value
    return found


def _contact(held: object) -> Contact:
    return held.contact  # type: ignore[attr-defined,no-any-return]


def designs(cases: list[Case]) -> tuple[list[str], list[tuple[np.ndarray, int, int]]]:
    """Return the names of the terms, and for each case a matrix, the row chosen and its shape."""
    rows = []
    for frets, fingers in cases:
        options = fingerings(frets, NECK, HAND)
        chosen = [at for at, one in enumerate(options) if one.fingers == fingers]
        found = [terms(frets, one.fingers) for one in options]
        rows.append((found, chosen[0] if chosen else -1, code(frets)))
    names = sorted({name for found, _, _ in rows for one in found for name in one})
    column = {name: at for at, name in enumerate(names)}
    out = []
    for found, chosen_row, shape in rows:
        matrix = np.zeros((len(found), len(names)))
        for at, one in enumerate(found):
            for name, value in one.items():
                matrix[at, column[name]] = value
        out.append((matrix, chosen_row, shape))
    return names, out


def fit(cases: list[tuple[np.ndarray, int, int]], penalty: float) -> np.ndarray:
    """Return the weights of the greatest penalised likelihood."""
    usable = [case for case in cases if case[1] >= 0]
    count = Counter(shape for *_, shape in usable)
    share = np.array([count[shape] ** -0.5 for *_, shape in usable])
    share *= len(share) / share.sum()
    stacked = np.vstack([matrix for matrix, *_ in usable])
    sizes = np.array([len(matrix) for matrix, *_ in usable])
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    rows = starts + np.array([chosen for _, chosen, _ in usable])
    owner = np.repeat(np.arange(len(usable)), sizes)

    def loss(weight: np.ndarray) -> tuple[float, np.ndarray]:
        score = -stacked @ weight
        top = np.maximum.reduceat(score, starts)
        raised = np.exp(score - top[owner])
        total = np.add.reduceat(raised, starts)
        chance = raised / total[owner] * share[owner]
        value = float(share @ (np.log(total) + top - score[rows]) + penalty * weight @ weight)
        return value, share @ stacked[rows] - chance @ stacked + 2 * penalty * weight

    start = np.zeros(stacked.shape[1])
    return minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 3000}).x


def score(cases: list[tuple[np.ndarray, int, int]], weight: np.ndarray) -> tuple[float, float]:
    """Return the shares of cases whose fingering comes first, and among the first two."""
    first = second = 0
    for matrix, chosen, _ in cases:
        order = np.argsort(np.round(matrix @ weight, 9), kind="stable")[:2]
        first += bool(len(order)) and order[0] == chosen
        second += chosen in order
    return first / len(cases), second / len(cases)


def search(cases: list[tuple[np.ndarray, int, int]]) -> None:
    """Print what each penalty gives in cross-validation over the shapes of the fit half."""
    for penalty in (0.01, 0.03, 0.1, 0.3, 1.0):
        results = []
        for part in range(8):
            train = [case for case in cases if case[2] // 2 % 8 != part]
            test = [case for case in cases if case[2] // 2 % 8 == part]
            results.append((*score(test, fit(train, penalty)), len(test)))
        total = sum(count for _, _, count in results)
        first, second = (sum(r[k] * r[2] for r in results) / total for k in (0, 1))
        print(f"penalty {penalty}: exact {first:.2%}, in the best two {second:.2%}")


def write(names: list[str], weight: np.ndarray) -> None:
    """Put the weights, rounded, into the package's table."""
    place = Path(weights.__file__)
    head = place.read_text("utf-8").partition("FITTED:")[0]
    lines = "".join(
        f'    "{name}": {value:.2f},\n' for name, value in zip(names, weight, strict=True)
    )
    place.write_text(f"{head}FITTED: dict[str, float] = {{\n{lines}}}\n", "utf-8")


def main(report: Callable[[str], None] = print) -> None:
    """Fit on the fit half and say how well both halves are met."""
    cases = table()
    names, designed = designs(cases)
    halves = [[case for case in designed if case[2] % 2 == side] for side in (0, 1)]
    if "--search" in sys.argv:
        search(halves[0])
        return
    weight = np.round(fit(halves[0], PENALTY), 2)
    for side, name in enumerate(("fit half", "held-out half")):
        first, second = score(halves[side], weight)
        report(
            f"{name}: {len(halves[side])} voicings, exact {first:.2%}, in the best two {second:.2%}"
        )
    if "--write" in sys.argv:
        write(names, weight)


if __name__ == "__main__":
    main()
