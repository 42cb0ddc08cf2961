"""Solves the random mixtures of tests/mixtures.rs with SciPy and writes what it finds.

    python3 crates/numeric/tests/mixtures/solve.py > crates/numeric/tests/mixtures/scipy.tsv

Quadratic ones: scipy.optimize.minimize (SLSQP); the shares it leaves on a limit are then held
there and the remaining equations solved exactly, so that the last digits are no matter of its
stopping rule, and the prices of the limits are checked for their sign. Linear ones:
scipy.optimize.linprog (HiGHS).
"""

import sys

import numpy as np
import scipy
from scipy.optimize import linprog, minimize


class Random:
    """The same numbers as in the test: a linear congruential generator of 64 bits (Knuth)."""

    def __init__(self, seed):
        self.state = seed

    def next(self):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 11) / 2**53

    def between(self, low, high):
        return low + (high - low) * self.next()


def problem(seed, linear):
    random = Random(seed)
    n = 3 + int(10 * random.next())
    rows = 0 if linear else 2 + int(5 * random.next())
    a = np.array([[random.between(-1, 1) for _ in range(n)] for _ in range(rows)]).reshape(rows, n)
    t = np.array([random.between(-1, 1) for _ in range(rows)])
    cost = np.array([random.between(0, 0.2) for _ in range(n)])
    low = np.array([random.between(0, 0.07) for _ in range(n)])
    high = np.array([random.between(0.3, 0.8) for _ in range(n)])
    caps, limits = [], []
    for _ in range(2):
        caps.append([1.0 if random.next() < 0.5 else 0.0 for _ in range(n)])
        limits.append(random.between(0.3, 0.6))
    return a, t, cost, low, high, np.array(caps), np.array(limits)


def held(a, t, cost, low, high, caps, limits, x):
    """Solves exactly with the limits that x lies on held; None where a price has the wrong sign."""
    n = len(x)
    at_low, at_high = np.abs(x - low) < 1e-5, np.abs(x - high) < 1e-5
    at_cap = np.abs(caps @ x - limits) < 1e-5
    free = ~(at_low | at_high)
    rows = np.vstack([np.ones((1, n)), caps[at_cap]])
    b = np.concatenate([[1.0], limits[at_cap]])
    y = np.where(at_low, low, np.where(at_high, high, 0.0))
    p = a.T @ a
    f, m = int(free.sum()), len(b)
    kkt = np.block([[p[np.ix_(free, free)], rows[:, free].T], [rows[:, free], np.zeros((m, m))]])
    gradient = p[np.ix_(free, ~free)] @ y[~free] - a.T[free] @ t + cost[free]
    right = np.concatenate([-gradient, b - rows[:, ~free] @ y[~free]])
    solution = np.linalg.lstsq(kkt, right, rcond=None)[0]
    if np.abs(kkt @ solution - right).max() > 1e-9:
        return None
    y[free] = solution[:f]
    slope = p @ y - a.T @ t + cost + rows.T @ solution[f:]
    signs = np.all(slope[at_low] > -1e-8) and np.all(slope[at_high] < 1e-8)
    inside = np.all(y >= low - 1e-9) and np.all(y <= high + 1e-9) and np.all(caps @ y <= limits + 1e-9)
    return y if signs and np.all(solution[f + 1 :] > -1e-8) and inside else None


def main():
    print(f"# Written by solve.py with SciPy {scipy.__version__}: kind, seed, value, shares or 'none'.")
    for kind, count in [("quadratic", 200), ("linear", 60)]:
        for seed in range(1, count + 1):
            a, t, cost, low, high, caps, limits = problem(seed, kind == "linear")
            n = len(cost)
            first = linprog(
                cost, A_ub=caps, b_ub=limits, A_eq=np.ones((1, n)), b_eq=[1.0],
                bounds=list(zip(low, high)), method="highs",
            )
            if first.status == 2:
                print(f"{kind}\t{seed}\t\tnone")
                continue
            assert first.status == 0
            x = first.x
            if kind == "quadratic":
                value = lambda x: 0.5 * np.sum((a @ x - t) ** 2) + cost @ x
                slope = lambda x: a.T @ (a @ x - t) + cost
                found = minimize(
                    value, x, jac=slope, method="SLSQP", bounds=list(zip(low, high)),
                    constraints=[
                        {"type": "eq", "fun": lambda x: np.sum(x) - 1, "jac": lambda x: np.ones(n)},
                        {"type": "ineq", "fun": lambda x: limits - caps @ x, "jac": lambda x: -caps},
                    ],
                    options={"ftol": 1e-14, "maxiter": 1000},
                )
                exact = held(a, t, cost, low, high, caps, limits, found.x)
                if exact is None:
                    print(f"seed {seed}: SLSQP's limits do not hold up, left out", file=sys.stderr)
                    continue
                x = exact
                total = value(x)
            else:
                total = cost @ x
            print(f"{kind}\t{seed}\t{total:.12g}\t" + " ".join(f"{s:.10f}" for s in x))


main()
