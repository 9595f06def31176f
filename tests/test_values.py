"""Values: our decorator does what attrs' own does."""

from __future__ import annotations

import copy
import gc
import importlib
import inspect
import pickle
import pkgutil
import re
import sys
import types
import weakref
from collections.abc import Iterator

import attrs
import places
import pytest
from attrs.validators import ge, in_

import fretloom
from fretloom import values
from fretloom.values import evolve, frozen

SOURCE = places.SOURCE


@frozen
class Ours:
    """Three fields count, one does not, two are checked."""

    one: int
    two: str = attrs.field(default="b", validator=in_(("a", "b")))
    size: int = attrs.field(default=3, validator=[ge(0)])
    span: object = attrs.field(default=None, eq=False, repr=False)


@attrs.frozen
class Theirs:
    """The same, as attrs makes it."""

    one: int
    two: str = attrs.field(default="b", validator=in_(("a", "b")))
    size: int = attrs.field(default=3, validator=[ge(0)])
    span: object = attrs.field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Named:
    """Fields that are given by name, in any order."""

    wide: int = 1
    long: int


@frozen(eq=False)
class Thing:
    """One that is equal to itself only."""

    name: str = ""


@frozen
class Special:
    """What is not plain: attrs makes it."""

    name: str
    parts: list[str] = attrs.field(factory=list)

    def __attrs_post_init__(self) -> None:
        self.parts.append(self.name)

    def __str__(self) -> str:
        return "special " + super().__repr__()


def test_what_is_not_plain_is_made_by_attrs() -> None:
    """Factories, what is done after the start, and `super()` work."""
    assert Special("a").parts == ["a"] != Special("b").parts
    assert str(Special("a")).startswith("special <")


def test_values_compare_by_the_fields_that_count() -> None:
    """A span takes no part; another class is never equal."""
    assert Ours(1, "b", 3, "here") == Ours(1, "b", 3, "there")
    assert Ours(1) != Ours(2)
    assert Ours(1) != Theirs(1)
    assert len({Ours(1), Ours(1, "b", 3, 7), Ours(2)}) == 2
    assert Thing() != Thing()


def test_values_look_as_attrs_shows_them() -> None:
    """The same representation but for the name."""
    assert repr(Ours(1)) == repr(Theirs(1)).replace("Theirs", "Ours")
    assert repr(Thing("a")) == "Thing(name='a')"


def test_values_are_frozen_and_slotted() -> None:
    """Nothing can be set, nothing deleted, nothing added."""
    for value in (Ours(1), Thing()):
        for name in ("one", "new"):
            with pytest.raises(attrs.exceptions.FrozenInstanceError):
                setattr(value, name, 2)
        with pytest.raises(attrs.exceptions.FrozenInstanceError):
            del value.name
        assert not hasattr(value, "__dict__")


@pytest.mark.parametrize("given", [(), (1, "b", 3, None, 5)])
def test_values_want_their_fields_and_no_more(given: tuple[object, ...]) -> None:
    """What is missing or too much is named as Python names it."""
    with pytest.raises(TypeError, match=r"Ours.__init__\(\)"):
        Ours(*given)


def test_fields_by_name_only() -> None:
    """They may come without defaults after such with."""
    assert Named(long=2) == Named(wide=1, long=2)
    with pytest.raises(TypeError, match="positional"):
        Named(1, 2)
    with pytest.raises(TypeError, match="'long'"):
        Named(wide=2)
    assert Named.__match_args__ == ()


@pytest.mark.parametrize("wrong", [{"two": "c"}, {"size": -1}])
def test_validators_refuse_as_those_of_attrs_do(wrong: dict[str, object]) -> None:
    """The same exception with the same words and the same description of the field."""
    with pytest.raises(ValueError) as theirs:
        Theirs(1, **wrong)
    with pytest.raises(ValueError) as ours:
        Ours(1, **wrong)
    assert str(ours.value.args[0]) == str(theirs.value.args[0])
    assert ours.value.args[1:] == theirs.value.args[1:]


def test_values_can_be_changed_copied_and_sent() -> None:
    """With attrs' `evolve` and with ours, and to another process."""
    value = Ours(1, "a", 4, "here")
    for change in (evolve, attrs.evolve):
        changed = change(value, one=2)
        assert (changed.one, changed.two, changed.size, changed.span) == (2, "a", 4, "here")
    assert evolve(Theirs(1), one=2) == Theirs(2)
    with pytest.raises(TypeError):
        evolve(value, three=3)
    assert copy.copy(value) == copy.deepcopy(value) == value
    thing = pickle.loads(pickle.dumps(Named(long=3)))
    assert thing == Named(long=3)
    assert weakref.ref(value)() is value


def test_attrs_can_describe_and_take_apart_a_value() -> None:
    """Its own functions work, although it describes a class only when asked."""
    assert attrs.has(Ours)
    assert [one.name for one in attrs.fields(Ours)] == ["one", "two", "size", "span"]
    assert attrs.asdict(Named(long=2)) == {"wide": 1, "long": 2}


def _classes() -> list[type]:
    """Return all classes of values in the package that are made without attrs."""
    for module in pkgutil.walk_packages(fretloom.__path__, "fretloom."):
        if ".frontends." not in module.name:
            importlib.import_module(module.name)
    kind = type(Ours)
    made = (one for one in gc.get_objects() if type(one) is kind and "_plain" in one.__dict__)
    return [one for one in made if one.__module__.startswith("fretloom")]


def test_every_class_of_values_is_what_attrs_makes_of_it() -> None:
    """The same fields, defaults and arguments for each class of the package."""
    classes = _classes()
    assert len(classes) > 80
    for cls in classes:
        plain, kw_only = cls.__dict__["_plain"]
        theirs = attrs.frozen(plain, eq=False, repr=False, kw_only=kw_only)
        assert inspect.signature(cls) == inspect.signature(theirs), cls
        assert cls.__match_args__ == theirs.__match_args__, cls
        assert set(cls.__slots__) == set(theirs.__slots__), cls
        assert [one.name for one in attrs.fields(cls)] == [one.name for one in attrs.fields(theirs)]


def test_describing_a_class_leaves_the_one_as_written_alone() -> None:
    """Threads that describe a class at once walk over what it was made from."""

    @frozen
    class Fresh:
        one: int = 1

    before = set(vars(Fresh._plain[0]))  # type: ignore[attr-defined]
    assert [one.name for one in attrs.fields(Fresh)] == ["one"]
    assert set(vars(Fresh._plain[0])) == before  # type: ignore[attr-defined]


def test_every_module_uses_the_decorator_that_starts_sooner() -> None:
    """attrs' own decorators are used in one place only."""
    pattern = re.compile(r"from attrs? import .*\b(frozen|define)\b|\battrs\.(frozen|define)\b")
    users = {
        path.name
        for path in SOURCE.rglob("*.py")
        if pattern.search(path.read_text(encoding="utf-8"))
    }
    assert users == {"values.py"}


PLAIN = """
from fretloom.values import frozen
@frozen
class Plain:
    one: int
    two: str = "b"
"""


def made_from(code: str) -> type:
    """Return the class `Plain` of a module that has no `from __future__ import annotations`."""
    module = {"__name__": "plain"}
    exec(compile(code, "plain", "exec", dont_inherit=True), module)
    return module["Plain"]


def test_annotations_need_no_import_from_the_future() -> None:
    """Whether Python keeps them as values, as texts or as a function (PEP 563, PEP 649)."""
    kind = made_from(PLAIN)
    assert repr(kind(1)) == "Plain(one=1, two='b')"
    assert kind(one=1) == kind(1, "b") != kind(1, "c")
    assert [one.name for one in attrs.fields(kind)] == ["one", "two"]
    assert type(kind) is type(Ours)


def test_annotations_that_are_kept_as_a_function_are_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As from Python 3.14 on (PEP 749): no `__annotations__` in the class, and their texts from `annotationlib`."""

    class Format:
        STRING = 4

    def get_annotations(kind: type, *, format: int) -> dict[str, str]:
        assert format == Format.STRING  # Values would need names that only type checkers know.
        return {"one": "int", "two": "Only"}

    library = types.ModuleType("annotationlib")
    library.Format, library.get_annotations = Format, get_annotations
    monkeypatch.setitem(sys.modules, "annotationlib", library)
    body = {"__annotate_func__": None, "two": 2}
    kind = frozen(type("Late", (), body))
    assert repr(kind(1)) == "Late(one=1, two=2)"
    assert inspect.get_annotations(kind.__init__) == {"one": "int", "two": "Only", "return": None}


@pytest.fixture
def no_renaming(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A Python that does not take an `__init__` whose arguments are renamed."""

    def refuse(*_: object) -> None:
        raise ValueError("code: varnames is too small")

    monkeypatch.setattr(values, "_init", refuse)
    values._works_here.cache_clear()
    yield
    monkeypatch.undo()
    values._works_here.cache_clear()


@pytest.mark.usefixtures("no_renaming")
def test_attrs_makes_the_classes_where_ours_cannot() -> None:
    """They do the same."""
    kind = made_from(PLAIN)
    assert type(kind) is type
    assert repr(kind(1)) == "Plain(one=1, two='b')"
    assert kind(one=1) == kind(1, "b") != kind(1, "c")
    assert evolve(kind(1), two="d") == kind(1, "d")
    assert attrs.asdict(kind(1)) == {"one": 1, "two": "b"}
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        kind(1).one = 2


def test_ours_are_made_here() -> None:
    """What the others would hide: this Python takes them."""
    assert values._works_here()


def test_every_module_has_its_annotations_from_the_future() -> None:
    """So that they are texts in every Python, and cost nothing."""
    for path in SOURCE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        if re.search(r"^(class|    \w+: )", text, re.M):
            assert "\nfrom __future__ import annotations\n" in text, path
