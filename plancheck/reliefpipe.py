"""Relief pipes: of tube with insert fittings, and how high the end may stand above what it empties on."""

from __future__ import annotations

from plancheck.answers import GRACE_LENGTH_M, at_least, at_most, broken, estimates, holds, length, on_site
from plancheck.facts import Facts
from plancheck.limits import InForce, NotShown
from plancheck.measures import Length, Size
from plancheck.model import NOT_KNOWN, Discharge, Path, SaidSize
from plancheck.outcomes import Outcome

_INCH_M = 0.0254
_SIZES = (("3/4 in", 0.75), ("1 in", 1.0), ("1-1/4 in", 1.25), ("1-1/2 in", 1.5), ("2 in", 2.0))


def judge_inserts(pipe: Discharge, outlet: SaidSize, path: Path, limit: InForce, facts: Facts) -> Outcome:
    """A pipe whose fittings go inside the tube: one size larger than the valve's outlet, its end fastened.

    path: of the pipe. Raises NotShown where a size is not said.
    """
    if not isinstance(outlet, Size):
        raise NotShown((*path[:-1], "size"), "the size of the relief valve's outlet")
    if not isinstance(pipe.size, Size):
        raise NotShown((*path, "size"), "the size of the relief pipe")
    if pipe.size.rank <= outlet.rank + 0.001:
        return _choked(pipe, pipe.size, outlet, limit, facts)
    if pipe.fastened is None or pipe.fastened == NOT_KNOWN:
        return on_site("its end must be fastened, else it whips when the valve opens")
    if pipe.fastened is True:
        return holds("one size larger, its end fastened")
    return broken(
        f"The relief pipe is {pipe.material}, and its end is not fastened.",
        "correction",
        limit=limit,
        found="loose",
        needed="fastened",
        mend="Strap it within a hand's breadth of its end.",
    )


def _choked(pipe: Discharge, size: Size, outlet: Size, limit: InForce, facts: Facts) -> Outcome:
    larger = next((name for name, rank in _SIZES if rank > outlet.rank + 0.001), "the next size of")
    return broken(
        f"The relief pipe is {size.words} {pipe.material} on a {outlet.words} valve: the bore of its fittings chokes it.",
        "correction",
        limit=limit,
        found=f"{size.words} {pipe.material}",
        needed=f"PEX of {larger}, its end fastened",
        mend=f"Run PEX of {larger}, or hard copper of {outlet.words}, falling to {facts.length(4 * _INCH_M)} over the floor drain, "
        "strapped at the end.",
    )


def judge_end(end: Length, least: InForce, most: InForce, facts: Facts, pipe: Path, size: SaidSize) -> Outcome:
    """An end between its least and most height. least: a length, or so many nominal diameters of the size of the pipe.

    Raises NotShown where the size matters and is not said.
    """
    about = estimates(end)
    if not at_most(end.m, most.number, GRACE_LENGTH_M):
        return _wrong(end, most, most.number, "at most", facts, about)
    least_m = least.number
    if least.limit.unit == "diameters" and least.number > 0:
        if not isinstance(size, Size):
            if end.m >= _INCH_M * 2 * least.number:  # no relief pipe of a house is wider than 2 in
                return holds("", length(end.m), most, about)
            raise NotShown((*pipe, "size"), "the size of the relief pipe, twice which its end has to stand off")
        least_m = least.number * size.rank * _INCH_M
    if not at_least(end.m, least_m, GRACE_LENGTH_M):
        return _wrong(end, least, least_m, "at least", facts, about)
    return holds("", length(end.m), most, about)


def _wrong(end: Length, limit: InForce, needed_m: float, sense: str, facts: Facts, about: str) -> Outcome:
    needed = f"{sense} {facts.length(needed_m)}"
    return broken(
        f"The relief pipe ends {end.text} above what it empties on; {needed}.",
        "correction",
        measured=length(end.m),
        limit=limit,
        found=end.text,
        needed=needed,
        why="High up it scalds whoever stands there; too low it has no air gap, and splashes."
        if sense == "at most"
        else "Too near the floor it has no air gap, and what comes out sprays.",
        mend=f"{'Run it down' if sense == 'at most' else 'Cut it back'} to {facts.length(needed_m)}.",
        estimate=about,
    )
