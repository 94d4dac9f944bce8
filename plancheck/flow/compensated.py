"""A shower whose valve compensates: it moves hot and cold until the water has its temperature again, if it can."""

from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture, Missing
from plancheck.flow.shower import Mixed, hot_at, laws_at, mixed_in
from plancheck.model import FixtureOwn, Mixer, Ref
from plancheck.record import NamedTuple

MOST_ROUNDS = 20
_NEAR_C = 0.02
_LEAST_SHARE, _MOST_SHARE = 0.02, 0.98
_END = 1e-3  # so near hot or cold alone a valve can do no more
# what the listing tests (ASSE 1016, 2005 edition as taught, read): difference of the sides as a share of the higher
_TESTED = {"pressure balanced": 0.5, "combination": 0.5, "thermostatic": 0.2}


class Compensated(NamedTuple):
    """A shower with its valve at work. mixed: its water then (at hot or cold alone where it can do no more), None where the
    valve does not settle or is outside what its listing tests; says: which of these, in words."""

    mixed: Mixed | None
    rounds: int
    says: str = ""


def compensates(flow: Flow, fixture: Fixture) -> str | None:
    """The kind of a shower's compensating valve; None where it has none, or the plan does not say it is listed."""
    own = flow.facts.plan.parts[fixture.part].own
    mixer = own.mixer if isinstance(own, FixtureOwn) else None
    if not isinstance(mixer, Mixer) or mixer.kind not in _TESTED:
        return None
    return mixer.kind if "1016" in (mixer.standard or "") or "125.16" in (mixer.standard or "") else None


def compensated(flow: Flow, fixture: Fixture, side: str, before: Mixed, kind: str) -> Compensated:
    """The shower trimmed as `before` while another opening runs, its valve moved in at most MOST_ROUNDS rounds.

    A thermostatic valve follows the temperature. A pressure-balanced one makes both sides alike behind it, so that the
    shares of hot and cold stay as they were set: with water of the same temperatures that is the same point.
    """
    cold_c, hot_c = flow.house.cold_c, hot_at(flow, fixture.part)
    if cold_c is None or isinstance(hot_c, Missing):
        return Compensated(None, 0, "not shown")
    share, last = before.share, flow.opened(fixture.mixed, laws_at(fixture, before.share))
    low, high = min(_LEAST_SHARE, share), max(_MOST_SHARE, share)
    for number in range(1, MOST_ROUNDS + 1):
        last = flow.opened((*fixture.mixed, side), laws_at(fixture, share), last)
        if last.why:
            return Compensated(None, number, f"no answer ({last.why})")
        found = mixed_in(flow, last, fixture, share, cold_c, hot_c)
        if number == 1 and _apart(flow, fixture, found) > _TESTED[kind]:
            return Compensated(None, number, "outside what its valve is tested for")
        off = found.celsius - before.celsius
        if abs(off) <= _NEAR_C or (high - share if off < 0 else share - low) < _END:
            return Compensated(found, number)
        low, high = (low, share) if off > 0 else (share, high)
        step = share - off / (hot_c - cold_c)
        share = step if low < step < high else (low + high) / 2.0
    return Compensated(None, MOST_ROUNDS, "its valve does not settle")


def _apart(flow: Flow, fixture: Fixture, found: Mixed) -> float:
    """How far the two sides before the valve differ, as a share of the higher pressure."""
    level = flow.house.levels.of(Ref(fixture.part, "hot")) or 0.0
    hot, cold = found.hot_m - level, found.cold_m - level
    return abs(hot - cold) / max(hot, cold) if max(hot, cold) > 0 else 1.0


def swings_over(flow: Flow, part: str, most_k: float) -> bool:
    """Whether a shower changes by more than this when something else opens, and no listed valve of its own holds it."""
    fixture = flow.house.fixtures[part]
    kind = compensates(flow, fixture)
    for found in flow.swings(part).values():
        held = kind is not None and found.after is not None and _apart(flow, fixture, found.after) <= _TESTED[kind]
        if abs(found.change_c) > most_k and not held:
            return True
    return False
