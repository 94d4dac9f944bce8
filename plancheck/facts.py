"""Everything a rule may look at: the plan and what is derived from it, each computed on first use and then kept."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from typing import TYPE_CHECKING, Any

from plancheck.building.refs import side_supply
from plancheck.geometry import Geometry, find_geometry
from plancheck.measures import Length, Units, show_length, show_quantity, texts_in, unit_system
from plancheck.measures.units import INCH_M
from plancheck.model import Path, Plan, SaidQuantity
from plancheck.network.entry import between, run_before
from plancheck.network.graph import Graph, build_graph
from plancheck.network.trace import Carried, Traced, temperature, trace
from plancheck.network.zones import Zones, find_zones
from plancheck.reading import Source
from plancheck.shutoffs import Shutoffs

if TYPE_CHECKING:
    from plancheck.demand.loads import Loads
    from plancheck.flow.flow import Flow
    from plancheck.passes import Passed
    from plancheck.standing import Standing

_NOTHING = Carried(None)


class Facts:
    """The facts of one plan. today is a day as text (2026-04-02); family and edition are those of the code block."""

    def __init__(self, plan: Plan, source: Source, today: str) -> None:
        self.plan = plan
        self.source = source
        self.today = today
        family, edition = plan.code.family, plan.code.edition
        self.family = family if family in ("irc", "ipc", "upc") else None
        self.edition = edition if isinstance(edition, int) else None
        self._run_places: dict[str, tuple[str, ...]] = {}

    @cached_property
    def network(self) -> Graph:
        """The graph of connections."""
        return build_graph(self.plan)

    @cached_property
    def traced(self) -> Traced:
        """What each run carries, circuits, rings, crossovers."""
        return trace(self.plan, self.network)

    @cached_property
    def zones(self) -> Zones:
        """For each valve the outlet sides that go dry when it closes."""
        return find_zones(self.network)

    @cached_property
    def geometry(self) -> Geometry:
        """Shapes of paths, positions and heights of connections."""
        return find_geometry(self.plan)

    @cached_property
    def units(self) -> Units:
        """The units the plan is written in, for printing."""
        return unit_system(dict.fromkeys(texts_in(self.source.data)))

    @property
    def main_valve(self) -> str | None:
        """The part that shuts the whole house, or None where the plan has none."""
        return self.shutoffs.mains[0] if self.shutoffs.mains else None

    def between(self, before: str, vertex: int, names: Iterable[str]) -> tuple[str, ...]:
        """Of the named valves or parts those that all water to the vertex passes after the part `before`, in order."""
        return between(self.network, self.zones, before, vertex, names)

    def before(self, run: str) -> str | None:
        """The run that water passes next before this one; None where a heater or the source comes first."""
        number = self.run_edge(run)
        return run_before(self.network, self.traced.parents, number) if number is not None else None

    def run_edge(self, run: str) -> int | None:
        """The number of the edge of a run in the network; None where it is not joined at both ends."""
        return self._run_edges.get(run)

    @cached_property
    def _run_edges(self) -> dict[str, int]:
        return {edge.run: number for number, edge in enumerate(self.network.edges) if edge.run}

    @cached_property
    def shutoffs(self) -> Shutoffs:
        """What closing each valve does: mains, what hangs on a port, ways round."""
        return Shutoffs(self.plan, self.network, self.traced, self.zones)

    @cached_property
    def flow(self) -> Flow:
        """The house as a network of pipes, and the questions asked of it."""
        from plancheck.flow.flow import Flow

        return Flow(self)

    @cached_property
    def loads(self) -> Loads:
        """The peak demand of every run, by fixture units and by the binomial method."""
        from plancheck.demand.loads import loads_of

        return loads_of(self.plan, self.network, self.traced, self.family)

    @cached_property
    def standing(self) -> Standing:
        """The standing pressure of each zone between regulators."""
        from plancheck.standing import find_standing

        return find_standing(self)

    @cached_property
    def passes(self) -> tuple[Passed, ...]:
        """Every hole, notch and wall that runs go through."""
        from plancheck.passes import passes_of

        return tuple(passes_of(self))

    @property
    def stage(self) -> str:
        """The stage the plan is judged at; rough-in where it is not said."""
        said = self.plan.job.stage
        return said if said in ("layout", "rough-in", "finished") else "rough-in"

    def carried(self, run: str) -> Carried:
        """What a run carries; service None where nothing is traced."""
        return self.traced.runs.get(run, _NOTHING)

    def hot_set(self, run: str) -> SaidQuantity:
        """The temperature a run's hot water is set to, by the heater or mixing valve that sets it."""
        return temperature(self.plan, self.carried(run))

    def run_length_m(self, run: str) -> float | None:
        """The length of a run: of its tube, else of its path; None where neither is said."""
        found = self.plan.runs[run]
        if isinstance(found.length, Length):
            return found.length.m
        shape = self.geometry.shapes.get(run)
        return shape.length_m if shape is not None else None

    def length(self, m: float) -> str:
        """A length in the plan's own units."""
        return show_length(m, self.units)

    def long_length(self, m: float) -> str:
        """A length that nothing is compared with, in the plan's own units: whole inches from 10 ft on."""
        return show_length(
            round(m / INCH_M) * INCH_M if self.units.length == "ft-in" and m >= 120 * INCH_M else m, self.units
        )

    def quantity(self, si: float, kind: str) -> str:
        """A quantity in the plan's own units."""
        return show_quantity(si, kind, self.units)

    def degrees(self, celsius: float) -> str:
        """A computed temperature in the plan's units, in whole degrees: it is no surer than that."""
        if self.units.temperature == "degF":
            return f"{celsius * 1.8 + 32:.0f} degF"
        return f"{celsius:.0f} degC"

    def degrees_apart(self, kelvin: float) -> str:
        """A computed difference of temperatures in the plan's units, in whole degrees."""
        return f"{kelvin * 1.8:.0f} degF" if self.units.temperature == "degF" else f"{kelvin:.0f} degC"

    def burns_in(self, celsius: float) -> str:
        """How soon water of a temperature burns, the shortest time published, as one speaks of it."""
        from plancheck.hot.scald import exposure_s

        seconds = exposure_s(celsius)
        if seconds is None:
            return "no time that is published"
        return f"about {seconds:.0f} s" if seconds < 90 else f"about {seconds / 60:.0f} min"

    def place_name(self, place: str | None) -> str:
        """The name of a place in the plan, or an empty text."""
        found = self.plan.places.get(place) if place is not None else None
        return found.title if found is not None else ""

    def part_name(self, part: str) -> str:
        """What people call a part: its name, else its id without hyphens."""
        found = self.plan.parts.get(part)
        return (found.name if found is not None else None) or part.replace("-", " ")

    def run_places(self, run: str) -> tuple[str, ...]:
        """The places of the plan a run goes through; if unsaid, those of its two ends."""
        kept = self._run_places
        if run not in kept:
            kept[run] = self._find_run_places(run)
        return kept[run]

    def run_place(self, run: str) -> str | None:
        """The last place a run goes through; if unsaid, that of its end, else of its start."""
        found = self.plan.runs[run]
        if found.places is not None:
            return found.places[-1] if found.places else None
        for ref in (found.to, found.from_):
            place = self.plan.parts[ref.part].place if ref is not None else None
            if place is not None:
                return place
        return None

    def _find_run_places(self, run: str) -> tuple[str, ...]:
        found = self.plan.runs[run]
        if found.places is not None:
            return tuple(place for place in found.places if place in self.plan.places)
        ends = [self.plan.parts[ref.part].place for ref in (found.from_, found.to) if ref is not None]
        return tuple(dict.fromkeys([place for place in ends if place in self.plan.places and place is not None]))

    def stop_of(self, side: str) -> str | None:
        """What the plan says of the stop of an outlet side (`part/side`)."""
        part, _, connection = side.partition("/")
        supply = side_supply(self.plan.parts[part], connection)
        return supply.stop if supply is not None else None

    def path_of_key(self, path: Path) -> Path:
        """The path at which a key of a thing stands in the file (its own entry, the one it is like, or defaults)."""
        from plancheck.building.said_once import where

        layers = self.plan.layers.get((str(path[0]), str(path[1]))) if len(path) > 2 else None
        if not layers:
            return path
        if len(path) == 5 and path[2] == "ports" and self._port_default(path):
            return ("defaults", "ports", path[4])
        return (*where(layers, str(path[2]))[0], *path[3:])

    def _port_default(self, path: Path) -> bool:
        """Whether a key of a manifold's port stands in the defaults of ports alone."""
        data: Any = self.source.data
        for step in path[:-1]:
            data = data.get(step) if isinstance(data, dict) else None
        of_ports = (self.source.data.get("defaults") or {}).get("ports") or {}
        return isinstance(data, dict) and path[-1] not in data and path[-1] in of_ports

    def note_of_key(self, path: Path) -> str:
        """How the value of a key got to its thing: "from defaults", "as NAME", or an empty text."""
        from plancheck.building.said_once import where

        layers = self.plan.layers.get((str(path[0]), str(path[1]))) if len(path) > 2 else None
        return where(layers, str(path[2]))[1] if layers else ""
