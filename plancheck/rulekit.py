"""What a rule file may use: the public interface of rule folders. RULEKIT tells its version.

A rule file is named for its id, opens with its words (Looks at, Why, To mend, Cannot see, Ask), and has RULE,
subjects(facts) and check(subject, facts, limits). It is pure: no file, clock, environment or print.
"""

from __future__ import annotations

from plancheck.answers import (
    GRACE_FLOW_M3S,
    GRACE_LENGTH_M,
    GRACE_PRESSURE_PA,
    GRACE_TEMPERATURE_C,
    at_least,
    at_most,
    broken,
    capital,
    estimates,
    fished_at,
    holds,
    is_new,
    is_plastic,
    known,
    known_length,
    known_quantity,
    known_text,
    later,
    length,
    on_site,
    tube_of,
)
from plancheck.bending import judge_hot, judge_kink, judge_radius, judge_room, judge_unheld
from plancheck.bends import BACK, Corner, bent_runs, by_fitting, corners_of, near_expansion_m
from plancheck.colours import FITS, HAZARDS, Colours, heating_tube, is_potable, print_line
from plancheck.courses import SLIGHT
from plancheck.demand.servicetable import Cell as TableCell
from plancheck.demand.servicetable import cell_of, enough_for, most_units
from plancheck.facts import Facts
from plancheck.flow.required import ROWS as OUTLET_ROWS
from plancheck.flow.required import drawn as outlet_draw
from plancheck.flow.required import rate_of as outlet_rate
from plancheck.flow.required import rows_of as outlet_rows
from plancheck.gaugeports import Gauge, entry_remark, gauges_of, mend_of, misplaced
from plancheck.geometry import Miss, Shape, Stretch, Turn, at_distance, point_of, shape_of_path
from plancheck.geometry.apart import Piece, Placed, box_of, boxes_apart, nearest, parted, pieces_of, too_near
from plancheck.geometry.seats import VENTS, Seat, seat_of
from plancheck.hanging import judge_first, judge_gaps, judge_guides
from plancheck.kinds import APPLIANCES, KINDS, METAL, PEX, PLASTIC, TUBS_AND_SHOWERS
from plancheck.leftwet import is_frost_proof, judge_port, may_be_frost_proof
from plancheck.limits import PRACTICE, InForce, Limit, Limits, NotShown, Source, Value, of_practice, printed, recalled
from plancheck.mainvalve import judge_main
from plancheck.measures import Length, Quantity, Size
from plancheck.measures.sizes import size_named
from plancheck.measures.units import FOOT_M, GALLON_M3, GPM_M3S, INCH_M, PSI_PA
from plancheck.model import (
    NONE,
    NOT_KNOWN,
    Along,
    Bend,
    Bends,
    Clear,
    Discharge,
    FixtureOwn,
    Flowing,
    GaugePortOwn,
    HeaterOwn,
    Hot,
    ManifoldOwn,
    MeterOwn,
    Mixer,
    MixingOwn,
    Pan,
    Part,
    Path,
    Place,
    Plan,
    Point,
    Port,
    Reach,
    Reading,
    Ref,
    RegulatorOwn,
    Relief,
    Run,
    Supply,
    Supports,
    Tube,
    ValveOwn,
)
from plancheck.network.graph import Graph
from plancheck.network.trace import Carried
from plancheck.outcomes import BROKEN, HOLDS, ON_SITE, Measured, Outcome, Rule, Subject
from plancheck.ownvalve import NO_CODE, held_by_stop, is_alone, judge_heater, judge_side, judge_tub
from plancheck.shutoffs import Chain
from plancheck.spacing import Hung, hung_runs, questions, untabled_runs
from plancheck.tubedata import tube_bore_m, tube_outside_m
from plancheck.valves import Described, Fault, full_way_doubt, full_way_fault, listed, shut_in
from plancheck.wayout import LEAST, LEAST_AS_SAID, MOST, MOST_AS_SAID, Reckoning, Way, ways_to

RULEKIT = 1

__all__ = [
    "APPLIANCES", "BACK", "BROKEN", "FITS", "FOOT_M", "GALLON_M3", "GPM_M3S", "GRACE_FLOW_M3S", "GRACE_LENGTH_M",
    "GRACE_PRESSURE_PA", "GRACE_TEMPERATURE_C", "HAZARDS", "HOLDS", "INCH_M", "KINDS", "LEAST", "LEAST_AS_SAID",
    "METAL", "MOST", "MOST_AS_SAID", "NONE", "NOT_KNOWN", "NO_CODE", "ON_SITE", "OUTLET_ROWS", "PEX", "PLASTIC",
    "PRACTICE", "PSI_PA", "RULEKIT", "SLIGHT", "TUBS_AND_SHOWERS", "VENTS", "Along", "Bend", "Bends", "Carried",
    "Chain", "Clear", "Colours", "Corner", "Described", "Discharge", "Facts", "Fault", "FixtureOwn", "Flowing",
    "Gauge", "GaugePortOwn", "Graph", "HeaterOwn", "Hot", "Hung", "InForce", "Length", "Limit", "Limits",
    "ManifoldOwn", "Measured", "MeterOwn", "Miss", "Mixer", "MixingOwn", "NotShown", "Outcome", "Pan", "Part", "Path",
    "Piece", "Place", "Placed", "Plan", "Point", "Port", "Quantity", "Reach", "Reading", "Reckoning", "Ref",
    "RegulatorOwn", "Relief", "Rule", "Run", "Seat", "Shape", "Size", "Source", "Stretch", "Subject", "Supply",
    "Supports", "TableCell", "Tube", "Turn", "Value", "ValveOwn", "Way", "at_distance", "at_least", "at_most",
    "bent_runs", "box_of", "boxes_apart", "broken", "by_fitting", "capital", "cell_of", "corners_of", "enough_for",
    "entry_remark", "estimates", "fished_at", "full_way_doubt", "full_way_fault", "gauges_of", "heating_tube", "held_by_stop",
    "holds", "hung_runs", "is_alone", "is_frost_proof", "is_new", "is_plastic", "is_potable", "judge_first",
    "judge_gaps", "judge_guides", "judge_heater", "judge_hot", "judge_kink", "judge_main", "judge_port",
    "judge_radius", "judge_room", "judge_side", "judge_tub", "judge_unheld", "known", "known_length", "known_quantity",
    "known_text", "later", "length", "listed", "may_be_frost_proof", "mend_of", "misplaced", "most_units",
    "near_expansion_m", "nearest", "of_practice", "on_site", "outlet_draw", "outlet_rate", "outlet_rows", "parted",
    "pieces_of", "point_of", "print_line", "printed", "questions", "recalled", "seat_of", "shape_of_path", "shut_in",
    "size_named", "too_near", "tube_bore_m", "tube_of", "tube_outside_m", "untabled_runs", "ways_to",
]  # fmt: skip
