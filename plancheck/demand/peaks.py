"""From what a pipe serves to its peak flow, by either method, with how it was found or why it is not shown."""

from plancheck.demand.binomial import peak_m3s
from plancheck.demand.curve import GPM_M3S, NoFlow, flow_of
from plancheck.demand.fixtures import Missing
from plancheck.demand.studydata import (
    HOSE_GPM,
    HOSE_SOURCE,
    IPC_CONTINUOUS_SOURCE,
    ONE_HOSE_SOURCE,
    RULES_SOURCE,
    TABLE_SOURCE,
)
from plancheck.demand.tally import Sum
from plancheck.demand.units import Units
from plancheck.limits import Source
from plancheck.record import NamedTuple

HOSE_M3S = HOSE_GPM * GPM_M3S
METHOD = "binomial, 99 in 100"
_HOSE = "one hose outlet on top"
_DRAW = "stated draw on top"


class Peak(NamedTuple):
    """A peak flow (m3/s), or None and what is missing. added_m3s: what of it is on top of the method; how: in words."""

    flow_m3s: float | None
    how: str
    added_m3s: float = 0.0
    sources: tuple[Source, ...] = ()
    missing: tuple[Missing, ...] = ()


class RunLoad(NamedTuple):
    """The load of one run.

    units and single: its fixture units with groups and one by one (None without a code family; what is missing is not
    in them); by_units (with groups) and by_binomial: its peak flow by either method.
    """

    units: Units | None
    single: Units | None
    by_units: Peak
    served: Sum | Missing

    @property
    def by_binomial(self) -> Peak:
        """The peak flow by the binomial method, worked out when asked."""
        found = self.served
        return Peak(None, "", missing=(found,)) if isinstance(found, Missing) else _by_binomial(found)


def units_of_sum(family: str, found: Sum) -> tuple[Units, Units]:
    """The fixture units with groups, and one by one."""
    cold, hot, total = (one + less for one, less in zip(found.single, found.less, strict=True))
    grouped = Units(family, cold / 1000, hot / 1000, total / 1000, found.flush_valves)
    cold, hot, total = found.single
    return grouped, Units(family, cold / 1000, hot / 1000, total / 1000, found.flush_valves)


def load_of(family: str | None, found: Sum | Missing) -> RunLoad:
    """The load of what a pipe serves; of a pipe of which that is missing, nothing but the reason."""
    if isinstance(found, Missing):
        gap = Peak(None, "", missing=(found,))
        return RunLoad(None, None, gap, found)
    if family is None:
        code = Missing("the code the job is built under (irc, ipc or upc)", ("code", "family"))
        return RunLoad(None, None, Peak(None, "", missing=(code,)), found)
    units, single = units_of_sum(family, found)
    return RunLoad(units, single, _by_units(units, found), found)


def _by_units(units: Units, found: Sum) -> Peak:
    if found.units_missing:
        return Peak(None, "", missing=found.units_missing)
    flow = flow_of(units)
    if isinstance(flow, NoFlow):
        return Peak(None, "", missing=(Missing(flow.why, ("code", "family")),))
    sources = (flow.source, HOSE_SOURCE, IPC_CONTINUOUS_SOURCE) if found.units_hose else (flow.source,)
    return _with(flow.m3s, flow.how, found.units_draw_m3s, found.units_hose, sources)


def _by_binomial(found: Sum) -> Peak:
    if found.study_missing:
        return Peak(None, "", missing=found.study_missing)
    sources = (
        (TABLE_SOURCE, RULES_SOURCE, HOSE_SOURCE, ONE_HOSE_SOURCE) if found.study_hose else (TABLE_SOURCE, RULES_SOURCE)
    )
    return _with(peak_m3s(found.counts), METHOD, found.study_draw_m3s, found.study_hose, sources)


def _with(m3s: float, how: str, draw_m3s: float, hose: bool, sources: tuple[Source, ...]) -> Peak:
    """The flow of a method and what comes on top of it."""
    added_m3s = draw_m3s + (HOSE_M3S if hose else 0.0)
    words = [how, *([_HOSE] if hose else []), *([_DRAW] if draw_m3s else [])]
    return Peak(m3s + added_m3s, ", ".join(words), added_m3s, sources)
