"""What would help an outlet most: the run that loses most, solved again in the next size."""

from collections.abc import Iterator

from plancheck.flow.capacity import Left, friction_by_run
from plancheck.flow.flow import Flow
from plancheck.hydraulics.plain import Darcy
from plancheck.measures import Size, read_size
from plancheck.model import Ref, Tube
from plancheck.tubedata import tube_bore_m

_NOT_ENLARGED = ("heater", "mixing")
_SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2")


def next_size(tube: Tube) -> tuple[str, float] | None:
    """The next larger size of a tube and its average bore, m; None where no table tells it."""
    if not isinstance(tube.size, Size) or tube.size.name not in _SIZES[:-1]:
        return None
    name = _SIZES[_SIZES.index(tube.size.name) + 1]
    bore_m = tube_bore_m(tube._replace(size=read_size(name), outside=None, wall=None))
    return (name, bore_m) if bore_m is not None else None


def better(flow: Flow, left: Left, least_pa: float) -> str:
    """The mend of an outlet that is short, in words with numbers: the first size that leaves the least, else the next."""
    facts, plan = flow.facts, flow.facts.plan
    for loss, name in friction_by_run(flow, left):
        if name in flow.house.pieces and flow.house.pieces[name].kind in _NOT_ENLARGED:
            continue
        run = plan.runs.get(name)
        tube = plan.tubes.get(run.tube) if run is not None and run.tube is not None else None
        lost = facts.quantity(loss, "pressure")
        if tube is None:
            return f"Enlarge {facts.part_name(name)} first: it loses most ({lost})."
        found = [one for one in _leaves(flow, left, name, tube) if one[1] > 0.0]
        enough = [one for one in found if one[1] >= least_pa]
        for size, pa in enough[:1] or found[:1]:
            short = "" if enough else ", still short: enlarge the next on its way too"
            return f"Run {name} in {size} in tube: it loses most ({lost}), and that leaves {facts.quantity(pa, 'pressure')}{short}."
        return f"Run {name} a size larger: it loses most ({lost})."
    return "Raise the pressure, or shorten the way."


def _leaves(flow: Flow, left: Left, name: str, tube: Tube) -> Iterator[tuple[str, float]]:
    """The larger sizes of a run, and the pressure, Pa, that each leaves at the outlet."""
    law = flow.edges[name].law
    larger = next_size(tube)
    while larger is not None and isinstance(law, Darcy):
        solution = flow.drawn(dict(left.draws), {**dict(left.laws), name: law._replace(bore_m=larger[1])})
        reading = flow.reading(solution, Ref(*left.side.split("/", 1)))
        if reading.missing is None and not reading.why:
            yield larger[0], reading.pa
        larger = next_size(tube._replace(size=read_size(larger[0]), outside=None, wall=None))
