"""What each outlet of a plan counts for in either method, or why it cannot be counted."""

from collections.abc import Iterator

from plancheck.demand.curve import GPM_M3S
from plancheck.demand.groups import Triple, role_of, thousandths
from plancheck.demand.studydata import PLACE, USES
from plancheck.demand.units import NoWeight, weight_of
from plancheck.demand.weights import ANY_TANK, FLUSH_VALVE, FLUSHOMETER_TANK, LARGE_TANK, TANK
from plancheck.kinds import KINDS
from plancheck.measures import Quantity
from plancheck.measures.units import GALLON_M3
from plancheck.model import NONE, NOT_KNOWN, FixtureOwn, Part, Plan, RestOwn
from plancheck.record import NamedTuple

COLD, HOT = 1, 2
_GRACE_M3S = 0.005 * GPM_M3S
_STUDY_FLUSH_M3, _LARGE_FLUSH_M3, _GRACE_M3 = 1.28 * GALLON_M3, 1.6 * GALLON_M3, 0.005 * GALLON_M3
_CODE = ("code", "family")


class Missing(NamedTuple):
    """A fact without which a flow is not shown: what, in words, and the path of the key to look at."""

    what: str
    path: tuple[str | int, ...]


class Counted(NamedTuple):
    """What one outlet counts for in one method.

    A weight (thousandths of a fixture unit) or a place in the study's table, so many times; or a draw of its own on top
    (m3/s), or a hose; or why it is not shown.
    """

    weight: Triple | None = None
    place: int | None = None
    times: int = 1
    draw_m3s: float = 0.0
    hose: bool = False
    missing: Missing | None = None


class Item(NamedTuple):
    """One fixture, or `count_` equal ones. needs: its sides (COLD, HOT or both); role: what it is in its room's group."""

    number: int
    needs: int
    units: Counted
    study: Counted
    count_: int = 1
    room: str | None = None
    role: int | None = None
    flush_valve: bool = False


Items = dict[str, tuple[Item, ...]]  # part -> what hangs on it


def items_of(plan: Plan, family: str | None, as_piped: bool = True) -> Items:
    """What every outlet of the plan counts for; removed ones left out. family None: no fixture units.

    as_piped: the rest of a house that takes no hot water heats its own, so its one pipe brings everything.
    """
    found: Items = {}
    number = 0
    for part in plan.parts.values():
        if part.work == "removed":
            continue
        made = tuple(_items(part, family, number, as_piped))
        if made:
            found[part.id] = made
            number += len(made)
    return found


def _items(part: Part, family: str | None, number: int, as_piped: bool) -> Iterator[Item]:
    if part.is_ == "rest of house":
        from plancheck.demand.rest import rest_items

        yield from rest_items(part, family, number, as_piped)
    elif KINDS[part.is_].sort == "fixture":
        yield _fixture(part, family, number)
    elif isinstance(part.own, RestOwn) and part.own.serves == "irrigation":
        gap = Missing("what the irrigation draws (write it as rest of house with its draw)", ("parts", part.id))
        yield Item(number, COLD, Counted(missing=gap), Counted(missing=gap))


def _fixture(part: Part, family: str | None, number: int) -> Item:
    own = part.own if isinstance(part.own, FixtureOwn) else FixtureOwn()
    needs = sides_of(part.is_)
    one_sided = needs == COLD | HOT and own.hot == NONE
    row = row_of(part.is_, own)
    heads = 2 if part.is_ == "shower" and isinstance(own.spray, Quantity) else 1
    units = units_of(part.id, row, family, heads if family == "upc" else 1)
    if one_sided and units.weight is not None:
        alone = units.weight[2] if family == "upc" else units.weight[0]
        units = units._replace(weight=(alone, 0, alone))
    role = None if one_sided else role_of(row, family)
    study = study_of(part.is_, part.id, own)._replace(times=heads)
    return Item(number, COLD if one_sided else needs, units, study, 1, part.place, role, row == FLUSH_VALVE)


def sides_of(kind: str) -> int:
    """The sides of a kind of fixture: COLD, HOT or both."""
    return sum({"cold": COLD, "hot": HOT}[side] for side in KINDS[kind].connections)


def row_of(kind: str, own: FixtureOwn) -> str | None:
    """The row of the weight tables; a toilet of which nothing is said has a tank of at most 1.6 gal, as in dwellings."""
    if kind != "toilet":
        return kind
    if own.style == "flush valve":
        return FLUSH_VALVE
    if own.style == "flushometer tank":
        return FLUSHOMETER_TANK
    if own.style == NOT_KNOWN:
        return None
    if isinstance(own.flush, Quantity):
        return LARGE_TANK if own.flush.si > _LARGE_FLUSH_M3 + _GRACE_M3 else TANK
    return ANY_TANK if own.flush == NOT_KNOWN else TANK


def units_of(part: str, row: str | None, family: str | None, heads: int = 1) -> Counted:
    """What a row weighs in the family; row None: a toilet of which nobody knows how it flushes."""
    if family is None:
        return Counted(missing=Missing("the code the job is built under (irc, ipc or upc)", _CODE))
    if row is None:
        return Counted(missing=Missing("how the toilet flushes", ("parts", part, "style")))
    weight = weight_of(row, family)
    if isinstance(weight, NoWeight):
        if row == "hose outlet" and family == "ipc":  # a continuous demand there, added in gpm
            return Counted(hose=True)
        return Counted(missing=Missing(weight.why, ("parts", part)))
    cold, hot, total = thousandths(weight.cold * heads, weight.hot * heads, weight.total * heads)
    return Counted(weight=(cold, hot, total))


_RATES = {
    "shower": ("head", "spray"),
    "lavatory": ("faucet",),
    "kitchen sink": ("faucet",),
    "bar sink": ("faucet",),
    "laundry tray": ("faucet",),
    "bidet": ("faucet",),
    "bathtub": ("faucet",),
    "tub and shower": ("faucet", "head", "spray"),
}


def study_of(kind: str, part: str, own: FixtureOwn) -> Counted:
    """The fixture's row in the study's table; one that takes more than its row's flow is not in it."""
    path = ("parts", part)
    if kind == "hose outlet":
        return Counted(hose=True)
    place = PLACE.get(kind)
    if place is None:
        return Counted(missing=Missing(f"{_a(kind)} in the table of the binomial method", path))
    if kind == "toilet":
        gap = _toilet_gap(own, path)
        return Counted(missing=gap) if gap is not None else Counted(place=place)
    most_m3s = USES[place].tenths_gpm / 10 * GPM_M3S
    for key in _RATES.get(kind, ()):
        rate = getattr(own, key)
        if isinstance(rate, Quantity) and rate.si > most_m3s + _GRACE_M3S:
            what = f"{_a(kind)} of more than {USES[place].tenths_gpm / 10:g} gpm in the table of the binomial method"
            return Counted(missing=Missing(what, (*path, key)))
    return Counted(place=place)


def _toilet_gap(own: FixtureOwn, path: tuple[str, ...]) -> Missing | None:
    if own.style in ("flush valve", "flushometer tank", NOT_KNOWN):
        return Missing("a toilet other than with a gravity tank in the table of the binomial method", (*path, "style"))
    over = isinstance(own.flush, Quantity) and own.flush.si > _STUDY_FLUSH_M3 + _GRACE_M3
    if over or own.flush == NOT_KNOWN:
        return Missing("a toilet of more than 1.28 gal in the table of the binomial method", (*path, "flush"))
    return None


def _a(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"
