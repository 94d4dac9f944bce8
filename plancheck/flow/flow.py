"""The hydraulics of one plan as rules and commands ask for them: each answer is worked out when first wanted."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from plancheck.facts import Facts
from plancheck.flow.asked import Asked
from plancheck.flow.house import Fixture, House
from plancheck.hydraulics.plain import Law, Regulator
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Part, Ref, Run, Tube

if TYPE_CHECKING:
    from plancheck.demand.loads import Loads
    from plancheck.flow.capacity import Left
    from plancheck.flow.gauge import Predicted
    from plancheck.flow.manifolds import Taken
    from plancheck.flow.peaknetwork import PeakNetwork
    from plancheck.flow.service import Farthest, Larger
    from plancheck.flow.short import Shorts
    from plancheck.flow.shower import Swing
    from plancheck.flow.speeds import Behind, Speed

BOTTLENECK = 0.5  # of the loss on the way: then the service is the bottleneck (common practice)


class Flow(Asked):
    """The house of one plan, what was asked of it, and the answers that rules compare."""

    def __init__(self, facts: Facts, house: House | None = None) -> None:
        super().__init__(facts, house)
        self._peak: PeakNetwork | None = None
        self._regulators: dict[float, dict[str, Law]] = {}
        self._left: dict[tuple[str, float, float], Left] = {}
        self._behind: dict[str, Behind] | None = None
        self._common: list[Run] | None = None
        self._swings: dict[str, dict[str, Swing]] = {}
        self._shorts: Shorts | None = None

    def alone(self, fixture: Fixture, rate_m3s: float) -> "Left":
        """The pressure left at a fixture that draws a rate with all else shut."""
        from plancheck.flow.capacity import alone

        key = (fixture.part, rate_m3s, -1.0)
        if key not in self._left:
            self._left[key] = alone(self, fixture, rate_m3s)
        return self._left[key]

    def at_peak(self, fixture: Fixture, rate_m3s: float, loads: "Loads", regulator_share: float = 1.0) -> "Left":
        """The same with every run of its way at its section flow; regulators hold a share of what they are set to."""
        from plancheck.flow.capacity import at_peak, regulators_at

        key = (fixture.part, rate_m3s, regulator_share)
        if key not in self._left:
            if regulator_share < 1.0 and regulator_share not in self._regulators:
                self._regulators[regulator_share] = regulators_at(self, regulator_share)
            laws = self._regulators.get(regulator_share)
            self._left[key] = at_peak(self, fixture, rate_m3s, loads, laws)
        return self._left[key]

    def network_peak(self, loads: "Loads") -> "PeakNetwork":
        """The house at peak as one network."""
        if self._peak is None:
            from plancheck.flow.peaknetwork import network_peak

            self._peak = network_peak(self, loads)
        return self._peak

    def behind(self) -> dict[str, "Behind"]:
        """For each run or part what outlets lie behind it."""
        if self._behind is None:
            from plancheck.flow.speeds import outlets_behind

            self._behind = outlets_behind(self)
        return self._behind

    def speed(self, loads: "Loads", run: str) -> "Speed":
        """The fastest that water runs in a run."""
        from plancheck.flow.speeds import speed_in

        return speed_in(self, loads, run)

    def swings(self, part: str) -> "dict[str, Swing]":
        """How far a shower swings, by side, when what pulls most on its way opens; empty where it cannot mix."""
        if part not in self._swings:
            from plancheck.flow.shower import worst_swings

            fixture = self.house.fixtures.get(part)
            self._swings[part] = worst_swings(self, fixture) if fixture is not None and fixture.mixed else {}
        return self._swings[part]

    def connection(self, said: str) -> Ref | None:
        """The connection a reading names: part, or part/connection; None where the plan has no such part."""
        from plancheck.flow.gauge import connection_of

        return connection_of(self.facts.plan, said)

    def predicted(self, at: Ref, opened: Iterable[str]) -> "Predicted":
        """What a gauge at a connection should read with fixtures (parts) open."""
        from plancheck.flow.gauge import predicted

        return predicted(self, at, tuple(opened))

    def common_runs(self) -> list[Run]:
        """The runs that the water of every outlet passes, in order from the source."""
        if self._common is None:
            from plancheck.flow.service import common_runs

            self._common = common_runs(self)
        return self._common

    def farthest(self) -> "Farthest | None":
        """The longest way to an outlet, from the meter on."""
        from plancheck.flow.service import farthest

        return farthest(self)

    def service_share(self, left: "Left") -> float:
        """The part of what the flow costs on the way to an outlet that the service and meter take."""
        from plancheck.flow.service import service_share

        return service_share(self, left)

    def service_loss_pa(self, left: "Left") -> float:
        """What the service and meter cost on the way to an outlet, Pa."""
        from plancheck.flow.service import service_loss_pa

        return service_loss_pa(self, left)

    def larger_service(self, left: "Left") -> "Larger | None":
        """An outlet solved again with the service in its next size."""
        from plancheck.flow.service import larger_service

        return larger_service(self, left)

    def shorts(self, loads: "Loads") -> "Shorts":
        """The outlets that are short at peak."""
        if self._shorts is None:
            from plancheck.flow.short import shorts

            self._shorts = shorts(self, loads)
        return self._shorts

    def service_path(self) -> tuple[str, ...]:
        """Where the service stands in the plan."""
        from plancheck.flow.service import service_path

        return service_path(self)

    def held_pa(self, regulator: str) -> float | None:
        """The pressure a regulator holds with no water running: as it is set, or as the gauge behind it reads."""
        law = self.edges[regulator].law if regulator in self.edges else None
        level = self.house.levels.of(Ref(regulator, "out"))
        if not isinstance(law, Regulator):
            return None
        return (law.set_m - (level if level is not None else self.house.levels.gauge_m)) * WATER_PA_PER_M

    def swings_over(self, part: str, most_k: float) -> bool:
        """Whether a shower swings by more than this, and has no listed valve that holds it."""
        from plancheck.flow.compensated import swings_over

        return swings_over(self, part, most_k)

    def taken_by(self, loads: "Loads", part: Part) -> "Taken":
        """What the way to the worst outlet on a manifold loses at peak."""
        from plancheck.flow.manifolds import taken_by

        return taken_by(self, loads, part)

    def used_ports(self, part: Part) -> list[str]:
        """The ports of a manifold on which some outlet hangs, in order."""
        from plancheck.flow.manifolds import used_ports

        return used_ports(self, part)

    def sides_on(self, part: Part) -> list[str]:
        """The outlet sides that hang on a manifold's circuits."""
        from plancheck.flow.manifolds import sides_on

        return sides_on(self, part)

    def bottleneck(self, left: "Left") -> tuple[str, ...] | None:
        """The path of the service where it takes half or more of what the flow costs on the way to an outlet."""
        from plancheck.flow.capacity import way_of
        from plancheck.flow.split import SERVICE, shares, split_loss

        return self.service_path() if shares(split_loss(self, way_of(self, left)))[SERVICE] >= BOTTLENECK else None

    def larger(self, tube: Tube, flow_m3s: float) -> tuple[str, float] | None:
        """The next size of a tube, and the speed, m/s, of a flow in it; None where no table tells its bore."""
        from math import pi

        from plancheck.flow.mending import next_size

        found = next_size(tube)
        return (found[0], flow_m3s / (pi / 4.0 * found[1] ** 2)) if found is not None else None

    def better(self, left: "Left", least_pa: float) -> str:
        """What would help most, in words with numbers: the run that loses most in the next size that leaves the least."""
        from plancheck.flow.mending import better

        return better(self, left, least_pa)
