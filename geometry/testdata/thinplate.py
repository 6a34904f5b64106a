"""Makes thinplate.json: heights of thin-plate splines by SciPy, for the Go tests.

    python3 thinplate.py > thinplate.json

SciPy's RBFInterpolator with kernel "thin_plate_spline" and degree 1 is the same
surface (r^2 log r and a linear part, no smoothing). The readings are random, the
seed fixed. The last case lies a kilometre off the origin: SciPy shifts and scales
its own coordinates, so it can be trusted there.
"""
import json
import sys

import numpy as np
import scipy
from scipy.interpolate import RBFInterpolator

r = np.random.default_rng(7)
cases = []
for n, size, offset in [(3, 10, 0), (4, 10, 0), (5, 1, 0), (8, 20, 0), (12, 15, 0), (40, 30, 0), (12, 0.05, 0), (9, 10, 1e6)]:
    xy = np.round(offset + size * r.uniform(-1, 1, (n, 2)), 6)
    z = np.round(5 + 2 * r.uniform(-1, 1, n), 3)
    at = np.round(offset + 1.5 * size * r.uniform(-1, 1, (6, 2)), 6)
    f = RBFInterpolator(xy, z, kernel="thin_plate_spline", degree=1)
    cases.append({"readings": np.c_[xy, z].tolist(), "at": at.tolist(), "z": f(at).tolist()})
json.dump({"made_by": "thinplate.py with SciPy " + scipy.__version__, "cases": cases}, sys.stdout, indent=0)
print()
