"""Reconciliation by nonlinear least squares in NumPy, budgets by GTC, factors and probabilities by SciPy."""

import GTC
import numpy
from scipy import stats

ACCURACY = "accuracy"


def reconciled(rng):
    """Random evidence. Every quantity of the visit is a parameter, what is stated of it an observation, and a shared
    tape, mark, density or gravity one parameter that many observations use; so there is no covariance to write down.
    Gauss-Newton with derivatives by complex steps; the shift is a function of the parameters, and determined where its
    gradient lies in the row space of the Jacobian."""
    return [_solved(_visit(rng)) for _ in range(300)]


def _visit(rng):
    inputs = {
        "density": (rng.uniform(900, 1200), rng.uniform(0.05, 1.0)),
        "air": (rng.uniform(1.0, 1.3), 0.06),
        "gravity": (rng.uniform(9.77, 9.83), 4e-4),
        ACCURACY: (0.0, rng.uniform(30, 200)),
        "allowance": (0.0, rng.uniform(30, 200)),
        "floor": (rng.uniform(-0.3, 0.3), 0.004),
        "hatch": (rng.uniform(9, 12), 0.004),
        "sill": (rng.uniform(0, 0.2), 0.004),
        "tape A": (0.0, rng.uniform(0.001, 0.004)),
        "tape B": (0.0, rng.uniform(0.001, 0.004)),
    }
    true = {name: rng.normal(*stated) for name, stated in inputs.items()}
    k = (true["density"] - true["air"]) * true["gravity"]
    z = true["allowance"] + true[ACCURACY]
    riser, c = rng.uniform(3, 30), -k * rng.uniform(0, 30)
    visit = {"inputs": inputs, "offset": None, "readings": [], "levels": [], "risers": [], "vented": []}

    def read(level, under_head):
        place, u = len(visit["readings"]), rng.uniform(3, 40)
        shown = z + c + k * (riser + level) - (true[ACCURACY] if under_head else 0.0) + rng.normal(0, u)
        visit["readings"].append({"value": shown, "u": u, "under_head": under_head})
        return place

    def tell(level, place, plus, minus, u):
        known = sum(true[name] for name in plus) - sum(true[name] for name in minus)
        visit["levels"].append({
            "level": place, "plus": plus, "minus": minus, "value": level - known + rng.normal(0, u), "u": u,
        })

    if rng.random() < 0.5:
        visit["offset"] = {"value": c + rng.normal(0, 20.0), "u": 20.0}
    if rng.random() < 0.3:
        level = true["sill"] + rng.normal(0, 0.004)
        tell(level, read(level, False), ["sill"], [], 0.004)
    for tape in rng.choice(["tape A", "tape B"], size=rng.integers(0, 3)):
        level, u = rng.uniform(0.3, 8), rng.uniform(0.001, 0.005)
        place = read(level, True)
        tell(level, place, ["floor", tape], [], u)
        if rng.random() < 0.4:
            # From the hatch to the same surface, with the same tape or the other one.
            tell(level, place, ["hatch"], ["tape A"], u)
    for u in rng.uniform(0.002, 0.025, size=rng.integers(0, 3)):
        visit["risers"].append({"value": riser + rng.normal(0, u), "u": u})
    if rng.random() < 0.4:
        u = rng.uniform(20, 150)
        visit["vented"].append({"value": z + c + rng.normal(0, u), "u": u})
    if not visit["readings"]:
        read(rng.uniform(0.3, 8), True)
    return visit


def _solved(visit):
    names = list(visit["inputs"])
    start = [0.0, 9.8e3 * 10, 0.0] + [1.0] * len(visit["readings"])
    x = numpy.array(start + [visit["inputs"][name][0] for name in names], dtype=complex)
    at = {name: 3 + len(visit["readings"]) + place for place, name in enumerate(names)}
    scale = numpy.array([1.0, 1.0, 1.0] + [1e-4] * len(visit["readings"]) + [visit["inputs"][n][1] for n in names])

    def fit(allowed):
        theta = x.copy()
        for _ in range(60):
            slopes = numpy.array([
                _misses(visit, at, theta + 1e-20j * unit, allowed).imag / 1e-20
                for unit in numpy.eye(len(theta)) * scale[:, None]
            ]).T
            misses = _misses(visit, at, theta, allowed).real
            step = numpy.linalg.lstsq(slopes, -misses, rcond=1e-12)[0]
            theta = theta + step * scale
            if numpy.abs(step).max() < 1e-9 * (1 + numpy.abs(theta / scale).max()):
                break
        return theta.real, slopes

    for allowed in (False, True):
        theta, slopes = fit(allowed)
        gradient = numpy.zeros(len(theta))
        gradient[:3] = -1.0
        gradient *= scale
        _, sizes, rows = numpy.linalg.svd(slopes, full_matrices=False)
        told = sizes > 1e-11 * sizes[0]
        along = rows[told] @ gradient
        if numpy.abs(gradient - along @ rows[told]).max() < 1e-6:
            visit["determined"] = {
                "shift": float(-theta[:3].sum()),
                "standard": float(numpy.linalg.norm(along / sizes[told])),
                "by_allowance": allowed,
            }
            return visit
    visit["determined"] = None
    return visit


def _misses(visit, at, theta, allowed):
    """By how many standard uncertainties the parameters miss what is stated."""
    zero, head, offset = theta[0], theta[1], theta[2]
    k = (theta[at["density"]] - theta[at["air"]]) * theta[at["gravity"]]
    # The allowance on the sensor's zero is no measurement: without it that input stands alone.
    misses = [(theta[at[name]] - value) / u for name, (value, u) in visit["inputs"].items()]
    for place, one in enumerate(visit["readings"]):
        own = theta[at[ACCURACY]] if one["under_head"] else 0.0
        misses.append((zero + offset + head + k * theta[3 + place] - own - one["value"]) / one["u"])
    for one in visit["levels"]:
        known = sum(theta[at[name]] for name in one["plus"]) - sum(theta[at[name]] for name in one["minus"])
        misses.append((theta[3 + one["level"]] - known - one["value"]) / one["u"])
    misses += [(head / k - one["value"]) / one["u"] for one in visit["risers"]]
    misses += [(zero + offset - one["value"]) / one["u"] for one in visit["vented"]]
    if visit["offset"]:
        misses.append((offset - visit["offset"]["value"]) / visit["offset"]["u"])
    if allowed:
        # Exact: a thousandth of a pascal is.
        misses.append((zero - theta[at["allowance"]] - theta[at[ACCURACY]]) / 1e-3)
    return numpy.array(misses)


SHAPES = {
    "rectangular": GTC.type_b.uniform,
    "triangular": GTC.type_b.triangular,
    "arcsine": GTC.type_b.arcsine,
}


def budgets(rng):
    """The shift by one reading of many parts over a level of many parts, combined by GTC."""
    cases = []
    for _ in range(300):
        density, gravity, air = _line(rng, rng.uniform(900, 1200), 0.6), _line(rng, 9.8, 5e-4), _line(rng, 1.2, 0.1)
        pressures = [_line(rng, rng.uniform(-1e4, 1e5), 60) for _ in range(rng.integers(1, 6))]
        lengths = [_line(rng, rng.uniform(-1, 5), 0.005) for _ in range(rng.integers(1, 6))]
        value = {id(line): _uncertain(line) for line in [density, gravity, air, *pressures, *lengths]}
        k = (value[id(density)] - value[id(air)]) * value[id(gravity)]
        shift = k * sum(value[id(line)] for line in lengths) - sum(value[id(line)] for line in pressures)
        freedom = float(shift.df) if numpy.isfinite(shift.df) else None
        factor = stats.norm.ppf(0.975) if freedom is None else stats.t.ppf(0.975, max(1, numpy.floor(freedom)))
        cases.append({
            "density": density, "gravity": gravity, "air": air, "pressures": pressures, "lengths": lengths,
            "shift": float(shift.x), "standard": float(shift.u), "freedom": freedom,
            "expanded": float(shift.u * factor),
        })
    return cases


def _line(rng, value, size):
    shape = rng.choice(["standard", "expanded", "repeats", *SHAPES])
    return {
        "value": float(value), "shape": str(shape), "size": float(size * rng.uniform(0.2, 2)),
        "factor": 2.0, "freedom": int(rng.integers(1, 12)),
    }


def _uncertain(line):
    size, shape = line["size"], line["shape"]
    if shape in SHAPES:
        return GTC.ureal(line["value"], SHAPES[shape](size))
    if shape == "expanded":
        return GTC.ureal(line["value"], size / line["factor"])
    return GTC.ureal(line["value"], size, line["freedom"] if shape == "repeats" else GTC.inf)


def coverage(rng):
    """Student's two-sided 95 % point at truncated degrees of freedom."""
    freedom = numpy.concatenate([rng.uniform(1, 40, 150), 10 ** rng.uniform(1.5, 4.5, 100)])
    return [{"freedom": float(one), "factor": float(stats.t.ppf(0.975, numpy.floor(one)))} for one in freedom]


def conformance(rng):
    """How likely a true error lies within the tolerance."""
    cases = []
    for _ in range(250):
        tolerance = rng.uniform(0.005, 0.1)
        error, standard = rng.uniform(-2, 2) * tolerance, tolerance * 10 ** rng.uniform(-2, 0.5)
        inside = stats.norm.cdf(tolerance, error, standard) - stats.norm.cdf(-tolerance, error, standard)
        cases.append({"tolerance": tolerance, "error": error, "standard": standard, "probability": float(inside)})
    return cases
