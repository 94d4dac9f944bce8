"""How far a plan is like the reference layout of a declared task, whatever its things are called.

Things are told by kind, joins by the kinds and connections at both ends and the water in between; what both have counts,
over what either has.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from plancheck.facts import Facts
from plancheck.measures import Size
from plancheck.model import ManifoldOwn, Ref, Run
from plancheck.record import NamedTuple

_SAME_SHARE, _SAME_M = 0.05, 0.025  # lengths that count as alike (common practice of a tape in a frame)
Join = tuple[str, str, str]


class Compared(NamedTuple):
    """One kind of comparison: the share that agrees, and what one has that the other has not."""

    share: float
    missing: tuple[str, ...]
    besides: tuple[str, ...]


def agreement(own: Facts, reference: Facts, what: tuple[str, ...], paid: tuple[str, ...] = ()) -> tuple[float, str]:
    """The mean share over what is compared (parts, joins, sizes, lengths), and what differs, in a sentence.

    paid: parts that are joined to nothing and paid for elsewhere; a join that each of them lacks costs nothing here.
    """
    found = {name: compared(own, reference, name, paid) for name in what}
    share = sum(one.share for one in found.values()) / len(found)
    return share, " ".join(_words(name, one) for name, one in found.items())


def compared(own: Facts, reference: Facts, what: str, paid: tuple[str, ...] = ()) -> Compared:
    """One comparison."""
    if what == "lengths":
        return _lengths(own, reference)
    mine, theirs = _things(own, what), _things(reference, what)
    for part in paid if what in ("joins", "sizes") else ():
        lacking = next((join for join in theirs - mine if f"{own.plan.parts[part].is_} " in join), None)
        if lacking is not None:
            theirs[lacking] -= 1
    common, either = sum((mine & theirs).values()), sum((mine | theirs).values())
    missing, besides = theirs - mine, mine - theirs
    return Compared(common / either if either else 1.0, _listed(missing), _listed(besides))


def _things(facts: Facts, what: str) -> Counter[str]:
    if what == "parts":
        return Counter(_kind(facts, part.id) for part in facts.plan.parts.values() if part.work != "removed")
    if what == "joins":
        return Counter(_in_words(_join(facts, run)) for run in _runs(facts))
    return Counter(f"{_in_words(_join(facts, run))}, {_size(facts, run)}" for run in _runs(facts))


def _in_words(join: Join) -> str:
    first, second, water = join
    return f"{first} to {second}{f' with {water} water' if water else ''}"


def _runs(facts: Facts) -> list[Run]:
    return [run for run in facts.plan.runs.values() if run.work != "removed"]


def _kind(facts: Facts, part: str) -> str:
    found = facts.plan.parts[part]
    own = found.own
    return f"{found.is_} of {len(own.ports)} ports" if isinstance(own, ManifoldOwn) else found.is_


def _join(facts: Facts, run: Run) -> Join:
    """Both ends in an order of their own, and the water."""
    first, second = sorted((_end(facts, run.from_), _end(facts, run.to)))
    return first, second, facts.carried(run.id).service or ""


def _end(facts: Facts, ref: Ref | None) -> str:
    if ref is None:
        return "nothing"
    part = facts.plan.parts[ref.part]
    if isinstance(part.own, ManifoldOwn):
        port = part.own.ports.get(ref.connection)
        return f"manifold {'feed' if port is not None and port.use == 'feed' else 'port'}"
    return f"{part.is_} {ref.connection}"


def _size(facts: Facts, run: Run) -> str:
    tube = facts.plan.tubes.get(run.tube or "")
    return tube.size.name if tube is not None and isinstance(tube.size, Size) else "size not said"


def _lengths(own: Facts, reference: Facts) -> Compared:
    """Runs of the same join by length, the shortest with the shortest."""
    mine, theirs = _by_join(own), _by_join(reference)
    alike = total = 0
    missing: list[str] = []
    for join in {**theirs, **mine}:
        one, other = sorted(mine.get(join, [])), sorted(theirs.get(join, []))
        total += max(len(one), len(other))
        for a, b in zip(one, other, strict=False):
            if abs(a - b) <= max(_SAME_M, _SAME_SHARE * b):
                alike += 1
            else:
                missing.append(f"{' to '.join(join[:2])}: {own.length(a)} for {own.length(b)}")
    return Compared(alike / total if total else 1.0, tuple(missing), ())


def _by_join(facts: Facts) -> Mapping[Join, list[float]]:
    found: dict[Join, list[float]] = {}
    for run in _runs(facts):
        length = facts.run_length_m(run.id)
        if length is not None:
            found.setdefault(_join(facts, run), []).append(length)
    return found


def _listed(counted: Counter[str]) -> tuple[str, ...]:
    return tuple(f"{count} {name}" for name, count in sorted(counted.items()))


def _words(name: str, found: Compared) -> str:
    says = f"{name.capitalize()} agree by {found.share:.0%}"
    if found.missing:
        says += f"; {'off' if name == 'lengths' else 'missing'}: {', '.join(found.missing[:4])}{_more(found.missing)}"
    if found.besides:
        says += f"; besides: {', '.join(found.besides[:4])}{_more(found.besides)}"
    return f"{says}."


def _more(names: tuple[str, ...]) -> str:
    return f" and {len(names) - 4} more" if len(names) > 4 else ""
