"""Checks a proof file in exact rational arithmetic; shares no code with the program that wrote it.

Usage: python3 check_proof.py FILE [FAMILY]. Prints what is proved of which family and exits 0, or says why the file is
refused and exits 1. With FAMILY, a family file, the proof must be about that very family. The format and why it suffices:
crate/exchange/proof-format.md. Only Python's own library is needed.
"""
import json, sys
from check_family import Refused, demand, family, fields, hold, number
from fractions import Fraction

def dot(p, q):
    return p[0] * q[0] + p[1] * q[1]

def blossom(points, arguments):
    """De Casteljau's algorithm with an argument of its own in every round."""
    for t in arguments:
        points = [tuple((1 - t) * a + t * b for a, b in zip(p, q)) for p, q in zip(points, points[1:])]
    return points[0]

def restricted(points, s, t):
    return [blossom(points, [s] * (len(points) - 1 - i) + [t] * i) for i in range(len(points))]

def steps(piece):
    return [(q[0] - p[0], q[1] - p[1]) for p, q in zip(piece, piece[1:])]

class Curve:
    def __init__(self, data):
        fields(data, ["closed", "breaks", "points"])
        self.closed = data["closed"]
        demand(type(self.closed) is bool, "a curve is closed or not")
        self.breaks = [number(b) for b in data["breaks"]]
        self.points = [(number(x), number(y)) for x, y in data["points"]]
        rising = all(a < b for a, b in zip(self.breaks, self.breaks[1:]))
        demand(rising and (self.breaks[0], self.breaks[-1]) == (0, 1), "breaks must rise from 0 to 1")
        demand(len(self.points) == 3 * len(self.breaks) - 2, "three points a span, and one")
        demand(not self.closed or self.points[0] == self.points[-1], "a closed curve must close")

    def pieces(self, a, b):
        for k, (start, end) in enumerate(zip(self.breaks, self.breaks[1:])):
            low, high = max(a, start), min(b, end)
            if low < high:
                s, t = ((at - start) / (end - start) for at in (low, high))
                yield restricted(self.points[3 * k : 3 * k + 4], s, t)

def from_joint(q):
    """Bernstein coefficients of (C(t) - C(joint)) / t from the differences of the points, q[0] at the joint."""
    return [tuple(3 * a for a in q[0]), tuple(Fraction(3, 2) * (a + b) for a, b in zip(*q[:2])), tuple(map(sum, zip(*q)))]

def chart_net(g, h):
    """G(x) + y H(x y) in Bernstein form of degree (3, 3), from the powers of H."""
    powers = h[0], tuple(2 * (b - a) for a, b in zip(*h[:2])), tuple(a - 2 * b + c for a, b, c in zip(*h))
    along_x = [1, 1, 1], [0, Fraction(1, 2), 1], [0, 0, 1]
    along_y = [Fraction(j, 3) for j in range(4)], [0, 0, Fraction(1, 3), 1], [0, 0, 0, 1]
    lift = lambda i, j, k: sum(powers[n][k] * along_x[n][i] * along_y[n][j] for n in range(3))
    net = [[tuple(g[i][k] + lift(i, j, k) for k in (0, 1)) for j in range(4)] for i in range(3)]
    raised = lambda i, p, q: tuple((i * a + (3 - i) * b) / 3 for a, b in zip(p, q))
    inner = [[raised(i, p, q) for p, q in zip(net[i - 1], net[i])] for i in (1, 2)]
    return [net[0], *inner, net[2]]

def flat_net(g, h):
    """G(x) / x + y^2 H(x y) / (x y) in Bernstein form of degree (3, 3), for G and H that both vanish at the joint."""
    # Divided by t, a quadratic with coefficients 0, b, c is linear from 2 b to c.
    (g0, g1), (h0, h1) = [(tuple(2 * a for a in q[1]), q[2]) for q in (g, h)]
    square, cube = [0, 0, Fraction(1, 3), 1], [0, 0, 0, 1]
    value = lambda x, j, k: g0[k] + (g1[k] - g0[k]) * x + h0[k] * square[j] + (h1[k] - h0[k]) * x * cube[j]
    return [[tuple(value(Fraction(i, 3), j, k) for k in (0, 1)) for j in range(4)] for i in range(4)]

def blown_up(g, h):
    """The net of one chart: divided by x once more where the curve has no handle on either side of the joint."""
    return (chart_net if any(g[0]) or any(h[0]) else flat_net)(g, h)

class Claim:
    """Walks the boxes of one claim and tests every direction."""

    def __init__(self, curves):
        self.curves, self.boxes = curves, 0

    def direction(self, node):
        if isinstance(node, list):
            demand(len(node) == 2, "a direction has two numbers")
            self.boxes += 1
            return number(node[0]), number(node[1])
        return None

    def forward(self, d, *stretches):
        pieces = (steps(piece) for c in self.curves for s in stretches for piece in c.pieces(*s))
        # A vector that is zero, as at an end without a handle, takes nothing from the others, which all run forward.
        runs = all(any(map(any, piece)) and all(dot(d, q) > 0 for q in piece if any(q)) for piece in pieces)
        demand(runs, f"a curve does not run forward over {stretches}")

    def cuts(self, node, parts, *stretches):
        demand(sorted(node) == ["at", "parts"] and len(node["parts"]) == parts, "a part is missing")
        at = [number(t) for t in node["at"]]
        demand(len(at) == len(stretches), "a stretch is not cut")
        demand(all(a < t < b for t, (a, b) in zip(at, stretches)), "a stretch is cut outside itself")
        return [half for t, (a, b) in zip(at, stretches) for half in ((a, t), (t, b))], node["parts"]

    def itself(self, node, stretch):
        if d := self.direction(node):
            return self.forward(d, stretch)
        (low, high), parts = self.cuts(node, 3, stretch)
        self.itself(parts[0], low)
        self.itself(parts[1], high)
        self.joint(parts[2], low, high)

    def joint(self, node, before, after):
        if d := self.direction(node):
            return self.forward(d, before, after)
        if list(node) == ["charts"]:
            return self.charts(node["charts"], before, after)
        (a, b, c, d), parts = self.cuts(node, 4, before, after)
        self.apart(parts[0], a, c)
        self.apart(parts[1], a, d)
        self.joint(parts[2], b, c)
        self.apart(parts[3], b, d)

    def apart(self, node, one, other):
        if d := self.direction(node):
            sides = lambda c, stretch: [dot(d, p) for piece in c.pieces(*stretch) for p in piece]
            return demand(all(max(sides(c, other)) < min(sides(c, one)) for c in self.curves), "not separated")
        (a, b, c, d), parts = self.cuts(node, 4, one, other)
        for part, first, second in zip(parts, (a, a, b, b), (c, d, c, d)):
            self.apart(part, first, second)

    def charts(self, nodes, before, after):
        pairs = [(list(c.pieces(*before)), list(c.pieces(*after))) for c in self.curves]
        demand(len(nodes) == 2 and all(len(p) == len(q) == 1 for p, q in pairs), "two charts of one piece either side")
        arms = [(from_joint(steps(p[0])[::-1]), from_joint(steps(q[0]))) for p, q in pairs]
        self.chart(nodes[0], [blown_up(g, h) for g, h in arms])
        self.chart(nodes[1], [blown_up(h, g) for g, h in arms])

    def chart(self, node, nets, at_joint=True):
        if d := self.direction(node):
            # Right at the joint, x = y = 0, a curve without a handle may vanish: both of its places are one there.
            asked = [k for net in nets for k in sum(net, [])[at_joint and not any(net[0][0]) :]]
            return demand(all(dot(d, k) > 0 for k in asked), "a chart is not proved")
        demand(list(node) in (["x"], ["y"]) and len(*node.values()) == 2, "a chart is halved along x or y")
        turn = (lambda net: [list(row) for row in zip(*net)]) if "x" in node else list
        for part, s in zip(*node.values(), (Fraction(0), Fraction(1, 2))):
            halves = [turn([restricted(row, s, s + Fraction(1, 2)) for row in turn(net)]) for net in nets]
            self.chart(part, halves, at_joint and s == 0)

def members(claim, curves):
    """The curve numbers of a claim, from 0: whole, rising, and of curves that are there."""
    named = fields(claim, ["curves", "roots"])["curves"]
    demand(isinstance(named, list) and named, "a claim names no curve")
    demand(all(type(k) is int and 0 <= k < len(curves) for k in named), "a claim names a curve that is not there")
    demand(all(a < b for a, b in zip(named, named[1:])), "a claim names its curves twice or out of order")
    demand(all(curves[k] for k in named), "a claim names a curve that could not be judged")
    return named

def check(document, asked=None):
    """The claims proved, as lists of curve numbers from 0; Refused if anything in the file does not hold."""
    demand((document.get("format"), document.get("version")) == ("loftkin proof", 2), "not a proof file of version 2")
    fields(document, ["format", "version", "family", "unit", "curves", "claims", "left_out"])
    name, settings, profiles = about = family(document["family"])
    demand(asked is None or family(asked) == about, "the proof is about another family than the one that was given")
    curves, quarter = [data and Curve(data) for data in document["curves"]], Fraction(1, 4)
    demand(len(curves) == len(profiles), "a profile has no curve, or a curve no profile")
    for curve, profile in zip(curves, profiles):
        curve and hold(curve, profile, settings["pacing"])
    demand(document["claims"], "the file claims nothing")
    print(f"family {json.dumps(name)}, paced by {settings['pacing']}")
    for claim in document["claims"]:
        named, roots = members(claim, curves), claim["roots"]
        walk = Claim([curves[k] for k in named])
        demand(len({c.closed for c in walk.curves}) == 1, "a claim is about curves all open or all closed")
        demand(len(roots) == (6 if walk.curves[0].closed else 1), "a root is missing")
        if walk.curves[0].closed:
            a, b, c, d = [(k * quarter, (k + 1) * quarter) for k in range(4)]
            walk.itself(roots[0], (a[0], b[1])), walk.itself(roots[1], (c[0], d[1])), walk.joint(roots[2], b, c)
            walk.joint(roots[3], d, a), walk.apart(roots[4], a, c), walk.apart(roots[5], b, d)
        else:
            walk.itself(roots[0], (Fraction(0), Fraction(1)))
        told = ", ".join(f"{k + 1} {json.dumps(profiles[k][0])}" for k in named)
        print(f"proved: any blend of profiles {told} ({walk.boxes} boxes)")
    return [claim["curves"] for claim in document["claims"]]

def read(path):
    """A JSON file in which no record names a field twice and every number is finite."""
    def record(pairs):
        demand(len(dict(pairs)) == len(pairs), "a field stands twice in one record")
        return dict(pairs)
    def constant(word):
        raise Refused(f"{word} is no number")
    return json.load(open(path, encoding="utf-8"), object_pairs_hook=record, parse_constant=constant)

if __name__ == "__main__":
    sys.setrecursionlimit(10_000)
    try:
        demand(len(sys.argv) in (2, 3), "usage: check_proof.py FILE [FAMILY]")
        check(*map(read, sys.argv[1:]))
    except (Refused, KeyError, TypeError, ValueError, IndexError, AttributeError, OSError, RecursionError) as error:
        sys.exit(f"refused: {error}")
