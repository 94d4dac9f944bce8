"""The head that one edge loses at one flow."""

import math

from plancheck.hydraulics.compiled import law_text
from plancheck.hydraulics.laws import Tools
from plancheck.hydraulics.plain import Law


def _choose(condition: bool, yes: float, no: float) -> float:
    return yes if condition else no


FLOATS: Tools = (math.log, max, _choose)


def loss_m(law: Law, flow_m3s: float) -> float:
    """Head lost from a to b, m of water, at a flow; of a regulator, what it loses standing open."""
    text, figures = law_text(law)
    loss, _ = text(flow_m3s, *figures, FLOATS)
    return float(loss)
