"""The best fingering of a whole song, and fingers for notes beside a voicing."""

from __future__ import annotations

from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st
from voicing_table import hand, shape

from fretloom.limits import LIMITS
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.effort import effort
from fretloom.trade.playability.literal import takers
from fretloom.trade.playability.moving.skills import INTERMEDIATE
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.playability.solver import fingerings
from fretloom.trade.playability.song import (
    PlannedVoicing,
    SongChange,
    change_cost,
    likely,
    plan,
    plan_one_by_one,
)

NECK, HAND = Neck(), Hand()
SHAPES = ("x32010", "320003", "x02210", "xx0232", "022000", "x02220")


def _part(frets: str, held: int = 1) -> PlannedVoicing:
    options = likely(fingerings(shape(frets), NECK, HAND))
    return PlannedVoicing(name=frets, frets=shape(frets), options=options, held=held)


def _step(before: str, after: str, times: int = 1, window: float = 2.0) -> SongChange:
    return SongChange(before=before, after=after, times=times, window=window)


def test_g_between_cs_is_fingered_for_the_change() -> None:
    """Alone G is 2 1 . . . 3; between Cs 3 2 . . . 4 is better, as teachers advise."""
    parts = [_part("x32010", 4), _part("320003", 4)]
    steps = [_step("x32010", "320003", 4), _step("320003", "x32010", 4)]
    together, alone = plan(NECK, parts, steps), plan_one_by_one(NECK, parts, steps)
    assert alone.fingerings["320003"].fingers == hand("21...3")
    assert together.fingerings["320003"].fingers == hand("32...4")
    assert together.cost < alone.cost


def test_cost_is_broken_down() -> None:
    """What holding and what changing costs adds up to the whole."""
    parts, steps = [_part("x32010"), _part("320003")], [_step("x32010", "320003")]
    found = plan(NECK, parts, steps)
    assert set(found.holding) == {"x32010", "320003"}
    assert set(found.changing) == {("x32010", "320003")}
    assert found.cost == sum(found.holding.values()) + sum(found.changing.values())


STEPS = st.lists(
    st.builds(
        _step,
        st.sampled_from(SHAPES[:4]),
        st.sampled_from(SHAPES[:4]),
        st.integers(1, 9),
        st.floats(0.2, 3),
    ),
    max_size=8,
)


@settings(max_examples=40, deadline=None)
@given(STEPS, st.lists(st.integers(1, 9), min_size=4, max_size=4))
def test_the_plan_is_the_best_there_is(steps, held) -> None:
    """Trying out every combination finds nothing cheaper, in circles of changes too."""
    parts = [_part(name, count) for name, count in zip(SHAPES[:4], held, strict=True)]
    assert abs(plan(NECK, parts, steps).cost - _least_cost(parts, steps)) < 1e-9


def test_an_option_is_kept_that_only_a_change_makes_the_best() -> None:
    """Held alone another fingering costs less, but not with the change that has the least time."""
    parts = [_part("x02210", 2), _part("022000", 2), _part("x32010", 2)]
    steps = [_step("022000", "x32010", 1, 0.1), _step("x02210", "022000", 3)]
    assert abs(plan(NECK, parts, steps).cost - _least_cost(parts, steps)) < 1e-9


def _everything_to_everything(voicings: int) -> tuple[list[PlannedVoicing], list[SongChange]]:
    """Return so many voicings with every change between them."""
    frets = [f"{a}{b}{c}{d}0{e}" for a, b, c, d, e in product("x3", "x2", "02", "0132", "x02")]
    parts = [_part(name) for name in frets if likely_options(name) > 1][:voicings]
    pairs = product([part.name for part in parts], repeat=2)
    return parts, [_step(one, other) for one, other in pairs if one != other]


def likely_options(frets: str) -> int:
    """Return how many fingerings a player would consider."""
    found = fingerings(shape(frets), NECK, HAND)
    return len(likely(found)) if found else 0


def test_where_all_voicings_are_changed_the_search_is_bounded_and_says_so() -> None:
    """23 voicings: elimination would take tables of 2 ** 23; what is found is no worse than one by one."""
    parts, steps = _everything_to_everything(23)
    assert len(parts) == 23
    found = plan(NECK, parts, steps)
    assert not found.sure
    assert found.cost <= plan_one_by_one(NECK, parts, steps).cost
    assert found.steps < 20 * LIMITS.pair_choices
    assert plan(NECK, parts, steps).fingerings == found.fingerings


def test_a_chain_of_many_voicings_is_exact() -> None:
    """Each is only changed to the next, so that elimination stays small."""
    parts, _ = _everything_to_everything(30)
    names = [part.name for part in parts]
    steps = [_step(one, other) for one, other in pairwise(names)]
    found = plan(NECK, parts, steps)
    assert found.sure
    assert found.steps < LIMITS.choices


def _least_cost(parts: list[PlannedVoicing], steps: list[SongChange]) -> float:
    """Return what the best of all combinations costs."""
    place = {part.name: at for at, part in enumerate(parts)}

    def cost(chosen: tuple[int, ...]) -> float:
        total = sum(
            part.held * (part.options[at].cost - part.options[0].cost)
            for part, at in zip(parts, chosen, strict=True)
        )
        for step in steps:
            if step.before != step.after:
                pair = [
                    Fretted(
                        parts[place[name]].frets,
                        parts[place[name]].options[chosen[place[name]]].fingers,
                    )
                    for name in (step.before, step.after)
                ]
                total += change_cost(NECK, *pair, step, INTERMEDIATE)
        return total

    return min(cost(chosen) for chosen in product(*(range(len(part.options)) for part in parts)))


C = Fretted(shape("x32010"), hand(".32.1."))
F = Fretted(shape("133211"), hand("134211"))


def test_a_free_finger_takes_the_extra_note() -> None:
    """Over C the little finger reaches fret 3 on string 1."""
    assert next(one.finger for one in takers(NECK, HAND, C, 1, 3)) == "4"


def test_a_finger_already_there_takes_it() -> None:
    """The ring finger of C holds fret 3 on string 5."""
    (held,) = takers(NECK, HAND, C, 5, 3)
    assert (held.finger, held.kind) == ("3", "held")


def test_a_barre_covers_its_fret() -> None:
    """Fret 1 on string 3 lies under the barre of F when nothing holds the string higher up."""
    barre = Fretted(shape("133011"), hand("134.11"))
    assert takers(NECK, HAND, barre, 3, 1)[0].kind == "held"


def test_no_finger_reaches_from_a_barre_to_the_ninth_fret() -> None:
    """While the barre of F has to sound, fret 9 is out of reach."""
    assert takers(NECK, HAND, F, 1, 9, frozenset({6, 2})) == ()


def test_effort_puts_chords_in_the_order_of_lessons() -> None:
    """Em before C before F with a barre (common practice, no source)."""
    em = Fretted(shape("022000"), hand(".23..."))
    points = [effort(NECK, HAND, voicing).points for voicing in (em, C, F)]
    assert points == sorted(points)
    assert effort(NECK, HAND, F).barres == (("1", 6),)
