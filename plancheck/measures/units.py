"""What each unit a plumber writes is worth in SI.

Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2, 1 US gal = 231 in3,
1 imperial gal = 4.54609 L, 1 Btu (International Table) = 1055.05585262 J (NIST Special Publication 811, 2008,
appendix B; from memory). Feet and metres of water are columns of water at 60 degF, 62.366 lb/ft3, so that
1 ft of water = 0.4331 psi: the 0.433 of the trade, and not the conventional column at 4 degC.
"""

from __future__ import annotations

INCH_M = 0.0254
FOOT_M = 0.3048
POUND_KG = 0.45359237
GRAVITY_M_S2 = 9.80665
PSI_PA = POUND_KG * GRAVITY_M_S2 / INCH_M**2
WATER_KG_M3 = 62.366 * POUND_KG / FOOT_M**3
WATER_PA_PER_M = WATER_KG_M3 * GRAVITY_M_S2
WATER_PA_PER_FT = WATER_PA_PER_M * FOOT_M
GALLON_M3 = 231 * INCH_M**3
GPM_M3S = GALLON_M3 / 60
IMPERIAL_GALLON_M3 = 4.54609e-3
LITRE_M3 = 1e-3
BTU_J = 1055.05585262
DEGREE_RAD = 3.141592653589793 / 180


def _table(*rows: tuple[float, str]) -> dict[str, float]:
    return {name: factor for factor, names in rows for name in names.split()}


# Lengths are counted in tenths of a millimetre, of which every unit has a whole number: sums of feet, inches and
# fractions stay exact, and 12 in is 1 ft to the last bit.
TENTHS_MM_PER_M = 10000
MM_TENTHS_MM = 10
INCH_TENTHS_MM = 254
FOOT_TENTHS_MM = 3048
LENGTHS = _table(
    (INCH_TENTHS_MM, 'in inch inches "'),
    (FOOT_TENTHS_MM, "ft foot feet '"),
    (MM_TENTHS_MM, "mm millimetre millimetres millimeter millimeters"),
    (100, "cm centimetre centimetres centimeter centimeters"),
    (TENTHS_MM_PER_M, "m metre metres meter meters"),
)
TIMES = _table(
    (1.0, "s sec secs second seconds"),
    (60.0, "min mins minute minutes"),
    (3600.0, "h hr hrs hour hours"),
    (86400.0, "d day days"),
    (604800.0, "week weeks"),
)
VOLUMES = _table(
    (GALLON_M3, "gal gals gallon gallons usgal usgallon usgallons gpf gal/flush"),
    (IMPERIAL_GALLON_M3, "impgal impgallon impgallons imperialgal imperialgallon imperialgallons"),
    (LITRE_M3, "l litre litres liter liters lpf l/flush"),
    (1e-6, "ml millilitre millilitres milliliter milliliters"),
    (GALLON_M3 / 128, "oz floz fluidounce fluidounces usfloz"),
    (GALLON_M3 / 4, "qt quart quarts"),
    (1.0, "m3 cubicmetre cubicmetres cubicmeter cubicmeters"),
    (FOOT_M**3, "ft3 cuft cubicfoot cubicfeet"),
)
ENERGIES = _table((BTU_J, "btu"), (1e3 * BTU_J, "kbtu"), (1e6, "mj"), (1e3, "kj"))
UNITS: dict[str, dict[str, float]] = {
    "pressure": _table(
        (PSI_PA, "psi psig lb lbs # lb/in2 lb/sqin"),
        (1.0, "pa"),
        (1e3, "kpa kpag"),
        (1e5, "bar barg"),
        (1e6, "MPa MPA Mpa MPag"),
        (WATER_PA_PER_FT, "fthd fthead ftofhead fth2o ftofh2o ftwater ftofwater feetofwater feetofhead feethead"),
        (WATER_PA_PER_M, "mh2o mofh2o mwater mofwater mhd mhead mofhead metresofwater metersofwater"),
    ),
    "flow": _table(
        (GALLON_M3 / 60, "gpm usgpm"),
        (GALLON_M3 / 3600, "gph usgph"),
        (IMPERIAL_GALLON_M3 / 60, "impgpm imperialgpm"),
        (IMPERIAL_GALLON_M3 / 3600, "impgph imperialgph"),
        (LITRE_M3 / 60, "lpm"),
        (LITRE_M3, "lps"),
    ),
    "volume": VOLUMES,
    "temperature": _table((1 / 1.8, "degf °f f fahrenheit degreesf"), (1.0, "degc °c c celsius degreesc")),
    "difference": _table(
        (1 / 1.8, "degf °f f fahrenheit degreesf"),
        (1.0, "degc °c c celsius degreesc k kelvin"),
    ),
    "speed": _table((FOOT_M, "fps"), (1.0, "mps")),
    "power": _table((1.0, "w watt watts"), (1e3, "kw"), (BTU_J / 3600, "btuh"), (1e3 * BTU_J / 3600, "kbtuh")),
    "duration": TIMES,
    "head": _table(
        (FOOT_M, "ft foot feet ' fthd fthead ftofhead fth2o ftofh2o ftofwater feetofwater feetofhead feethead"),
        (1.0, "m metre metres meter meters mh2o mofh2o mofwater mhd mhead mofhead metresofwater metersofwater"),
    ),
    "load": _table((1.0, "wsfu fu fixtureunit fixtureunits")),
    "slope": _table((1e-2, "% percent")),
    "angle": _table((DEGREE_RAD, "deg ° degree degrees")),
}
_RATIOS = {
    "flow": (VOLUMES, TIMES),
    "speed": ({name: tenths_mm / TENTHS_MM_PER_M for name, tenths_mm in LENGTHS.items()}, TIMES),
    "power": (ENERGIES, TIMES),
    "slope": (LENGTHS, LENGTHS),
}
# Spellings in which a capital turns milli into mega or back: nobody may guess these.
CONFUSED = frozenset(("Mm", "mM", "ML", "Ml", "mPa", "mpa", "mPag", "mW", "MW", "mJ/h", "mJ/hr"))


def length_tenths_mm(word: str) -> float:
    """Tenths of a millimetre in one of the length unit written as word (upper or lower case, with or without a full stop); 0 if none."""
    found = LENGTHS.get(word)
    if found is None:
        bare = word.rstrip(".")
        found = None if bare in CONFUSED else LENGTHS.get(bare.lower())
    return found or 0.0


def unit_factor(kind: str, words: str) -> float:
    """SI units of kind in one of the unit written as words, without spaces between them; 0 if there is none."""
    units = UNITS[kind]
    found = units.get(words)
    if found is None:
        bare = words.replace(".", "")
        if bare in CONFUSED:
            return 0.0
        found = units.get(bare) or units.get(bare.lower())
        if found is None and kind in _RATIOS:
            return _ratio(kind, bare.lower().replace("per", "/"))
    return found or 0.0


def _ratio(kind: str, words: str) -> float:
    upper, _, lower = words.partition("/")
    uppers, lowers = _RATIOS[kind]
    return uppers.get(upper, 0.0) / lowers[lower] if lower in lowers else 0.0
