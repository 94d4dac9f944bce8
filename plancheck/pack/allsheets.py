"""All sheets of a pack, in the order they are handed over."""

from __future__ import annotations

from plancheck.flow.pages.all import flow_page
from plancheck.pack.blocks import Items, Material, PunchList, Sheet
from plancheck.pack.commissioning import commissioning
from plancheck.pack.cover import cover
from plancheck.pack.inspection import inspection
from plancheck.pack.labels import labels
from plancheck.pack.owner import owner
from plancheck.pack.permit import permit
from plancheck.pack.testing import testing

MORE_CAUTIONS = (
    "A clean report is no reason to skip an inspection. Approval of a plan gives no right to break the code.",
    "Cutting framing, fire-rated walls, old lead paint or asbestos falls under other trades and other rules.",
    "Computed pressures, flows and temperatures are estimates from what the plan says; measure before you rely on them.",
    "Keep this pack with its date and the hash of the plan it was made from; made anew, it may say something else.",
)


def sheets_of(material: Material) -> tuple[Sheet, ...]:
    """The sheets of a pack, the cover first."""
    page = flow_page(material.facts)
    rest = (
        Sheet("punch-list", "Punch list", "what the check found, with numbers and sources", (PunchList(),)),
        inspection(material),
        permit(material, page),
        testing(material),
        commissioning(material, page),
        labels(material),
        owner(material),
        Sheet("cautions", "Cautions", "what these sheets cannot do", (Items((*material.report.cautions, *MORE_CAUTIONS)),)),
    )
    return (cover(material, rest), *rest)
