"""What hangs on a pipe, counted up as pipes join: sums that follow each fixture added, so no set is walked twice."""

from plancheck.demand.fixtures import COLD, Counted, Item, Missing
from plancheck.demand.groups import COLD_ONLY, COMPLETE, HOT_ONLY, NOTHING, STATES, Triple, saving
from plancheck.demand.studydata import USES
from plancheck.demand.weights import ROLES, UPC_FIRST_HOSE_MORE
from plancheck.record import NamedTuple

_FIRST_HOSE = round(UPC_FIRST_HOSE_MORE * 1000)


class Sum(NamedTuple):
    """What a pipe serves. single and less: fixture units one by one, and what groups take off (thousandths); counts: of
    each fixture of the study; draws on top (m3/s) and whether a hose, by method; what is missing, by method."""

    single: Triple
    less: Triple
    counts: tuple[int, ...]
    flush_valves: bool
    units_draw_m3s: float
    study_draw_m3s: float
    units_hose: bool
    study_hose: bool
    units_missing: tuple[Missing, ...]
    study_missing: tuple[Missing, ...]


class Tally:
    """The fixtures on one pipe, by the sides of theirs that it feeds."""

    __slots__ = ("_kept", "_less", "_method", "_rooms", "_single", "_valves", "counts", "family", "sides")

    def __init__(self, family: str | None) -> None:
        self.family = family
        self.sides: dict[int, tuple[Item, int]] = {}  # by the number of the fixture
        self.counts = [0] * len(USES)
        self._single = [0, 0, 0]
        self._less = [0, 0, 0]
        self._rooms: dict[str | None, list[int]] = {}
        self._valves = 0
        self._method = (_Method(), _Method())
        self._kept: Sum | None = None

    def add(self, item: Item, side: int) -> None:
        """Counts a side (COLD, HOT or both) of a fixture; one counted before adds nothing."""
        side &= item.needs
        known = self.sides.get(item.number)
        old = known[1] if known is not None else 0
        new = old | side
        if new == old:
            return
        self.sides[item.number] = item, new
        self._kept = None
        if item.units.weight is not None:
            self._weigh(item, old, new)
        if not old:
            self._first(item)

    def _weigh(self, item: Item, old: int, new: int) -> None:
        before, after = _worth(item, old), _worth(item, new)
        for column in range(3):
            self._single[column] += item.count_ * (after[column] - before[column])
        if item.role is None or self.family is None:
            return
        room = self._rooms.setdefault(item.room, [0] * (STATES * len(ROLES)))
        was = saving(self.family, tuple(room))
        if old:
            room[STATES * item.role + _state(item, old)] -= item.count_
        room[STATES * item.role + _state(item, new)] += item.count_
        now = saving(self.family, tuple(room))
        for column in range(3):
            self._less[column] += now[column] - was[column]

    def _first(self, item: Item) -> None:
        self._valves += item.flush_valve
        if item.study.place is not None:
            self.counts[item.study.place] += item.count_ * item.study.times
        for method, counted in zip(self._method, (item.units, item.study), strict=True):
            method.add(item, counted)

    def join(self, other: "Tally") -> "Tally":
        """Both together: the larger takes the smaller one's fixtures, and neither may be used on its own afterwards."""
        small, large = sorted((self, other), key=lambda tally: len(tally.sides))
        for item, side in small.sides.values():
            large.add(item, side)
        return large

    def sum(self) -> Sum:
        """The sums as they stand."""
        if self._kept is None:
            units, study = self._method
            single, hose = self._single, units.hose
            if units.weighed_hose and self.family == "upc":
                single = [single[0] + _FIRST_HOSE, single[1], single[2] + _FIRST_HOSE]
            self._kept = Sum(
                (single[0], single[1], single[2]),
                (self._less[0], self._less[1], self._less[2]),
                tuple(self.counts),
                self._valves > 0,
                units.draw_m3s,
                study.draw_m3s,
                hose,
                study.hose,
                units.gaps(),
                study.gaps(),
            )
        return self._kept


class _Method:
    """What one method counts besides weights and places in its table."""

    __slots__ = ("draw_m3s", "hose", "missing", "weighed_hose")

    def __init__(self) -> None:
        self.draw_m3s = 0.0
        self.hose = self.weighed_hose = False
        self.missing: dict[str, tuple[int, Missing]] = {}

    def add(self, item: Item, counted: Counted) -> None:
        self.draw_m3s += counted.draw_m3s
        self.hose = self.hose or counted.hose
        self.weighed_hose = self.weighed_hose or (item.study.hose and counted.weight is not None)
        gap = counted.missing
        if gap is not None and (gap.what not in self.missing or item.number < self.missing[gap.what][0]):
            self.missing[gap.what] = item.number, gap

    def gaps(self) -> tuple[Missing, ...]:
        return tuple(gap for _, gap in sorted(self.missing.values(), key=lambda found: found[0]))


def _worth(item: Item, sides: int) -> Triple:
    weight = item.units.weight
    if weight is None or not sides:
        return NOTHING
    if sides == item.needs:
        return weight
    one = weight[0] if sides == COLD else weight[1]
    return (one, 0, one) if sides == COLD else (0, one, one)


def _state(item: Item, sides: int) -> int:
    if sides == item.needs:
        return COMPLETE
    return COLD_ONLY if sides == COLD else HOT_ONLY
