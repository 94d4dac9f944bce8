"""Could this run be one length

Looks at: each new run of PEX with couplings in it, and each adapter that joins two runs of the same tube and does nothing
    else: whether a coil would have reached. Sticks, copper and CPVC cannot come in one piece and are not asked. Ells are no
    couplings; two colours or sizes that meet are ordinary.
Why: a coupling is two rings more to gauge and one more place to leak, mostly where nobody sees it. It is there because the
    rest of a coil was used up.
To mend: pull the run as one length; keep the short ends for the stubs.
Cannot see: what was left on the coil, and whether the way was open from end to end.
Ask: no code counts couplings.
"""

import math
from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    FOOT_M,
    INCH_M,
    NOT_KNOWN,
    Facts,
    InForce,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Run,
    Size,
    Subject,
    Tube,
    Value,
    broken,
    estimates,
    fished_at,
    holds,
    is_new,
    on_site,
    recalled,
    tube_of,
    tube_outside_m,
)


def _coil(id_: str, title: str, feet: float) -> Limit:
    source = recalled("what makers of tube list", "", "coils")
    return Limit(id_, title, "length", "at most", practice=(Value(feet * FOOT_M, source, practice=True),))


SMALL = _coil("coil_small", "longest coil of 3/8 to 5/8 tube", 1000)
MIDDLE = _coil("coil_middle", "longest coil of 3/4 and 1 in tube", 500)
LARGE = _coil("coil_large", "longest coil of 1-1/4 in tube and larger", 300)
RULE = Rule("advice", "layout", (SMALL, MIDDLE, LARGE))

_COILED = ("PEX", "PEX-A", "PEX-B", "PEX-C", "PE-RT", "PEX-AL-PEX")
_COILS_FT = (100, 300, 500, 1000)


class Pieced(NamedTuple):
    """What is made of more than one piece. first: its first coupling, or the adapter; runs: the one, or the two it joins."""

    runs: tuple[Run, ...]
    tube: Tube
    couplings: int
    first: Path
    fished: bool


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each run with couplings, each adapter between two runs of one tube."""
    for run in facts.plan.runs.values():
        if run.along and run.work != "removed":
            places = [number for number, one in enumerate(run.along) if one.is_ == "coupling"]
            tube = tube_of(run, facts.plan)
            if places and tube is not None and tube.material in _COILED:
                first: Path = ("runs", run.id, "along", places[0])
                fished = any(fished_at(run, run.along[number].at) for number in places)
                thing = Pieced((run,), tube, len(places), first, fished)
                yield Subject(("runs", run.id), f"couplings of {run.id}", facts.run_place(run.id), thing)
    adapters = {part.id for part in facts.plan.parts.values() if part.is_ == "adapter" and is_new(part)}
    if adapters:
        yield from _adapters(facts, adapters)


def _adapters(facts: Facts, adapters: set[str]) -> Iterator[Subject]:
    plan = facts.plan
    taken = {part.onto.part for part in plan.parts.values() if part.onto is not None}
    at: dict[str, list[Run]] = {}
    for run in plan.runs.values():
        for ref in (run.from_, run.to):
            if ref is not None and ref.part in adapters and run.work != "removed":
                at.setdefault(ref.part, []).append(run)
    for id_, runs in at.items():
        tube = tube_of(runs[0], plan)
        if len(runs) != 2 or id_ in taken or plan.parts[id_].onto is not None or tube is None:
            continue
        if runs[0].tube == runs[1].tube and tube.material in _COILED and all(is_new(run) for run in runs):
            fished = any(run.fished is True for run in runs)
            thing = Pieced(tuple(runs), tube, 1, ("parts", id_), fished)
            yield Subject(("parts", id_), f"{runs[0].id} and {runs[1].id}", plan.parts[id_].place, thing)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the couplings are no more than the length of a coil asks for."""
    piece: Pieced = subject.thing
    tube = piece.tube
    if not all(is_new(run) for run in piece.runs):
        return on_site("an old run with a coupling: see whether it weeps")
    if piece.fished:
        return on_site("a coupling on a fished stretch: it may have been needed to get through")
    form = tube.form if tube.form is not None else "coil" if _width_m(tube) <= 1.15 * INCH_M else "stick"
    if form == NOT_KNOWN:
        raise NotShown(("tubes", tube.id, "form"), "whether the tube comes in coils or sticks")
    if form == "stick":
        return holds("sticks are joined")
    lengths = [facts.run_length_m(run.id) for run in piece.runs]
    missing = next((run.id for run, one in zip(piece.runs, lengths, strict=True) if one is None), None)
    if missing is not None:
        raise NotShown(("runs", missing, "length"), "how long the run is")
    total_m = math.fsum(one for one in lengths if one is not None)
    limit = limits.of(_limit(tube))
    if piece.couplings <= math.ceil((total_m - 1e-6) / limit.number) - 1:
        return holds(
            "longer than a coil", Measured(total_m, "length"), limit, estimates(*(r.length for r in piece.runs))
        )
    return _in_pieces(piece, total_m, limit, facts)


def _width_m(tube: Tube) -> float:
    """The outside diameter; by the name of the size where that is all there is, 1/2 in where there is none."""
    found = tube_outside_m(tube)
    if found is not None:
        return found
    return (tube.size.rank + 0.125) * INCH_M if isinstance(tube.size, Size) else 0.625 * INCH_M


def _limit(tube: Tube) -> Limit:
    width_m = _width_m(tube)
    return SMALL if width_m < 0.8 * INCH_M else MIDDLE if width_m < 1.15 * INCH_M else LARGE


def _in_pieces(piece: Pieced, total_m: float, limit: InForce, facts: Facts) -> Outcome:
    names = " and ".join(run.id for run in piece.runs)
    count = "a coupling" if piece.couplings == 1 else f"{piece.couplings} couplings"
    along = piece.first[0] == "runs"
    one = piece.runs[0].along[int(piece.first[3])] if along and piece.runs[0].along else None
    where = f" at {one.at.text}" if one is not None and isinstance(one.at, Length) and piece.couplings == 1 else ""
    hidden = " in the wall" if one is not None and one.hidden is True else ""
    has = f"has {count}{where}{hidden}" if along else f"are joined by {piece.first[1]}, which does nothing else"
    coil = next((feet for feet in _COILS_FT if feet * FOOT_M >= total_m), 1000)
    from_ = f" from a {coil} ft coil" if facts.units.length == "ft-in" else ""
    rings = 2 * piece.couplings
    return broken(
        f"{names} {'is' if along else 'are'} {facts.long_length(total_m)} {'and ' if along else 'together and '}{has}.",
        "advice",
        measured=Measured(total_m, "length"),
        limit=limit,
        found=f"{count if along else 'an adapter'} in {facts.long_length(total_m)}",
        needed="one length: a coil goes farther",
        mend=f"Pull it as one length{from_}: {rings} joints saved.",
        cause=piece.first if along else None,
        at=piece.first,
        estimate=estimates(*(run.length for run in piece.runs)),
    )
