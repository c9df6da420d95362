"""Losses of flow in a pipe."""

import numpy
from fluids.core import K_from_f, Reynolds, head_from_K
from fluids.friction import Colebrook


def pipes(rng):
    """A riser drawn and filled. Between laminar and turbulent flow no formula holds, so no case lies there."""
    cases = []
    while len(cases) < 400:
        bore, length = rng.uniform(0.02, 1.0), rng.uniform(1, 60)
        roughness = bore * 10 ** rng.uniform(-6, -1.6)
        entry, g = rng.uniform(0, 2), rng.uniform(9.76, 9.84)
        density, viscosity = rng.uniform(700, 1300), 10 ** rng.uniform(-3.6, -1.0)
        velocity = 10 ** rng.uniform(-2, 1)
        reynolds = Reynolds(V=velocity, D=bore, rho=density, mu=viscosity)
        if 2300 < reynolds < 4000:
            continue
        factor = 64 / reynolds if reynolds <= 2300 else Colebrook(reynolds, roughness / bore)
        friction = head_from_K(K_from_f(fd=factor, L=length, D=bore), velocity, g=g)
        head = head_from_K(1.0, velocity, g=g)
        cases.append({
            "bore": bore, "length": length, "roughness": roughness, "entry": entry, "gravity": g,
            "density": density, "viscosity": viscosity, "rate": velocity * numpy.pi / 4 * bore**2,
            "reynolds": float(reynolds), "factor": float(factor), "drawing": float(-friction - (1 + entry) * head),
            "filling": float(friction),
        })
    return cases
