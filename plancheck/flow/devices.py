"""Parts as edges: valves, meters, regulators, backflow preventers, heaters, tees, mixing valves at the heater."""

from math import pi

from plancheck.flow.house import M_PER_PA, Drawing, Missing, Piece
from plancheck.flow.levels import Levels
from plancheck.flow.losses import (
    ANY_BACKFLOW,
    BACKFLOW,
    CHECK_K,
    FALL_HIGH_PA,
    FALL_LOW_PA,
    FALL_M_S,
    FALL_OFF_PA,
    FILTER,
    HEATER_K,
    METERS,
    OPEN_REGULATOR_K,
    SOFTENER,
    TANKLESS,
    VALVE_K,
    Device,
    fitting_k,
)
from plancheck.flow.openings import MIXER
from plancheck.flow.pipes import Setting, add_manifold, size_name
from plancheck.flow.supply import held_at_gauge
from plancheck.hydraulics.plain import Darcy, G, OneWay, Quadratic, Regulator
from plancheck.kinds import KINDS, PLASTIC
from plancheck.measures import Quantity, Size
from plancheck.measures.units import INCH_M
from plancheck.model import DeviceOwn, HeaterOwn, ManifoldOwn, MixingOwn, Part, Ref, RegulatorOwn, ValveOwn

USUAL_BORE_M = 0.75 * INCH_M


def add_parts(drawing: Drawing, setting: Setting, levels: Levels, cold_c: float) -> None:
    """Every part but the fixtures; what lies dead (tanks, arrestors, test ports, caps) is only joined to its place."""
    plan = setting.facts.plan
    for part in plan.parts.values():
        if part.work == "removed":
            continue
        if part.onto is not None:
            drawing.joiner.join(str(part.onto), f"{part.id}/{_inward(part)}")
        sort = KINDS[part.is_].sort
        if isinstance(part.own, ManifoldOwn):
            add_manifold(drawing, setting, part, part.own)
        elif sort == "device":
            _add_device(drawing, setting, part, levels)
        elif sort == "fork":
            _add_tee(drawing, setting, part)
        elif isinstance(part.own, HeaterOwn):
            _add_heater(drawing, setting, part, part.own)
        elif isinstance(part.own, MixingOwn):
            _add_mixing(drawing, setting, part, part.own, cold_c)


def _inward(part: Part) -> str:
    from plancheck.network.joints import inward

    return inward(part)


def first_size(part: Part) -> Size | None:
    """The nominal size of a part, of a tee that of its `in`; None where it is not said."""
    said = part.size
    if isinstance(said, Size):
        return said
    first = said[0] if isinstance(said, tuple) and said else None
    return first if isinstance(first, Size) else None


def bore_at(setting: Setting, part: Part) -> float | None:
    """The bore of a run at the part, else the part's nominal size, else that of what it is made up to."""
    for name in KINDS[part.is_].connections:
        run = setting.runs_at.get(Ref(part.id, name))
        tube = setting.facts.plan.tubes.get(run.tube) if run is not None and run.tube is not None else None
        bore = setting.bore_m(tube) if tube is not None else None
        if bore is not None:
            return bore
    size = first_size(part)
    if size is not None:
        return size.rank * INCH_M
    return bore_at(setting, setting.facts.plan.parts[part.onto.part]) if part.onto is not None else None


def _bore(drawing: Drawing, setting: Setting, part: Part) -> float:
    found = bore_at(setting, part)
    if found is None:
        drawing.assume(f"{part.id} of 3/4 in")
    return found if found is not None else USUAL_BORE_M


def quadratic_of_k(k: float, bore_m: float) -> float:
    """s2/m5 of a K at a bore: 8 K / (pi2 g D4)."""
    return 8.0 * k / (pi * pi * G * bore_m**4)


def _add_device(drawing: Drawing, setting: Setting, part: Part, levels: Levels) -> None:
    a, b = f"{part.id}/in", f"{part.id}/out"
    kind, bore = part.is_, _bore(drawing, setting, part)
    if isinstance(part.own, ValveOwn):
        k = VALVE_K.get(part.own.style or "ball", 0.1) * setting.factor
        shut = part.own.normally == "closed" or part.own.style == "thermal bypass"
        drawing.add(part.id, a, b, Quadratic(quadratic_of_k(k, bore)), Piece("valve", part.id, bore), shut)
    elif isinstance(part.own, RegulatorOwn):
        _add_regulator(drawing, setting, part, part.own, bore, levels)
    elif kind == "check valve":
        r = quadratic_of_k(CHECK_K * setting.factor, bore)
        drawing.add(part.id, a, b, OneWay(r), Piece("device", part.id, bore))
    elif kind == "pump":
        drawing.assume(f"the pump {part.id} standing still")
        drawing.add(part.id, a, b, OneWay(quadratic_of_k(CHECK_K, bore)), Piece("device", part.id, bore), True)
    elif kind == "adapter":
        drawing.joiner.join(a, b)
    else:
        r = _curve(drawing, part).r_pa(setting.band) * M_PER_PA
        what = "meter" if kind == "meter" else "device"
        law = OneWay(r) if KINDS[kind].arrow else Quadratic(r)
        drawing.add(part.id, a, b, law, Piece(what, part.id, bore))


def _curve(drawing: Drawing, part: Part) -> Device:
    """The loss of a meter, backflow preventer, softener or filter."""
    if part.is_ == "meter":
        size = first_size(part)
        name = size.name if size is not None else ""
        if name not in METERS:
            drawing.assume(f"the meter {part.id} of 3/4 in")
        return METERS.get(name, METERS["3/4"])
    drawing.assume(f"{part.id}: the usual loss of a {part.is_}; its maker's sheet tells")
    if part.is_ == "backflow preventer":
        said = part.own.standard if isinstance(part.own, DeviceOwn) else None
        return next((curve for name, curve in BACKFLOW.items() if name in (said or "")), ANY_BACKFLOW)
    return SOFTENER if part.is_ == "softener" else FILTER


def _add_regulator(
    drawing: Drawing, setting: Setting, part: Part, own: RegulatorOwn, bore: float, levels: Levels
) -> None:
    a, b = f"{part.id}/in", f"{part.id}/out"
    level = levels.of(Ref(part.id, "out"))
    holds_m = level + own.set.si * M_PER_PA if isinstance(own.set, Quantity) and level is not None else None
    missing = None
    if not isinstance(own.set, Quantity):
        holds_m = held_at_gauge(setting.facts, part, levels)
        missing = Missing(("parts", part.id, "set"), "the pressure the regulator is set to")
        if holds_m is not None:
            drawing.assume(f"the regulator {part.id} set to what the gauge behind it reads")
    elif level is None:
        missing = Missing(("parts", part.id, "at"), "where the regulator stands, above all how high")
    r = quadratic_of_k(OPEN_REGULATOR_K * setting.factor, bore)
    if holds_m is None:
        drawing.add(part.id, a, b, OneWay(r), Piece("regulator", part.id, bore, missing))
        return
    fall = (FALL_LOW_PA, FALL_OFF_PA, FALL_HIGH_PA)[1 + int(setting.band)] * M_PER_PA / (FALL_M_S * pi / 4.0 * bore**2)
    drawing.assume(f"the regulator {part.id} falling off by about 10 psi at full flow; its maker's sheet tells")
    drawing.add(part.id, a, b, Regulator(holds_m, fall, r), Piece("regulator", part.id, bore))


def _add_tee(drawing: Drawing, setting: Setting, part: Part) -> None:
    """A tee: nothing on the way in, a run straight on, a branch to the side; by its trace where it has a direction."""
    middle = part.id
    inlet = _inlet(setting, part)
    for name in ("in", "out", "branch"):
        end = f"{part.id}/{name}"
        run = setting.runs_at.get(Ref(part.id, name))
        tube = setting.facts.plan.tubes.get(run.tube) if run is not None and run.tube is not None else None
        bore = setting.bore_m(tube) if tube is not None else None
        if name == inlet or tube is None or bore is None or run is None:
            drawing.joiner.join(middle, end)
            continue
        shape = "branch" if "branch" in (name, inlet) else "run"
        joint = None
        if run.joint is not None:
            joint = run.joint.from_ if run.from_ == Ref(part.id, name) else run.joint.to
        k = fitting_k(shape, joint, size_name(tube), bore, tube.material in PLASTIC) * setting.factor
        drawing.add(end, middle, end, Darcy(0.0, bore, k), Piece("run", run.id, bore))


def _inlet(setting: Setting, part: Part) -> str:
    graph, parents = setting.facts.network, setting.facts.traced.parents
    above = parents.get(graph.number[part.id], -1)
    if above < 0:
        return "in"
    edge = graph.edges[above]
    name = graph.names[edge.a if graph.names[edge.b] == part.id else edge.b]
    return name.partition("/")[2] or "in"


def _add_heater(drawing: Drawing, setting: Setting, part: Part, own: HeaterOwn) -> None:
    bore = _bore_by(setting, part, "cold")
    if own.style in ("tankless", "boiler coil", "point of use"):
        drawing.assume(f"{part.id}: the usual loss of a {own.style} heater; its maker's sheet tells")
        r = TANKLESS.r_pa(setting.band) * M_PER_PA
    else:
        r = quadratic_of_k(HEATER_K * setting.factor, bore)
    ends = (f"{part.id}/cold", f"{part.id}/hot")
    if part.id in setting.facts.network.swapped:
        drawing.assume(f"{part.id} with its two connections as they should be: in the plan they look swapped")
        ends = ends[::-1]
    drawing.add(part.id, *ends, OneWay(r), Piece("heater", part.id, bore))
    back = f"{part.id}/return"
    if Ref(part.id, "return") in setting.runs_at:
        drawing.add(back, back, ends[1], OneWay(r), Piece("heater", part.id, bore), True)


def _bore_by(setting: Setting, part: Part, name: str) -> float:
    run = setting.runs_at.get(Ref(part.id, name))
    tube = setting.facts.plan.tubes.get(run.tube) if run is not None and run.tube is not None else None
    return (setting.bore_m(tube) if tube is not None else None) or USUAL_BORE_M


def _add_mixing(drawing: Drawing, setting: Setting, part: Part, own: MixingOwn, cold_c: float) -> None:
    """A mixing valve part: two openings whose shares give its temperature, as long as both sides stand alike."""
    hot_c = _hot_c(setting, part)
    share = 0.8
    if isinstance(own.set, Quantity) and hot_c is not None and hot_c > cold_c:
        share = min(max((own.set.si - cold_c) / (hot_c - cold_c), 0.05), 0.95)
    else:
        drawing.assume(f"{part.id} passing four parts of hot to one of cold")
    times = _mixers(setting, part)
    drawing.assume(f"{part.id}: {4.5 * times:g} gpm at 45 psi wide open; its maker's sheet tells")
    r = MIXER.r_pa / times**2 * M_PER_PA
    for side, part_of in (("cold", 1.0 - share), ("hot", share)):
        name = f"{part.id}/{side}"
        law = OneWay(r / part_of**2)
        drawing.add(f"{part.id}:{side}", name, f"{part.id}/mixed", law, Piece("mixing", part.id))


def _mixers(setting: Setting, part: Part) -> float:
    """How many fixtures' valves a mixing valve in the line passes as much as: by its size where it feeds a whole house."""
    bore_m = _bore_by(setting, part, "mixed")
    return 5.0 if bore_m > 0.016 else 2.0  # 22.5 gpm at 45 psi for 3/4: usual sheets of valves at heaters, from memory


def _hot_c(setting: Setting, part: Part) -> float | None:
    graph, traced = setting.facts.network, setting.facts.traced
    by = traced.heated.get(graph.number.get(f"{part.id}/hot", -1))
    own = setting.facts.plan.parts[by].own if by is not None else None
    said = own.set if isinstance(own, HeaterOwn | MixingOwn) else None
    return said.si if isinstance(said, Quantity) else None
