"""Units of readings, lengths and temperatures by Pint, and the loop current."""

import numpy
import pint

units = pint.UnitRegistry()

PRESSURES = {
    "Pa": "pascal", "hPa": "hectopascal", "mbar": "millibar", "kPa": "kilopascal", "bar": "bar", "MPa": "megapascal",
    "psi": "pound_force_per_square_inch", "kgf/cm2": "kilogram_force / centimeter ** 2",
}
LENGTHS = {"ft": "foot", "m": "meter", "in": "inch", "mm": "millimeter", "cm": "centimeter"}
# Density of the water that a column is defined by, kg/m3.
BASES = {"": 1000.0, "@4C": 1000.0, "@60F": 999.016, "@68F": 998.207, "@20C": 998.207, "@?": 1000.0}


def reading_units(rng):
    """Every unit a display may be scaled in, to pascals."""
    cases = []
    for word, name in PRESSURES.items():
        for value in rng.uniform(-100, 1000, 12):
            pascals = units.Quantity(value, name).to("pascal").magnitude
            cases.append(_reading(word, value, pascals))
    for length, name in LENGTHS.items():
        for basis, density in BASES.items():
            for value in rng.uniform(-100, 1000, 6):
                column = units.Quantity(value, name) * units.Quantity(density, "kg/m^3") * units.standard_gravity
                cases.append(_reading(f"{length}H2O{basis}", value, column.to("pascal").magnitude))
        for value in rng.uniform(-100, 1000, 12):
            density, g = rng.uniform(700, 1400), rng.uniform(9.76, 9.84)
            column = units.Quantity(value, name) * units.Quantity(density * g, "pascal / meter")
            case = _reading(length, value, column.to("pascal").magnitude)
            cases.append(case | {"density": density, "gravity": g})
    return cases


def _reading(word, value, pascals):
    return {"unit": word, "value": float(value), "pascals": float(pascals), "density": 1000.0, "gravity": 9.8}


def lengths(rng):
    """Lengths as people write them."""
    cases = []
    for _ in range(100):
        feet, inches, part = int(rng.integers(1, 60)), int(rng.integers(0, 12)), int(rng.integers(1, 16))
        parts = [(feet, "foot"), (inches, "inch"), (part / 16, "inch")]
        cases.append(_length(f"{feet} ft {inches} {part}/16 in", parts))
        cases.append(_length(f"{feet}' {inches}\"", parts[:2]))
        for word, name in (("ft", "foot"), ("m", "meter"), ("mm", "millimeter")):
            value = round(float(rng.uniform(0.5, 60)), 3)
            cases.append(_length(f"{value:.3f} {word}", [(value, name)]))
    return cases


def _length(text, parts):
    return {"text": text, "metres": float(sum(units.Quantity(*part).to("meter").magnitude for part in parts))}


def temperatures(rng):
    """Temperatures in both scales."""
    cases = []
    for value in numpy.round(rng.uniform(-40, 212, 150), 2).tolist():
        for word, name in (("degF", "degF"), ("degC", "degC")):
            kelvin = units.Quantity(value, name).to("kelvin").magnitude
            cases.append({"text": f"{value:.2f} {word}", "kelvin": float(kelvin)})
    return cases


def currents(rng):
    """Loop current over a range, direct and reverse: a straight line through its two ends."""
    cases = []
    for number in range(300):
        lrv, span, part = rng.uniform(-1e5, 2e5), rng.uniform(1e3, 5e5), rng.uniform(-0.2, 1.2)
        ends = [4, 20] if number % 2 == 0 else [20, 4]
        value = lrv + part * span
        line = numpy.polyfit([lrv, lrv + span], ends, 1)
        cases.append({
            "lrv": lrv, "urv": lrv + span, "reverse": number % 2 == 1, "value": value,
            "milliamperes": float(numpy.polyval(line, value)),
        })
    return cases
