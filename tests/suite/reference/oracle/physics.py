"""Water, air, gravity and columns."""

import boule
import iapws
import numpy
from CoolProp.CoolProp import HAPropsSI, PropsSI

CELSIUS = 273.15


def water(rng):
    """Liquid water by IAPWS-95 as CoolProp has it, from melting to boiling and from half an atmosphere to 30 bar."""
    cases = []
    while len(cases) < 400:
        t, p = rng.uniform(0.02, 100.0), rng.uniform(60e3, 3e6)
        # Where it would boil there is no liquid to compare with.
        if PropsSI("P", "T", t + CELSIUS, "Q", 0, "Water") >= p:
            continue
        rho = PropsSI("D", "T", t + CELSIUS, "P", p, "Water")
        cases.append({"celsius": t, "pascals": p, "kg_per_m3": rho})
    return cases


def water_formulation(rng):
    """The same formulation as another library has it, at one atmosphere."""
    at = rng.uniform(0.02, 99.0, 200)
    made = [iapws.IAPWS95(T=t + CELSIUS, P=0.101325).rho for t in at]
    return [{"celsius": t, "pascals": 101325.0, "kg_per_m3": float(rho)} for t, rho in zip(at.tolist(), made)]


def viscosity(rng):
    """Viscosity by IAPWS R12-08 at 0.1 MPa."""
    at = rng.uniform(0.1, 99.0, 250).tolist()
    return [{"celsius": t, "pascal_seconds": PropsSI("V", "T", t + CELSIUS, "P", 1e5, "Water")} for t in at]


def gravity(rng):
    """Normal gravity of WGS 84 in closed form at any height, not as a series in it."""
    latitude, height = rng.uniform(-90, 90, 400), rng.uniform(0, 9000, 400)
    found = boule.WGS84.normal_gravity((None, latitude, height), si_units=True)
    rows = zip(latitude.tolist(), height.tolist(), found.tolist())
    return [{"latitude": a, "metres": h, "m_per_s2": g} for a, h, g in rows]


def air(rng):
    """The formula of CIPM-2007 written out anew from A. Picard, R. S. Davis, M. Gläser and K. Fujii, Metrologia 45
    (2008) 149, with a carbon dioxide fraction of 0.0004; no public library of it was found."""
    cases = []
    for _ in range(300):
        t, p, humidity = rng.uniform(-40, 50), rng.uniform(50e3, 110e3), rng.uniform(0, 1)
        kelvin = t + CELSIUS
        saturated = numpy.exp(
            1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin
        )
        x = humidity * (1.00062 + 3.14e-8 * p + 5.6e-7 * t**2) * saturated / p
        dry = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t**2
        virial = dry + (5.707e-6 - 2.051e-8 * t) * x + (1.9898e-4 - 2.376e-6 * t) * x**2
        z = 1 - p / kelvin * virial + (p / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * x**2)
        molar_air, molar_water, gas = 28.96546e-3, 18.01528e-3, 8.314472
        rho = p * molar_air / (z * gas * kelvin) * (1 - x * (1 - molar_water / molar_air))
        cases.append({"celsius": t, "pascals": p, "humidity": humidity, "kg_per_m3": float(rho)})
    return cases


def humid_air(rng):
    """Humid air by ASHRAE RP-1485, another formulation, above freezing."""
    cases = []
    for _ in range(250):
        t, p, humidity = rng.uniform(1, 45), rng.uniform(70e3, 105e3), rng.uniform(0.05, 0.95)
        volume = HAPropsSI("Vha", "T", t + CELSIUS, "P", p, "R", humidity)
        cases.append({"celsius": t, "pascals": p, "humidity": humidity, "kg_per_m3": 1 / volume})
    return cases


def columns(rng):
    """Differential pressure of every mounting, summed column by column along each side."""
    words = ["riser", "above_datum", "dry_leg", "wet_leg", "one_seal", "two_seals", "probe", "interface"]
    return [_columns(rng, words[number % len(words)]) for number in range(400)]


def _columns(rng, word):
    g, air, vapour = rng.uniform(9.76, 9.84), rng.uniform(0.9, 1.4), rng.uniform(0.5, 25)
    stated, expansion = rng.uniform(600, 1400), rng.uniform(0, 1e-3)
    tank, line = rng.uniform(0, 90), rng.uniform(0, 40)
    process = stated / (1 + expansion * (tank - 20))
    in_line = stated / (1 + expansion * (line - 20))
    fill, light = rng.uniform(850, 1900), stated * rng.uniform(0.5, 0.85)
    span, level = rng.uniform(1, 15), rng.uniform(-0.2, 16)
    riser = rng.uniform(0, 30) if word in ("riser", "probe") else rng.uniform(-0.9, 5)
    if word == "above_datum":
        riser = -rng.uniform(0.1, 3)
    tap, top = -rng.uniform(0, 1), span + rng.uniform(0.1, 2)
    high_and_low = {
        "riser": ([(in_line, riser), (process, level), (air, -level - riser)], []),
        "above_datum": ([(in_line, riser), (process, level), (air, -level - riser)], []),
        "probe": ([(process, riser + level), (air, -level - riser)], []),
        "one_seal": ([(fill, tap + riser), (process, level - tap), (air, -level - riser)], []),
        "dry_leg": ([(in_line, riser), (process, level), (vapour, top - level)], [(vapour, top + riser)]),
        "wet_leg": ([(in_line, riser), (process, level), (vapour, top - level)], [(fill, top + riser)]),
        "two_seals": (
            [(fill, tap + riser), (process, level - tap), (vapour, top - level)],
            [(fill, top + riser)],
        ),
        "interface": ([(in_line, riser), (process, level), (light, top - level)], [(fill, top + riser)]),
    }
    high, low = (numpy.array(side, dtype=float).reshape(-1, 2) for side in high_and_low[word])
    pressure = g * (high.prod(axis=1).sum() - low.prod(axis=1).sum())
    return {
        "mounting": word, "gravity": g, "air": air, "vapour": vapour, "stated": stated, "expansion": expansion,
        "tank": tank, "line": line, "fill": fill, "light": light, "span": span, "level": level, "riser": riser,
        "tap": tap, "top": top, "pascals": float(pressure),
    }
