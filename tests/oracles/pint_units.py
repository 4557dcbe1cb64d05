"""Writes tests/fixtures/units/pint.json: pint's opinion of every unit it can express.

Run from the project's root:  python3 tests/oracles/pint_units.py
Keys are "kind/symbol" as in src/units/table.txt; values are [factor, offset] to SI, or for a reciprocal unit
[factor, 0] with SI = factor / value.
"""

import json
import pathlib

import pint

U = pint.UnitRegistry()
U.define("hex_flat = 1 * count / 6")

# kind -> SI unit of the kind, and our symbol -> pint expression. Reciprocal units are listed by the
# expression of their inverse in RECIPROCAL.
G = "standard_gravity"
PINT = {
    "length-per-time": ("m/s", {"mm/h": "mm/hour", "thou/h": "thou/hour", "in/h": "inch/hour"}),
    "ratio-per-time": ("1/s", {"%/h": "percent/hour"}),
    "pressure-per-time": ("Pa/s", {"bar/h": "bar/hour", "psi/h": "psi/hour", "kPa/h": "kPa/hour"}),
    "weight-per-turn": ("N", {"N/turn": "N", "kg/turn": f"kg * {G}", "lb/turn": f"pound * {G}"}),
    "angle-per-acceleration": ("rad/(m/s**2)", {"deg/g": f"degree / {G}"}),
    "length-per-mass": ("m/kg", {"mm/kg": "mm/kg", "in/lb": "inch/pound"}),
    "volume-per-lap": ("m**3", {"L/lap": "liter", "US-gal/lap": "gallon", "UK-gal/lap": "imperial_gallon"}),
    "turns-per-length": ("1/m", {"turn/km": "1/km", "turn/mile": "1/mile"}),
    "length": ("m", {
        "mm": "mm", "cm": "cm", "m": "m", "km": "km", "in": "inch", "thou": "thou", "32nds": "inch/32",
        "16ths": "inch/16", "64ths": "inch/64", "ft": "foot", "yd": "yard", "mile": "mile", "um": "micrometer"}),
    # A pitch is a length for each turn; a thread count is the turns in an inch.
    "pitch": ("m", {"mm/turn": "mm", "in/turn": "inch"}),
    "area": ("m**2", {"mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "inch**2", "ft2": "foot**2"}),
    "volume": ("m**3", {
        "L": "liter", "mL": "milliliter", "cL": "centiliter", "cc": "cm**3", "m3": "m**3", "in3": "inch**3",
        "US-gal": "gallon", "UK-gal": "imperial_gallon", "US-qt": "quart", "UK-qt": "imperial_quart",
        "US-pint": "pint", "UK-pint": "imperial_pint", "US-floz": "fluid_ounce",
        "UK-floz": "imperial_fluid_ounce"}),
    "mass": ("kg", {"kg": "kg", "g": "gram", "t": "metric_ton", "lb": "pound", "oz": "ounce"}),
    "force": ("N", {"N": "newton", "daN": "decanewton", "kN": "kilonewton", "lbf": "force_pound",
                    "kgf": "kilogram_force"}),
    "weight": ("N", {"kg": f"kg*{G}", "g": f"gram*{G}", "t": f"metric_ton*{G}", "lb": f"pound*{G}",
                     "oz": f"ounce*{G}"}),
    "pressure": ("Pa", {
        "Pa": "Pa", "hPa": "hPa", "kPa": "kPa", "MPa": "MPa", "GPa": "GPa",
        "Mpsi": "megapsi", "bar": "bar", "mbar": "millibar",
        "psi": "psi", "atm": "atm", "kgf/cm2": "kilogram_force/cm**2", "inHg": "inch_Hg", "mmHg": "mmHg",
        "inH2O": f"inch*(1000*kg/m**3)*{G}", "mmH2O": f"mm*(1000*kg/m**3)*{G}"}),
    "temperature-difference": ("K", {"C": "delta_degC", "F": "delta_degF", "K": "kelvin", "R": "degR"}),
    "torque": ("N*m", {
        "N.m": "newton*meter", "kgf.m": "kilogram_force*meter", "kgf.cm": "kilogram_force*cm",
        "lbf.ft": "force_pound*foot", "lbf.in": "force_pound*inch", "ozf.in": f"ounce*{G}*inch"}),
    "stiffness": ("N/m", {
        "N/m": "N/m", "N/mm": "N/mm", "kN/m": "kN/m", "daN/mm": "daN/mm", "kgf/mm": "kilogram_force/mm",
        "kgf/cm": "kilogram_force/cm", "lbf/in": "force_pound/inch", "lbf/ft": "force_pound/foot"}),
    "roll-stiffness": ("N*m/rad", {
        "N.m/rad": "N*m/rad", "N.m/deg": "N*m/degree", "kN.m/deg": "kN*m/degree",
        "kgf.m/deg": "kilogram_force*m/degree", "lbf.ft/rad": "force_pound*foot/rad",
        "lbf.ft/deg": "force_pound*foot/degree", "lbf.in/deg": "force_pound*inch/degree"}),
    "ratio": ("dimensionless", {"1": "dimensionless", "%": "percent", "ppm": "ppm"}),
    "turn": ("count", {"turn": "count", "flat": "hex_flat"}),
    "time": ("s", {"s": "s", "ms": "ms", "min": "minute", "h": "hour", "d": "day"}),
    "speed": ("m/s", {"m/s": "m/s", "km/h": "km/hour", "mph": "mph", "ft/s": "foot/s", "in/s": "inch/s",
                      "mm/s": "mm/s", "knot": "knot"}),
    "acceleration": ("m/s**2", {"m/s2": "m/s**2", "g": G, "ft/s2": "foot/s**2"}),
    "rotation": ("rad/s", {"rpm": "rpm", "rad/s": "rad/s", "deg/s": "degree/s"}),
    "frequency": ("1/s", {"Hz": "hertz", "kHz": "kilohertz", "cpm": "1/minute"}),
    "power": ("W", {"W": "watt", "kW": "kilowatt", "hp": "horsepower", "PS": "metric_horsepower"}),
    "energy": ("J", {"J": "joule", "kJ": "kilojoule", "MJ": "megajoule", "Wh": "watt*hour", "kWh": "kilowatt*hour"}),
    "volume-flow": ("m**3/s", {
        "m3/s": "m**3/s", "m3/h": "m**3/hour", "m3/min": "m**3/minute", "L/s": "liter/s", "L/min": "liter/minute",
        "L/h": "liter/hour", "cc/min": "cm**3/minute", "cfm": "foot**3/minute", "US-gal/h": "gallon/hour",
        "UK-gal/h": "imperial_gallon/hour"}),
    "mass-flow": ("kg/s", {
        "kg/s": "kg/s", "g/s": "g/s", "g/min": "g/minute", "kg/min": "kg/minute", "kg/h": "kg/hour",
        "lb/h": "pound/hour", "lb/min": "pound/minute"}),
    "specific-power": ("W/kg", {
        "W/kg": "W/kg", "kW/t": "kW/metric_ton", "kW/kg": "kW/kg", "hp/t": "horsepower/metric_ton",
        "PS/t": "metric_horsepower/metric_ton", "hp/lb": "horsepower/pound", "hp/UK-ton": "horsepower/long_ton"}),
    "specific-consumption": ("kg/J", {
        "kg/J": "kg/J", "g/kWh": "gram/(kilowatt*hour)", "kg/kWh": "kg/(kilowatt*hour)",
        "lb/hp.h": "pound/(horsepower*hour)"}),
    "consumption": ("m**2", {"L/100km": "liter/(100*km)", "L/km": "liter/km"}),
    "density": ("kg/m**3", {
        "kg/m3": "kg/m**3", "kg/L": "kg/liter", "g/cm3": "g/cm**3", "g/L": "g/liter", "lb/ft3": "pound/foot**3",
        "lb/US-gal": "pound/gallon", "lb/UK-gal": "pound/imperial_gallon"}),
    "voltage": ("V", {"V": "volt", "mV": "millivolt"}),
    "current": ("A", {"A": "ampere", "mA": "milliampere"}),
    "charge": ("A*s", {"Ah": "ampere*hour", "mAh": "milliampere*hour"}),
    "resistance": ("ohm", {"ohm": "ohm", "mohm": "milliohm", "kohm": "kiloohm"}),
    "angle": ("rad", {"deg": "degree", "arcmin": "arcminute", "arcsec": "arcsecond", "rad": "rad",
                      "mrad": "milliradian"}),
    "length-per-length": ("dimensionless", {
        "mm/mm": "mm/mm", "in/in": "inch/inch", "mm/25mm": "mm/(25*mm)", "mm/in": "mm/inch", "mm/m": "mm/m", "thou/in": "thou/inch",
        "in/ft": "inch/foot"}),
    "angle-per-length": ("rad/m", {
        "rad/m": "rad/m", "deg/mm": "degree/mm", "deg/m": "degree/m", "deg/in": "degree/inch",
        "deg/25mm": "degree/(25*mm)", "arcmin/mm": "arcminute/mm", "arcmin/in": "arcminute/inch"}),
}
READINGS = {"C": "degC", "F": "degF", "K": "kelvin", "R": "degR"}
RECIPROCAL = {"km/L": "liter/km", "US-mpg": "gallon/mile", "UK-mpg": "imperial_gallon/mile"}



def to_si(expression, si):
    """One of the expression, in the SI unit of its kind."""
    return float(U.Quantity(U.parse_expression(expression)).to(si).magnitude)


factors = {}
for kind, (si, units) in PINT.items():
    for symbol, expression in units.items():
        factors[f"{kind}/{symbol}"] = [to_si(expression, si), 0.0]
for symbol, expression in READINGS.items():
    zero = U.Quantity(0.0, expression).to("kelvin").magnitude
    hundred = U.Quantity(100.0, expression).to("kelvin").magnitude
    factors[f"temperature/{symbol}"] = [(hundred - zero) / 100, zero]
for symbol, expression in RECIPROCAL.items():
    factors[f"consumption/{symbol}"] = [to_si(expression, "m**2"), 0.0]
factors["pitch/tpi"] = [to_si("inch", "m"), 0.0]

out = pathlib.Path("tests/fixtures/units/pint.json")
out.write_text(json.dumps({"pint": pint.__version__, "factors": factors}, indent=1, ensure_ascii=False) + "\n")
print(len(factors), "factors from pint", pint.__version__)
