"""Holds the curves of a proof file against the family that it names: nodes, joints, handles and paces.

Part of check_proof.py, and like it in rational arithmetic without any code of the program. Joints, names and drawn handles
are held exactly. What the program rounds is held to a stated bound: the handles of a spline and of a straight line to
BOUND times the size of the curve, breakpoints to PACE. So a claim is about curves that close to the family's.
"""
from fractions import Fraction
from math import isqrt

BOUND = Fraction(1, 10**9)
PACE = Fraction(1, 2**40)

class Refused(Exception): pass

def demand(condition, why):
    if not condition:
        raise Refused(why)

def fields(record, needed, optional=()):
    demand(isinstance(record, dict) and set(needed) <= set(record) <= {*needed, *optional}, f"fields other than {', '.join(needed)}")
    return record

def number(value):
    demand(type(value) in (int, float), f"{value!r:.40} is no number")
    return Fraction(value)

def steps(point):
    """A point in mm as whole grid steps of 0.01 mm: the nearest, halves away from zero, as the program reads it."""
    demand(isinstance(point, list) and len(point) == 2, "a point has two numbers")
    nearest = lambda value: int(abs(value) + Fraction(1, 2)) * (1 if 0 < value else -1)
    return tuple(nearest(number(value) * 100) for value in point)

def profile(data):
    """(name, closed, form, start or nodes, spans): everything of a profile that a verdict rests on."""
    fields(data, [], ["name", "closed", "nodes", "path"])
    demand(("nodes" in data) != ("path" in data), "a profile has either nodes or a path")
    head = data.get("name", ""), data.get("closed", False)
    if "nodes" in data:
        corner = lambda node: demand(node[2:] in ([], ["corner"]), "a node is [x, y] or [x, y, \"corner\"]") or len(node) == 3
        return *head, "nodes", tuple((steps(node[:2]), corner(node)) for node in data["nodes"])
    path = fields(data["path"], ["start", "spans"])
    def span(item):
        demand(len(item) == 1 and set(item) <= {"line", "cubic"}, "a span is a line or a cubic")
        return tuple(map(steps, item["cubic"])) if "cubic" in item else (steps(item["line"]),)
    return *head, "path", (steps(path["start"]), *map(span, path["spans"]))

def family(data):
    """The family as one value to compare: name, settings, profiles in their order."""
    fields(data, ["format", "version", "unit", "grid", "profiles"], ["name", "settings"])
    head = data["format"], data["version"], data["unit"], data["grid"]
    demand(head == ("loftkin-family", 1, "mm", 0.01), "not a family file of version 1 in mm")
    settings = {"pacing": "parameter", "placement": "stack", "twist_limit": 90, "crease_limit": 5}
    settings |= fields(data.get("settings", {}), [], settings)
    demand(settings["pacing"] in ("parameter", "node"), "the pacing is \"parameter\" or \"node\"")
    return data.get("name", ""), settings, [profile(one) for one in data["profiles"]]

def length(v):
    """The length of a vector of rationals, to 1e-15 of a grid step."""
    square = (v[0] ** 2 + v[1] ** 2) * 10**30
    return Fraction(isqrt(square.numerator // square.denominator), 10**15)

minus = lambda p, q: tuple(a - b for a, b in zip(p, q))
times = lambda p, s: tuple(a * s for a in p)
largest = lambda p: max(map(abs, p))

def spline_misfit(points, chords, cuts):
    """How far handles can be off those of the natural or periodic C2 spline: a bound, from what its equations leave over.

    In the form 2 m[i] + a m[i-1] + b m[i+1] = c, a + b = 1, the inverse of the matrix is at most 1 in the maximum norm, so
    slopes m are off by at most what is left over, and handles by a third of the chord times that.
    """
    spans, over, apart = len(chords), Fraction(0), Fraction(0)
    out = lambda k: times(minus(points[3 * k + 1], points[3 * k]), 3 / chords[k])
    into = lambda k: times(minus(points[3 * k + 3], points[3 * k + 2]), 3 / chords[k])
    steep = lambda k: times(minus(points[3 * k + 3], points[3 * k]), 1 / chords[k])
    for k in range(spans):
        if cuts[k]:
            over = max(over, largest(minus(map(sum, zip(times(out(k), 2), into(k))), times(steep(k), 3))))
        else:
            before = (k - 1) % spans
            a, b = (h / (chords[before] + chords[k]) for h in (chords[k], chords[before]))
            left = zip(times(out(k), 2), times(out(before), a), times(into(k), b), times(steep(before), -3 * a), times(steep(k), -3 * b))
            over = max(over, largest(list(map(sum, left))))
            apart = max(apart, largest(minus(out(k), into(before))))
        if cuts[k + 1]:
            over = max(over, largest(minus(map(sum, zip(times(into(k), 2), out(k))), times(steep(k), 3))))
    return (over + 2 * apart) * max(chords) / 3

def hold(curve, profile, pacing):
    """Refuses a curve that is not the profile's."""
    _, closed, form, drawn = profile
    demand(curve.closed == closed, "a curve is not closed as its profile is")
    if form == "nodes":
        nodes = [at for at, _ in drawn]
        joints = nodes + nodes[:1] * closed
    else:
        joints = [drawn[0], *(span[-1] for span in drawn[1:])]
    demand(len(curve.points) == 3 * len(joints) - 2, "a curve has not the spans of its profile")
    shift = minus(curve.points[0], joints[0])
    demand(all(minus(p, q) == shift for p, q in zip(curve.points[::3], joints)), "a joint is not where its profile has it")
    size, pieces = max(map(largest, curve.points)), [curve.points[3 * k : 3 * k + 4] for k in range(len(joints) - 1)]
    chords = [length(minus(piece[3], piece[0])) for piece in pieces]
    if form == "nodes":
        demand(all(chords), "two nodes in one place")
        corners = [corner for _, corner in drawn]
        cuts = corners + corners[:1] if closed else [True, *corners[1:-1], True]
        demand(spline_misfit(curve.points, chords, cuts) <= BOUND * size, "a handle is not that of the spline")
    else:
        for k, (piece, span) in enumerate(zip(pieces, drawn[1:])):
            start, end = joints[k], joints[k + 1]
            # A cubic whose handles lie on its ends, all of them or all but one end, is a straight line at even speed.
            is_line = len(span) == 1 or span[:2] in ((start, end), (start, start), (end, end))
            thirds = [tuple(p + (q - p) * Fraction(n, 3) for p, q in zip(piece[0], piece[3])) for n in (1, 2)]
            off = [minus(p, q) for p, q in zip(piece[1:3], thirds if is_line else [map(sum, zip(at, shift)) for at in span[:2]])]
            demand(max(map(largest, off)) <= (BOUND * size if is_line else 0), "a handle is not where its profile has it")
            chords[k] = chords[k] or sum(length(minus(q, p)) for p, q in zip(piece, piece[1:]))
    run, total = Fraction(0), sum(chords)
    for k, at in enumerate(curve.breaks):
        paced = run / total if pacing == "parameter" else Fraction(k, len(chords))
        demand(abs(at - paced) <= PACE, "a joint is not paced as the family says")
        run += chords[k] if k < len(chords) else 0
