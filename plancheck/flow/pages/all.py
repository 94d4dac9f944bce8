"""Every answer on one plan, in the order one asks."""

from plancheck.facts import Facts
from plancheck.flow.build import build_house
from plancheck.flow.flow import Flow
from plancheck.flow.pages.gauges import gauge_table
from plancheck.flow.pages.hot import first_hour_table, heater_tables, wait_table
from plancheck.flow.pages.loops import loops_table
from plancheck.flow.pages.outlets import outlets_table
from plancheck.flow.pages.rings import rings_tables
from plancheck.flow.pages.runs import runs_table
from plancheck.flow.pages.safety import expansion_table, surge_table
from plancheck.flow.pages.showers import showers_tables
from plancheck.flow.pages.table import Gaps, Page, Table
from plancheck.report.assemble import code_words
from plancheck.report.cautions import cautions_for

NOT_MODELLED = (
    "Transients beyond the surge of a valve that snaps shut: the first second after something opens is not in it.",
    "The heater's own swings: its water is taken to leave at the temperature it is set to.",
    "Siphoning and air: an outlet is taken to pass water out only.",
    "Stops, connectors and faucet bodies behind the stub-out: they are in what an outlet takes at a pressure.",
    "Lime in old pipe, valves half shut, what the street gives at other hours.",
    "Water that rises because it is warm; a circulating pump, which is taken to stand still but for its own loop.",
)


def flow_page(facts: Facts) -> Page:
    """The answers on a plan's flow."""
    middle = facts.flow
    low, high = Flow(facts, build_house(facts, -1.0)), Flow(facts, build_house(facts, 1.0))
    gaps = Gaps()
    if middle.house.supply is not None:
        gaps.add(*middle.house.supply)
    tables: list[Table] = []
    if middle.house.fixtures:
        tables += [outlets_table(middle, low, high, gaps), runs_table(middle, gaps)]
        tables += showers_tables(middle, gaps)
        tables += rings_tables(middle, gaps)
        tables.append(wait_table(middle, gaps))
    tables += heater_tables(middle, gaps)
    tables += [first_hour_table(middle, gaps), loops_table(middle, gaps)]
    tables += [expansion_table(middle, gaps), surge_table(middle), gauge_table(middle, gaps)]
    return Page(
        facts.source.file,
        facts.source.raw,
        facts.plan.job.title or facts.source.file,
        code_words(facts),
        tuple(table for table in tables if table.rows or table.says),
        middle.house.assumed,
        tuple(gaps.found),
        NOT_MODELLED,
        cautions_for(facts),
    )
