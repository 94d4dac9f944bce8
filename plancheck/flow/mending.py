"""What would help an outlet most: the run that loses most, solved again in the next size."""

from plancheck.flow.capacity import Left, friction_by_run
from plancheck.flow.flow import Flow
from plancheck.hydraulics.plain import Darcy
from plancheck.measures import Size, read_size
from plancheck.model import Ref, Tube
from plancheck.tubedata import tube_bore_m

_SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2")


def next_size(tube: Tube) -> tuple[str, float] | None:
    """The next larger size of a tube and its average bore, m; None where no table tells it."""
    if not isinstance(tube.size, Size) or tube.size.name not in _SIZES[:-1]:
        return None
    name = _SIZES[_SIZES.index(tube.size.name) + 1]
    bore_m = tube_bore_m(tube._replace(size=read_size(name), outside=None, wall=None))
    return (name, bore_m) if bore_m is not None else None


def better(flow: Flow, left: Left) -> str:
    """The mend of an outlet that is short, in words with numbers."""
    facts, plan = flow.facts, flow.facts.plan
    for loss, name in friction_by_run(flow, left):
        run = plan.runs.get(name)
        tube = plan.tubes.get(run.tube) if run is not None and run.tube is not None else None
        lost = facts.quantity(loss, "pressure")
        if tube is None:
            return f"Most is lost in {name} ({lost}): enlarge that first."
        larger = next_size(tube)
        law = flow.edges[name].law
        if larger is None or not isinstance(law, Darcy):
            return f"Most is lost in {name} ({lost}): run it a size larger."
        wide = law._replace(bore_m=larger[1])
        solution = flow.drawn(dict(left.draws), {name: wide})
        reading = flow.reading(solution, Ref(*left.side.split("/", 1)))
        if reading.missing is not None or reading.why:
            return f"Most is lost in {name} ({lost}): run it a size larger."
        return f"Most is lost in {name} ({lost}): in {larger[0]} it leaves {facts.quantity(reading.pa, 'pressure')}."
    return "Raise the pressure, or shorten the way."
