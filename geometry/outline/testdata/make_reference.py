"""Makes reference.csv: distances from the origin to the curve and areas of every outline.

Each curve is written here as a test "is this point inside?", straight from its definition in words; the distance along a ray is found by
bisection on that test (scipy.optimize.brentq on its sign), the area by adaptive quadrature of radius^2/2 between the curve's corners
(scipy.integrate.quad). Nothing is shared with the Go code. Last made with Python 3.11, numpy 2.4.6 and scipy 1.17.1:

    python3 make_reference.py > reference.csv
"""
import math

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq

R3 = math.sqrt(3)


def ellipse(L, W, u, v):
    return (2 * u / L) ** 2 + (2 * v / W) ** 2 - 1


def cushion(L, W, u, v):
    return abs(2 * u / L) ** 3 + abs(2 * v / W) ** 3 - 1


def rectangle(L, W, u, v):
    return max(abs(u) - L / 2, abs(v) - W / 2)


def octagon(L, W, u, v):
    # how far beyond the sides of the rectangle, or beyond the cut whose legs are a fifth of the shorter side
    leg = 0.2 * min(L, W)
    x, y = L / 2 - abs(u), W / 2 - abs(v)
    return max(-x, -y, leg - (x + y))


def circle_through(p, q, r):
    """Centre and radius of the circle through three points."""
    a = 2 * np.array([[q[0] - p[0], q[1] - p[1]], [r[0] - p[0], r[1] - p[1]]])
    b = np.array([q[0] ** 2 + q[1] ** 2 - p[0] ** 2 - p[1] ** 2, r[0] ** 2 + r[1] ** 2 - p[0] ** 2 - p[1] ** 2])
    c = np.linalg.solve(a, b)
    return c, math.hypot(c[0] - p[0], c[1] - p[1])


def marquise(L, W, u, v):
    c, r = circle_through((L / 2, 0), (0, W / 2), (-L / 2, 0))
    return max(math.hypot(u - c[0], v - c[1]), math.hypot(u - c[0], v + c[1])) - r


def pear(L, W, u, v):
    # tangent to the half circle at (0, W/2) means the arc's centre is on u = 0, so it also goes through the tip's mirror image
    b = W / 2
    if u <= 0:
        return math.hypot(u, v) - b
    c, r = circle_through((L - b, 0), (0, b), (b - L, 0))
    return max(math.hypot(u - c[0], v - c[1]), math.hypot(u - c[0], v + c[1])) - r


def triangle(L, W, u, v):
    x, y = u * R3 / L, v * R3 / W
    return max(math.hypot(x - math.cos(k), y - math.sin(k)) for k in (0, 2 * math.pi / 3, -2 * math.pi / 3)) - R3


def heart(L, W, u, v):
    # the hull of a disc and a point is the union of the discs that shrink on the way to the point
    b = W / 2
    c, r, tip = np.array([0, 4 * b / 9]), 5 * b / 9, np.array([L - 5 * b / 9, 0])
    p = np.array([u, abs(v)])
    d = tip - c
    # least over s in [0, 1] of |p - c - s d| - (1 - s) r, a convex function of s: ternary search
    f = lambda s: np.linalg.norm(p - c - s * d) - (1 - s) * r
    lo, hi = 0.0, 1.0
    for _ in range(120):
        m1, m2 = lo + (hi - lo) / 3, hi - (hi - lo) / 3
        if f(m1) < f(m2):
            hi = m2
        else:
            lo = m1
    return min(f(lo), f(0), f(1))


SHAPES = {
    "round": (ellipse, [(8, 8)]), "oval": (ellipse, [(14, 10), (5, 3)]), "cushion": (cushion, [(12, 12), (14, 10)]),
    "square": (rectangle, [(9, 9)]), "rectangle": (rectangle, [(14, 10)]), "octagon": (octagon, [(14, 10), (8, 8)]),
    "pear": (pear, [(15, 10), (9, 7)]), "marquise": (marquise, [(10, 5), (14, 7)]), "triangle": (triangle, [(8, 8), (10, 8)]),
    "heart": (heart, [(10, 10), (9, 11)]),
}


def radius(f, L, W, t):
    c, s = math.cos(t), math.sin(t)
    return brentq(lambda q: f(L, W, q * c, q * s), 1e-9, L + W, xtol=1e-14, rtol=1e-15)


def corners(name, L, W):
    if name in ("square", "rectangle"):
        k = math.atan2(W, L)
        return [k, math.pi - k]
    if name == "octagon":
        g = 0.2 * min(L, W)
        a, b = math.atan2(W / 2 - g, L / 2), math.atan2(W / 2, L / 2 - g)
        return [a, b, math.pi - b, math.pi - a]
    if name == "triangle":
        return [math.atan2(R3 / 2 * W, -L / 2)]
    return [math.pi / 2]


print("shape,length,width,quantity,theta,value")
for name, (f, sizes) in SHAPES.items():
    for L, W in sizes:
        for k in range(24):
            t = -math.pi + (k + 0.37) * math.pi / 12
            print("%s,%g,%g,radius,%.15g,%.12g" % (name, L, W, t, radius(f, L, W, t)))
        # all the curves are mirrored in the u axis
        cuts = [0] + corners(name, L, W) + [math.pi]
        area = sum(quad(lambda t: radius(f, L, W, t) ** 2, p, q, epsabs=1e-8, epsrel=1e-9, limit=200)[0] for p, q in zip(cuts, cuts[1:]))
        print("%s,%g,%g,area,0,%.9g" % (name, L, W, area))
