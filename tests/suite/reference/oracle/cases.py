"""Makes random cases with public libraries that know nothing of this project: `cases.py SEED FILE`.

Each quantity draws its numbers from a generator of its own, so that a quantity added here leaves the others' cases
as they were.
"""

import json
import sys
import zlib

import numpy

import conversions
import evidence
import flow
import physics

QUANTITIES = {
    "water": physics.water,
    "water_formulation": physics.water_formulation,
    "viscosity": physics.viscosity,
    "gravity": physics.gravity,
    "air": physics.air,
    "humid_air": physics.humid_air,
    "columns": physics.columns,
    "reading_units": conversions.reading_units,
    "lengths": conversions.lengths,
    "temperatures": conversions.temperatures,
    "currents": conversions.currents,
    "pipes": flow.pipes,
    "reconciled": evidence.reconciled,
    "budgets": evidence.budgets,
    "coverage": evidence.coverage,
    "conformance": evidence.conformance,
}


def main(seed, path):
    made = {}
    for name, make in QUANTITIES.items():
        own = zlib.crc32(name.encode())
        made[name] = make(numpy.random.default_rng([seed, own]))
    with open(path, "w", encoding="utf-8") as file:
        json.dump({"seed": seed, "quantities": made}, file, allow_nan=False)
    print(f"oracle: seed {seed}, " + ", ".join(f"{len(cases)} {name}" for name, cases in made.items()))


main(int(sys.argv[1]), sys.argv[2])
