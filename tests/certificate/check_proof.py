"""Checks a proof file in exact rational arithmetic; shares no code with the program that wrote it.

Usage: python3 check_proof.py FILE [FAMILY]. Prints what is proved of which family and exits 0, or says why the file is
refused and exits 1. With FAMILY, a family file, the proof must be about that very family. Rational numbers are kept as whole
numbers over a scale where many are summed. The format and why it suffices: crate/exchange/proof-format.md. Only Python's
own library is needed.
"""
import json, sys
from check_chart import Chart, apart_net, differences, direction, dot, joint_nets, mixed, own_net
from check_family import Refused, demand, family, fields, hold, number
from fractions import Fraction
from math import lcm

def cut(points, s, t, whole):
    """The control points over s / whole to t / whole: blossoms of three arguments, times whole cubed."""
    def blossom(row, *arguments):
        for at in arguments:
            row = [mixed(p, q, whole - at, at) for p, q in zip(row, row[1:])]
        return row[0]
    return [blossom(points, *[s] * (3 - k), *[t] * k) for k in range(4)]

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
        self.scale = lcm(*(a.denominator for p in self.points for a in p))
        self.whole = [(int(x * self.scale), int(y * self.scale)) for x, y in self.points]

    def piece(self, a, b):
        k = next(k for k, end in enumerate(self.breaks[1:]) if a < end)
        demand(b <= self.breaks[k + 1], "charts are of one piece either side")
        return Piece(self, k, a, b)

class Piece:
    """A part of one span: `points` are its control points times `scale`."""

    def __init__(self, curve, k, a, b):
        start, end = curve.breaks[k : k + 2]
        common = lcm(*(at.denominator for at in (start, end, a, b)))
        s, t, whole = (int((at - start) * common) for at in (a, b, end))
        self.points = cut(curve.whole[3 * k : 3 * k + 4], s, t, whole)
        self.scale = curve.scale * whole**3
        q = differences(self.points)
        # Without a handle at an end of its span a curve has a first or last difference that is zero.
        self.bare = a == start and not any(q[0]), b == end and not any(q[2])
        self.headings = q[self.bare[0] : 3 - self.bare[1]]

class Claim:
    """Walks the boxes of one claim and tests every reason. A stretch is a pair of numbers of places where curves are cut."""

    def __init__(self, curves, leaves):
        demand(type(leaves) is int and leaves in [2**k for k in range(2, 13)], "leaves are a power of two, 4 to 4096")
        self.curves, self.boxes = curves, 0
        self.at = sorted({Fraction(k, leaves) for k in range(leaves + 1)}.union(*(c.breaks for c in curves)))
        self.index = {at: k for k, at in enumerate(self.at)}
        self.pieces = [[c.piece(a, b) for a, b in zip(self.at, self.at[1:])] for c in curves]

    def direction(self, node):
        if isinstance(node, list):
            self.boxes += 1
            return direction(node)
        return None

    def forward(self, d, *stretches):
        runs = all(dot(d, q) > 0 for row in self.pieces for a, b in stretches for piece in row[a:b] for q in piece.headings)
        demand(runs, "a curve does not run forward over a stretch")

    def separates(self, d, one, other):
        """Whether every point of each curve over `one` lies further along d than all of its points over `other`."""
        def extreme(row, stretch, better):
            best, scale = None, 1
            for piece in row[slice(*stretch)]:
                for p in piece.points:
                    at = dot(d, p)
                    if best is None or better(at * scale, best * piece.scale):
                        best, scale = at, piece.scale
            return best, scale
        for row in self.pieces:
            (least, of), (most, to) = extreme(row, one, int.__lt__), extreme(row, other, int.__gt__)
            if least * to <= most * of:
                return False
        return True

    def cuts(self, node, *stretches):
        """The halves of each stretch, or the stretch itself where it is not cut; and the parts."""
        demand(sorted(node) == ["at", "parts"] and len(node["at"]) == len(stretches), "a stretch is not cut")
        falls = []
        for at, (a, b) in zip(node["at"], stretches):
            if at is None:
                falls.append([(a, b)])
                continue
            t = self.index.get(number(at))
            demand(t is not None, "a stretch is cut where no curve is")
            demand(a < t < b, "a stretch is cut outside itself")
            falls.append([(a, t), (t, b)])
        demand(any(len(fall) == 2 for fall in falls), "a stretch is not cut")
        return falls, iter(node["parts"])

    def end(self, parts):
        demand(next(parts, None) is None, "a part is too many")

    def next(self, parts):
        part = next(parts, None)
        demand(part is not None, "a part is missing")
        return part

    def itself(self, node, stretch):
        if d := self.direction(node):
            return self.forward(d, stretch)
        if list(node) == ["charts"]:
            own = [c.piece(*self.ends(stretch)) for c in self.curves]
            return self.charts(node, [([own_net(p) for p in own], [p.bare for p in own])])
        [(low, high)], parts = self.cuts(node, stretch)
        self.joint(self.next(parts), low, high)
        self.itself(self.next(parts), low)
        self.itself(self.next(parts), high)
        self.end(parts)

    def joint(self, node, before, after):
        if d := self.direction(node):
            return self.forward(d, before, after)
        if list(node) == ["charts"]:
            return self.joint_charts(node, before, after)
        (lows, highs), parts = self.cuts(node, before, after)
        for one in lows:
            for other in highs:
                if (one, other) != (lows[-1], highs[0]):
                    self.apart(self.next(parts), one, other)
        self.joint(self.next(parts), lows[-1], highs[0])
        self.end(parts)

    def apart(self, node, one, other):
        if d := self.direction(node):
            return demand(self.separates(d, one, other), "not separated")
        if list(node) == ["charts"]:
            pieces = [[c.piece(*self.ends(s)) for s in (one, other)] for c in self.curves]
            return self.charts(node, [([apart_net(p, q) for p, q in pieces], [(False, False)] * len(pieces))])
        (firsts, seconds), parts = self.cuts(node, one, other)
        for first in firsts:
            for second in seconds:
                self.apart(self.next(parts), first, second)
        self.end(parts)

    def ends(self, stretch):
        return [self.at[k] for k in stretch]

    def joint_charts(self, node, before, after):
        pairs = [(c.piece(*self.ends(before)), c.piece(*self.ends(after))) for c in self.curves]
        nets = [joint_nets(p, q) for p, q in pairs]
        # Both handles missing, the nets are divided by x once more and vanish nowhere.
        bare = [[(p.bare[1] and not q.bare[0], False) for p, q in pairs], [(q.bare[0] and not p.bare[1], False) for p, q in pairs]]
        self.charts(node, [([net[k] for net in nets], bare[k]) for k in (0, 1)])

    def charts(self, node, charts):
        demand(len(node["charts"]) == len(charts), "a chart is missing")
        for part, (nets, bare) in zip(node["charts"], charts):
            self.boxes += Chart(nets, bare).check(part)

def members(claim, curves):
    """The curve numbers of a claim, from 0: whole, rising, and of curves that are there."""
    named = fields(claim, ["curves", "leaves", "roots"])["curves"]
    demand(isinstance(named, list) and named, "a claim names no curve")
    demand(all(type(k) is int and 0 <= k < len(curves) for k in named), "a claim names a curve that is not there")
    demand(all(a < b for a, b in zip(named, named[1:])), "a claim names its curves twice or out of order")
    demand(all(curves[k] for k in named), "a claim names a curve that could not be judged")
    return named

def check(document, asked=None):
    """The claims proved, as lists of curve numbers from 0; Refused if anything in the file does not hold."""
    demand((document.get("format"), document.get("version")) == ("loftkin proof", 3), "not a proof file of version 3")
    fields(document, ["format", "version", "family", "unit", "curves", "claims"])
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
        walk = Claim([curves[k] for k in named], claim["leaves"])
        demand(len({c.closed for c in walk.curves}) == 1, "a claim is about curves all open or all closed")
        demand(len(roots) == (6 if walk.curves[0].closed else 1), "a root is missing")
        a, b, c, d, end = (walk.index[k * quarter] for k in range(5))
        if walk.curves[0].closed:
            walk.apart(roots[0], (a, b), (c, d)), walk.apart(roots[1], (b, c), (d, end))
            walk.joint(roots[2], (b, c), (c, d)), walk.joint(roots[3], (d, end), (a, b))
            walk.itself(roots[4], (a, c)), walk.itself(roots[5], (c, end))
        else:
            walk.itself(roots[0], (a, end))
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
