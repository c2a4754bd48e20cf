#!/usr/bin/env python3
"""Rest of plies of unequal strands, solved without any of the package's formulas.

The places of the strands (helix radius and angle about the axis, one common
pitch) are found by a general constrained minimiser. Contact is the least
distance of two centre lines, searched along the yarn point by point. Run with
numpy and scipy; the output is unequal.json:

    python3 unequal.py > unequal.json
"""
import json
import sys

import numpy as np
from scipy.optimize import minimize, minimize_scalar


def distance2(ri, rj, turn, omega):
    """Least squared distance of two helices, one turned about the axis by turn."""
    def at(x):  # x is the angle run along the second helix
        return ri * ri + rj * rj - 2 * ri * rj * np.cos(turn + x) + (x / omega) ** 2
    xs = np.linspace(-np.pi, np.pi, 721)
    best = xs[np.argmin(at(xs))]
    h = xs[1] - xs[0]
    found = minimize_scalar(at, bounds=(best - h, best + h), method="bounded", options={"xatol": 1e-13})
    return min(found.fun, at(best))


def solve(strands, lengths, slips, turns=None):
    """Returns omega, radii and energy; turns forces radians per mean fed length."""
    n = len(strands)
    unit = np.mean([s["diameter_mm"] for s in strands]) / 2
    half = np.array([s["diameter_mm"] / 2 / unit for s in strands])
    c = np.array([s["torsion"] for s in strands])
    c = c / c.mean()
    b = c * np.array([s["stiffness"] for s in strands])
    tau = np.array([s["living"] for s in strands]) / half
    q = np.array(lengths, float) if lengths else np.ones(n)

    # z holds the radii, omega, and the angles of all strands but the first.
    def parts(z):
        return z[:n], z[n], np.concatenate(([0], z[n + 1:]))

    def energies(z):
        r, omega, _ = parts(z)
        beta = np.arctan(r * omega)
        curve = np.sin(beta) ** 2 / r
        twist = tau - np.sin(beta) * np.cos(beta) / r
        return b / 2 * curve ** 2 + c / 2 * twist ** 2, 1 / np.cos(beta)

    def objective(z):
        e, s = energies(z)
        if slips:
            return np.sum(s * (e - c * tau ** 2 / 2)) / np.sum(s)
        return np.sum(q * e)

    def apart(z):
        r, omega, phi = parts(z)
        return [distance2(r[i], r[j], phi[j] - phi[i], omega) - (half[i] + half[j]) ** 2
                for i in range(n) for j in range(i + 1, n)]

    def fed(z):
        s = energies(z)[1]
        return s[1:] / s[0] - q[1:] / q[0]

    def turned(z):
        return z[n] / energies(z)[1][0] * q[0] - turns  # omega per length fed to strand 1

    constraints = [{"type": "ineq", "fun": apart}]
    if not slips:
        constraints.append({"type": "eq", "fun": fed})
    if turns is not None:
        constraints.append({"type": "eq", "fun": turned})
    ring = 1.02 / np.sin(np.pi / n) if n > 2 else 1.02
    start = np.concatenate((ring * np.ones(n) * (1 + 0.1 * (q / q.mean() - 1)), [0.4],
                            2 * np.pi * np.arange(1, n) / n))
    if n == 2:
        start[-1] = np.pi
    bounds = [(1e-3, 6)] * n + [(1e-3, 3)] + [(0.05, 2 * np.pi - 0.05)] * (n - 1)
    for _ in range(4):  # started again, the minimiser's picture of the curvature is fresh
        got = minimize(objective, start, method="SLSQP", constraints=constraints, bounds=bounds,
                       options={"maxiter": 500, "ftol": 1e-15})
        start = got.x
    if np.min(apart(got.x)) < -1e-7:
        sys.exit("strands overlap: " + got.message)
    r, omega, _ = parts(got.x)
    return omega, r, got.fun, unit, energies(got.x)[1], half


def strand(diameter, living, stiffness, torsion):
    return dict(diameter_mm=diameter, living=living, stiffness=stiffness, torsion=torsion)


CASES = [
    ("a bobbin of last week and one of today", [strand(1, 0.25, 0.7, 1), strand(1, 0.6, 0.7, 1)], None, False),
    ("the same, slipping", [strand(1, 0.25, 0.7, 1), strand(1, 0.6, 0.7, 1)], None, True),
    ("thick and soft with thin, even", [strand(2, 0.3, 0.7, 4), strand(0.5, 0.6, 1.5, 0.25)], None, False),
    ("thick and soft with thin, slipping", [strand(2, 0.3, 0.7, 4), strand(0.5, 0.6, 1.5, 0.25)], None, True),
    ("thick round thin by length", [strand(1.5, 0.9, 0.5, 2), strand(0.6, 0.8, 1, 0.5)], [1.06, 1.0], False),
    ("stiff, slipping", [strand(1, 0.9, 3, 1), strand(1.3, 0.7, 2, 2)], None, True),
    ("one of three is older", [strand(1, 0.6, 1, 1), strand(1, 0.6, 1, 1), strand(1, 0.2, 1, 1)], None, False),
    ("three thicknesses, even", [strand(1, 0.6, 0.7, 1), strand(1.2, 0.5, 1.5, 1.4), strand(0.8, 0.7, 1, 0.6)], None, False),
    ("three thicknesses, slipping", [strand(1, 0.6, 0.7, 1), strand(1.2, 0.5, 1.5, 1.4), strand(0.8, 0.7, 1, 0.6)], None, True),
    ("three by length", [strand(1, 0.8, 0.7, 1), strand(1, 0.8, 0.7, 1), strand(1, 0.8, 0.7, 1)], [1.0, 1.02, 1.01], False),
    ("one thin among three, slipping", [strand(1, 0.6, 0.7, 1), strand(1, 0.6, 1.5, 1), strand(0.25, 0.3, 1, 0.1)], None, True),
    ("four thicknesses, even", [strand(1, 0.6, 0.7, 1), strand(1.1, 0.5, 1, 1.2), strand(0.9, 0.7, 1, 0.8), strand(1, 0.4, 1, 1)], None, False),
    ("five thicknesses, even", [strand(d, 0.6, 1, d * d) for d in (1, 1.1, 0.95, 1.05, 0.9)], None, False),
    ("one strand twisted with the ply", [strand(1, 0.8, 1, 1), strand(1.2, -0.2, 1, 1.44)], None, False),
]


def torque_at(strands, lengths, turns):
    """-dE/d(turn) of the whole, per length of the strand with the shortest feed."""
    h = 1e-3 * turns
    up, down = solve(strands, lengths, False, turns + h), solve(strands, lengths, False, turns - h)
    return -(up[2] - down[2]) / (2 * h)


def main():
    out = []
    for name, strands, lengths, slips in CASES:
        omega, r, _, unit, share, half = solve(strands, lengths, slips)
        case = dict(name=name, slips=slips, lengths=lengths, strands=strands,
                    turns_per_metre=omega / unit * 1000 / (2 * np.pi),
                    envelope_mm=2 * unit * float(np.max(r + half)),
                    radius_mm=[float(x * unit) for x in r],
                    angle_deg=[float(np.degrees(np.arctan(x * omega))) for x in r],
                    share=[float(x) for x in share])
        if not slips:
            q = np.array(lengths, float) if lengths else np.ones(len(strands))
            per_fed = omega * q[0] / share[0]
            case["forced"] = []
            for over in (0.9, 1.1):
                turned = solve(strands, lengths, False, per_fed * over)
                torque = torque_at(strands, lengths, per_fed * over)
                mean_c = np.mean([s["torsion"] for s in strands])
                case["forced"].append(dict(turns_per_metre=turned[0] / unit * 1000 / (2 * np.pi),
                                           torque=torque * mean_c / unit * 1000))
        out.append(case)
        print(name, file=sys.stderr)
    json.dump(out, sys.stdout, indent=1)
    print()


main()
