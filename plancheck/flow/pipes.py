"""Runs and manifolds as pipes: length, true bore, temperature, fittings at their ends and on the way."""

from itertools import pairwise

from plancheck.facts import Facts
from plancheck.flow.house import Drawing, Missing, Piece
from plancheck.flow.losses import SPREAD, TURN_K, VALVE_K, fitting_k
from plancheck.hydraulics.plain import SMOOTH_M, Darcy, Linear
from plancheck.hydraulics.water import kinematic_m2_s
from plancheck.kinds import PLASTIC
from plancheck.measures import Length, Size
from plancheck.measures.units import INCH_M
from plancheck.model import NONE, NOT_KNOWN, Bends, ManifoldOwn, Part, Port, Ref, Run, Tube
from plancheck.record import NamedTuple
from plancheck.tubedata import STEEL_ROUGH_M, narrowed_by_rust, tube_bore_m

_NO_STOP = (None, NONE, NOT_KNOWN)
USUAL_SPACING_M = 4 * 0.0254
_NOTHING = 1.0  # s/m2: a loss nobody sees, where the fact that would tell it is missing


class Setting(NamedTuple):
    """What holds for the whole house: facts, band of the losses, kinematic viscosities by service, runs by their ends."""

    facts: Facts
    band: float
    viscosity: dict[str, float]
    runs_at: dict[Ref, Run]
    bores: dict[str, float | None]

    def bore_m(self, tube: Tube) -> float | None:
        """The average bore of a tube, looked up once."""
        if tube.id not in self.bores:
            self.bores[tube.id] = tube_bore_m(tube)
        return self.bores[tube.id]

    @property
    def factor(self) -> float:
        """What every K is multiplied with. band: -1 for the lowest losses, 0 for the middle, 1 for the highest."""
        return 1.0 + SPREAD * self.band


def setting_of(facts: Facts, band: float, cold_c: float, hot_c: float) -> Setting:
    """The setting of a house."""
    cold, hot = kinematic_m2_s(cold_c), kinematic_m2_s(hot_c)
    middle = kinematic_m2_s((cold_c + hot_c) / 2.0)
    viscosity = {"cold": cold, "not potable": cold, "hot": hot, "hot return": hot, "mixed": middle}
    runs_at = {
        ref: run for run in facts.plan.runs.values() for ref in (run.from_, run.to) if ref and run.work != "removed"
    }
    return Setting(facts, band, viscosity, runs_at, {})


def add_runs(drawing: Drawing, setting: Setting) -> None:
    """Every run that carries water as a pipe."""
    for run in setting.facts.plan.runs.values():
        if run.from_ is not None and run.to is not None and run.work != "removed":
            _add_run(drawing, setting, run, run.from_, run.to)


def _add_run(drawing: Drawing, setting: Setting, run: Run, start: Ref, end: Ref) -> None:
    plan = setting.facts.plan
    tube = plan.tubes.get(run.tube) if run.tube is not None else None
    shape = setting.facts.geometry.shapes.get(run.id)
    length_m = run.length.m if isinstance(run.length, Length) else shape.length_m if shape is not None else None
    bore_m = _bore_m(drawing, setting, tube) if tube is not None else None
    if length_m is None or bore_m is None or tube is None:
        missing = Missing(("runs", run.id, "length"), "how long the run is")
        if length_m is not None:
            missing = Missing(("tubes", str(run.tube), bore_key(tube)), "the bore of the tube")
        drawing.add(run.id, str(start), str(end), Linear(_NOTHING), Piece("run", run.id, bore_m, missing))
        return
    k = _ends_k(setting, run, tube, bore_m) + _along_k(run, tube, bore_m, setting)
    viscosity = setting.viscosity.get(setting.facts.carried(run.id).service or "cold", setting.viscosity["cold"])
    rough_m = STEEL_ROUGH_M if tube.material == "galvanised steel" else SMOOTH_M
    law = Darcy(length_m, bore_m, k * setting.factor, rough_m, viscosity)
    rust = narrowed_by_rust(run, tube)
    if rust:
        drawing.assume(rust)
    drawing.add(run.id, str(start), str(end), law, Piece("run", run.id, bore_m))


def _bore_m(drawing: Drawing, setting: Setting, tube: Tube) -> float | None:
    """The bore of a tube; a connector's, which no table tells, is taken as its name says."""
    found = setting.bore_m(tube)
    if found is None and tube.form == "connector" and isinstance(tube.size, Size):
        drawing.assume(f"the bore of the connector {tube.id} as its size says")
        return tube.size.rank * INCH_M
    return found


def bore_key(tube: Tube | None) -> str:
    """The key of a tube that would tell its bore."""
    if tube is None or not isinstance(tube.size, Size):
        return "size"
    return "wall" if tube.size.metric else "type" if tube.material == "copper" else "wall"


def _ends_k(setting: Setting, run: Run, tube: Tube, bore_m: float) -> float:
    """Half a coupling for each end that goes into a device; a tee's and a manifold's fitting is counted with them."""
    total = 0.0
    joint = run.joint
    for ref, how in ((run.from_, joint.from_ if joint else None), (run.to, joint.to if joint else None)):
        kind = setting.facts.plan.parts[ref.part].is_ if ref is not None else ""
        if kind not in ("tee", "manifold", ""):
            total += 0.5 * fitting_k("coupling", how, size_name(tube), bore_m, tube.material in PLASTIC)
    return total


def _along_k(run: Run, tube: Tube, bore_m: float, setting: Setting) -> float:
    joint = run.joint.from_ if run.joint is not None else None
    plastic = tube.material in PLASTIC
    total = 0.0
    for one in run.along or ():
        if one.is_ in ("coupling", "ell"):
            total += fitting_k(one.is_, joint, size_name(tube), bore_m, plastic)
    turns, ells = _turns(run, setting)
    return total + (turns - ells) * TURN_K + ells * fitting_k("ell", joint, size_name(tube), bore_m, plastic)


def _turns(run: Run, setting: Setting) -> tuple[int, int]:
    """How many turns a run makes, and how many of them are fittings."""
    shape = setting.facts.geometry.shapes.get(run.id)
    bends = run.bends if isinstance(run.bends, Bends) else None
    number = len(shape.turns) if shape is not None else 0
    if bends is None:
        return number, 0
    if shape is None and isinstance(bends.count_, int):
        number = bends.count_
    if bends.each is not None:
        ells = sum(bend.fitting not in (None, NONE, NOT_KNOWN) for bend in bends.each)
        return max(number, len(bends.each)), ells
    every = bends.all is not None and bends.all.fitting not in (None, NONE, NOT_KNOWN)
    return number, number if every else 0


def size_name(tube: Tube) -> str | None:
    """The nominal size of a tube as a name."""
    return tube.size.name if isinstance(tube.size, Size) else None


def add_manifold(drawing: Drawing, setting: Setting, part: Part, own: ManifoldOwn) -> None:
    """A manifold port by port: pieces of its tube between neighbours, a branch to each port with its valve."""
    plan = setting.facts.plan
    tube = plan.tubes.get(own.tube) if own.tube is not None else None
    bore_m = own.bore.m if isinstance(own.bore, Length) else setting.bore_m(tube) if tube is not None else None
    missing = None if bore_m is not None else Missing(("parts", part.id, "tube"), "the tube it is made of, or its bore")
    ports = list(own.ports.values())
    rows = [_port(drawing, setting, part, port, bore_m) for port in ports]
    gaps = list(pairwise(range(len(ports))))
    if own.shape == "ring" and len(ports) > 2:
        gaps.append((len(ports) - 1, 0))
    ends = [end for gap in gaps for end in gap]
    turning = {place for place, port in enumerate(ports) if port.use == "feed" and ends.count(place) > 1}
    size, plastic = size_name(tube) if tube else None, tube is not None and tube.material in PLASTIC
    for one, other in gaps:
        name = f"{part.id}:{ports[one].id}-{ports[other].id}"
        if bore_m is None:
            drawing.add(name, rows[one][1], rows[other][0], Linear(_NOTHING), Piece("manifold", part.id, None, missing))
            continue
        shape = (
            "branch" if turning.intersection((one, other)) else "run"
        )  # a feed between two ports turns off both ways
        k = fitting_k(shape, part.joint, size, bore_m, plastic) if tube is not None else 0.0
        law = Darcy(_gap_m(drawing, part, own, ports[one]), bore_m, k * setting.factor,
                    viscosity_m2_s=_viscosity(setting, part))  # fmt: skip
        drawing.add(name, rows[one][1], rows[other][0], law, Piece("manifold", part.id, bore_m))


def _gap_m(drawing: Drawing, part: Part, own: ManifoldOwn, port: Port) -> float:
    step = port.next if isinstance(port.next, Length) else own.spacing
    if isinstance(step, Length):
        return step.m
    drawing.assume(f"ports of {part.id} 4 in apart")
    return USUAL_SPACING_M


def _viscosity(setting: Setting, part: Part) -> float:
    graph, traced = setting.facts.network, setting.facts.traced
    found = (graph.number.get(f"{part.id}/{name}:row", -1) for name in part.own.ports)  # type: ignore[union-attr]
    service = next((traced.services[vertex] for vertex in found if vertex in traced.services), "cold")
    return setting.viscosity.get(service, setting.viscosity["cold"])


def _port(drawing: Drawing, setting: Setting, part: Part, port: Port, bore_m: float | None) -> tuple[str, str]:
    """The two sides of the row at a port (one, but at a closed section); its branch and valve as an edge.

    A feed and an open section lose nothing more.
    """
    row, end = f"{part.id}/{port.id}:row", f"{part.id}/{port.id}"
    if port.use == "section":
        if port.normally != "closed":
            return row, row
        far = f"{row}:far"
        drawing.add(end, row, far, Linear(_NOTHING), Piece("valve", end), True)
        return row, far
    run = setting.runs_at.get(Ref(part.id, port.id))
    mine = setting.facts.plan.tubes.get(run.tube) if run is not None and run.tube is not None else None
    bore = setting.bore_m(mine) if mine is not None else bore_m
    if bore is None or port.use == "feed":
        drawing.joiner.join(row, end)
        return row, row
    joint = run.joint.from_ if run is not None and run.joint is not None else part.joint
    k = fitting_k(
        "branch", joint, size_name(mine) if mine else None, bore, mine is not None and mine.material in PLASTIC
    )
    if port.valve not in _NO_STOP:
        k += VALVE_K.get(port.valve or "", 0.1)
    shut = port.normally == "closed" and port.use != "test"
    law = Darcy(0.0, bore, k * setting.factor)
    drawing.add(end, row, end, law, Piece("valve", end, bore), shut)
    return row, row
