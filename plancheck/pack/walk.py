"""The order in which an inspector looks at water supply, and which rules belong to each step.

The order is that of published rough-in checklists taken together (Detroit, MyBuildingPermit 2016, a 2018 IRC handout: read).
"""

from __future__ import annotations

from plancheck.record import NamedTuple


class Step(NamedTuple):
    """One step of the walk: the rules that speak of it, and what only a person on site can see at every house."""

    title: str
    rules: tuple[str, ...]
    always: tuple[str, ...] = ()


STEPS = (
    Step(
        "Paper",
        ("site_ready", "permit_fixtures", "fixture_units", "claim_record", "walked_paths"),
        (
            "Address visible from the street; permit card posted",
            "Approved plan and these sheets on the job",
            "Contractor's licence at hand; notes of earlier visits cleared",
        ),
    ),
    Step(
        "Open and within reach",
        ("hidden_joint",),
        (
            "Nothing covered; light and ladders there; crawl space and attic within reach",
            "Somebody on site who can run the test",
        ),
    ),
    Step(
        "Test standing",
        ("pressure_test", "test_port", "gauge_reading"),
        ("Gauge of a fitting range, in sight; the pressure stands; no joint weeps",),
    ),
    Step(
        "What the pipe is",
        (
            "print_marks",
            "unlisted_material",
            "lead_free",
            "tube_rating",
            "recirculation_class",
            "metal_transition",
        ),
        ("Print line read on every coil; fittings carry their marks",),
    ),
    Step(
        "Joints",
        ("joint_system", "ring_check", "one_piece", "solder_near_tube"),
        ("Rings square, in their place, gauged; no fitting forced into a bend",),
    ),
    Step(
        "Support",
        ("support_spacing", "rigid_outlet", "bend_radius", "thermal_slack", "bundle_ties"),
        ("No clamp that cuts or pinches the tube",),
    ),
    Step(
        "Framing, concrete and ground",
        ("nail_plate", "framing_holes", "pass_sleeve", "fire_block", "buried_pipe"),
        ("No framing cut beyond what the plan shows; ask the building inspector",),
    ),
    Step(
        "Heat, light and frost",
        ("heater_clearance", "heat_standoff", "sun_time", "freezing", "pipe_insulation"),
        (),
    ),
    Step(
        "Sizes and pressures",
        (
            "static_pressure",
            "service_size",
            "fixture_supply_size",
            "manifold_capacity",
            "outlet_capacity",
            "water_speed",
            "outlet_maximum",
            "ring_benefit",
            "ring_closed",
            "shower_swing",
            "hot_wait",
            "dead_ends",
        ),
        (),
    ),
    Step(
        "Valves and devices",
        (
            "branch_shutoff",
            "drain_down",
            "regulator_station",
            "expansion_control",
            "expansion_pressure",
            "hammer_arrestor",
            "hose_breaker",
            "backflow_device",
            "mixing_valve_role",
            "shower_protection",
            "circulation_loop",
        ),
        (),
    ),
    Step(
        "Heater",
        (
            "relief_valve",
            "relief_discharge",
            "heater_pan",
            "heater_service",
            "heater_setting",
            "heater_capacity",
        ),
        ("Relief valve not plugged, its pipe open and falling to its end",),
    ),
    Step(
        "Hot and cold where they belong",
        ("hot_on_left", "fixture_sides", "hot_cold_crossover", "service_colour", "port_labels", "spare_ports"),
        ("Hot runs hot and cold runs cold at every outlet",),
    ),
    Step("Ground", ("bonding_path",), ("Metal water pipe: was it the electrode, or bonded? An electrician has looked",)),
)
OTHER = "Other rules"


def step_of(rule: str) -> str:
    """The title of the step a rule belongs to; rules of other folders come last."""
    return next((step.title for step in STEPS if rule in step.rules), OTHER)
