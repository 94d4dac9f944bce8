"""The head that one edge loses at one flow."""

import math
from functools import lru_cache

from plancheck.hydraulics.compiled import law_text
from plancheck.hydraulics.laws import Tools
from plancheck.hydraulics.plain import Law


def _choose(condition: bool, yes: float, no: float) -> float:
    return yes if condition else no


FLOATS: Tools = (math.log, max, _choose)


def loss_m(law: Law, flow_m3s: float) -> float:
    """Head lost from a to b, m of water, at a flow; of a regulator, what it loses standing open."""
    return lines_of(law, flow_m3s)[0]


def lines_of(law: Law, flow_m3s: float) -> tuple[float, float]:
    """Head lost from a to b at a flow, m, and its slope, s/m2."""
    text, figures = _text_of(law)
    loss, slope = text(flow_m3s, *figures, FLOATS)
    return loss, slope


_text_of = lru_cache(maxsize=4096)(law_text)
