"""Records against typing's own: the same constructor, equality, unpacking, refusals; made in a fraction of the time."""

import copy
import pickle
from typing import NamedTuple as Typed

import pytest

from plancheck.record import NamedTuple


class Light(NamedTuple):
    """A record."""

    a: float
    b: str = "x"
    c: int | None = None

    @property
    def twice(self) -> float:
        """A property of it."""
        return self.a * 2


class Heavy(Typed):
    """The same, typing's."""

    a: float
    b: str = "x"
    c: int | None = None


@pytest.mark.parametrize("given", [((1.0,), {}), ((1.0, "y"), {}), ((1.0, "y", 3), {}), ((), {"a": 2.0, "c": 4})])
def test_made_alike(given: tuple[tuple[object, ...], dict[str, object]]) -> None:
    places, names = given
    light, heavy = Light(*places, **names), Heavy(*places, **names)  # type: ignore[arg-type]
    assert tuple(light) == tuple(heavy)
    assert light == heavy
    assert hash(light) == hash(heavy)
    assert light._asdict() == heavy._asdict()
    assert repr(light) == repr(heavy).replace("Heavy", "Light")
    assert light._replace(b="z") == heavy._replace(b="z")
    assert light._fields == heavy._fields
    assert light.twice == heavy.a * 2


@pytest.mark.parametrize("given", [((), {}), ((1.0, "y", 3, 4), {}), ((1.0,), {"q": 1}), ((1.0,), {"a": 1})])
def test_refused_alike(given: tuple[tuple[object, ...], dict[str, object]]) -> None:
    places, names = given
    for kind in (Light, Heavy):
        with pytest.raises(TypeError):
            kind(*places, **names)  # type: ignore[arg-type]


def test_a_field_cannot_be_set_and_an_unknown_one_not_replaced() -> None:
    with pytest.raises(AttributeError):
        Light(1.0).a = 2.0  # type: ignore[misc]
    with pytest.raises((ValueError, TypeError)):
        Light(1.0)._replace(q=1)  # type: ignore[call-arg]


def test_copied_pickled_and_matched() -> None:
    light = Light(1.0, "y", 3)
    assert copy.deepcopy(light) == light
    assert pickle.loads(pickle.dumps(light)) == light
    match light:
        case Light(a=1.0, b=text):
            assert text == "y"
        case _:
            pytest.fail("no match")


def test_a_default_before_a_field_without_one_is_refused() -> None:
    with pytest.raises(TypeError):

        class _Wrong(NamedTuple):
            a: int = 1
            b: int  # type: ignore[misc]
