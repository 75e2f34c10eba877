"""Tests the reasons for boxes of two places as polynomials: half-planes, pencils, products and corners blown up.

Part of check_proof.py, and like it in exact arithmetic without any code of the program. A net is a vector polynomial over
the unit square in Bernstein form of degree (3, 3), one a curve, as whole numbers: all nets of a chart are multiplied by
one positive number, which changes no sign. The format and why it suffices: crate/exchange/proof-format.md.
"""
from check_family import demand, number
from math import gcd, lcm

# Where a part of a chart is cut, and a part of a corner blown up: (numerator, denominator).
CUT, MIDDLE = (15, 32), (1, 2)
BINOMIAL = [1, 3, 3, 1]

def dot(p, q):
    return p[0] * q[0] + p[1] * q[1]

def directions(values):
    """Directions of whole numbers from those of two numbers each: the same but for one length common to all."""
    demand(all(isinstance(value, list) and len(value) == 2 for value in values), "a direction has two numbers")
    exact = [tuple(map(number, value)) for value in values]
    scale = lcm(*(a.denominator for d in exact for a in d))
    return [(int(x * scale), int(y * scale)) for x, y in exact]

def direction(value):
    return directions([value])[0]

def mixed(p, q, a, b):
    return p[0] * a + q[0] * b, p[1] * a + q[1] * b

def halves(row, cut):
    """Both parts of a row of vectors, by de Casteljau's algorithm; times the cut's denominator to the row's degree."""
    part, whole = cut
    rounds, degree = [row], len(row) - 1
    for _ in range(degree):
        rounds.append([mixed(p, q, whole - part, part) for p, q in zip(rounds[-1], rounds[-1][1:])])
    scaled = lambda p, k: (p[0] * whole ** (degree - k), p[1] * whole ** (degree - k))
    low = [scaled(points[0], k) for k, points in enumerate(rounds)]
    return low, [scaled(points[-1], k) for k, points in enumerate(rounds)][::-1]

def raised(row):
    """A row of three vectors with the degree raised by one; times 3."""
    a, b, c = row
    return [mixed(a, a, 3, 0), mixed(a, b, 1, 2), mixed(b, c, 2, 1), mixed(c, c, 3, 0)]

def differences(points):
    return [(q[0] - p[0], q[1] - p[1]) for p, q in zip(points, points[1:])]

# A net comes with its scale: its coefficients are whole numbers over that. A piece has whole `points` over its `scale`.

def apart_net(one, other):
    """C(x) - C(y) of two pieces: coefficients p - q."""
    a, b = other.scale, one.scale
    return [[(p[0] * a - q[0] * b, p[1] * a - q[1] * b) for q in other.points] for p in one.points], a * b

def own_net(piece):
    """(C(x) - C(y)) / (x - y) of one piece: d(x, x) + d(x, y) + d(y, y), d the blossom of the differences; times 36."""
    q = differences(piece.points)
    between = lambda i, j: mixed(mixed(q[0], q[1], 2 - i, i), mixed(q[1], q[2], 2 - i, i), 2 - j, j)
    net = [[mixed(mixed(q[i], q[j], 4, 4), between(i, j), 1, 1) for j in range(3)] for i in range(3)]
    rows = [raised(row) for row in net]
    return [list(row) for row in zip(*(raised(column) for column in zip(*rows)))], piece.scale

def from_joint(q, scale):
    """Bernstein coefficients of (C(t) - C(joint)) / t from the differences of the points, q[0] at the joint; times 2."""
    p, q, r = [mixed(v, v, scale, 0) for v in q]
    return [mixed(p, p, 6, 0), mixed(p, q, 3, 3), mixed(mixed(p, q, 2, 2), r, 1, 2)]

def chart_net(g, h):
    """G(x) + y H(x y) in Bernstein form, from the powers of H; times 18."""
    powers = h[0], mixed(h[1], h[0], 2, -2), mixed(mixed(h[0], h[1], 1, -2), h[2], 1, 1)
    # The coefficients of x^0 to x^2, times 2, and of y^1 to y^3, times 3.
    along_x, along_y = ([2, 2, 2], [0, 1, 2], [0, 0, 2]), ([0, 1, 2, 3], [0, 0, 1, 3], [0, 0, 0, 3])
    lift = lambda i, j, k: sum(powers[n][k] * along_x[n][i] * along_y[n][j] for n in range(3))
    columns = [[tuple(6 * g[i][k] + lift(i, j, k) for k in (0, 1)) for i in range(3)] for j in range(4)]
    return [list(row) for row in zip(*map(raised, columns))]

def flat_net(g, h):
    """G(x) / x + y^2 H(x y) / (x y) in Bernstein form, for G and H that both vanish at the joint; times 18."""
    # Divided by t, a quadratic with coefficients 0, b, c is linear from 2 b to c; the coefficients of y^2 and y^3 times 3.
    (g0, g1), (h0, h1) = [(mixed(q[1], q[1], 2, 0), q[2]) for q in (g, h)]
    square, cube = [0, 0, 1, 3], [0, 0, 0, 3]
    value = lambda i, j, k: 2 * (9 * g0[k] + 3 * i * (g1[k] - g0[k]) + 3 * h0[k] * square[j] + (h1[k] - h0[k]) * i * cube[j])
    return [[tuple(value(i, j, k) for k in (0, 1)) for j in range(4)] for i in range(4)]

def joint_nets(before, after):
    """The nets of both charts of a joint: divided by x once more where the curve has no handle on either side."""
    g = from_joint(differences(before.points)[::-1], after.scale)
    h = from_joint(differences(after.points), before.scale)
    net, scale = chart_net if any(g[0]) or any(h[0]) else flat_net, before.scale * after.scale
    return (net(g, h), scale), (net(h, g), scale)

def product(a, b, d):
    """The product with d of each coefficient of conj(A) B, of degree (6, 6), times its two binomials; and these together."""
    def weighted(net):
        shared = gcd(*(a for row in net for c in row for a in c)) or 1
        return shared, [(7 * i + j, *mixed(c, c, BINOMIAL[i] * BINOMIAL[j], 0)) for i, row in enumerate(net)
                        for j, c in enumerate((x // shared, y // shared) for x, y in row)]
    # d . (conj(A) B) = A . (d turned into the frame of B).
    (m, first), (n, second) = weighted(a), weighted(b)
    turned, sums = [(l, d[0] * s + d[1] * t, d[0] * t - d[1] * s) for l, s, t in second], [0] * 49
    for k, x, y in first:
        for l, s, t in turned:
            sums[k + l] += x * s + y * t
    six = [1, 6, 15, 20, 15, 6, 1]
    return [(sums[k] * m * n, six[k // 7] * six[k % 7]) for k in range(49)]

class Chart:
    """A chart of one claim: its nets, and at which of its corners (0, 0) and (1, 1) each may vanish for want of a handle."""

    def __init__(self, nets, bare):
        common = lcm(*(scale for _, scale in nets))
        self.nets = [[[mixed(c, c, common // scale, 0) for c in row] for row in net] for net, scale in nets]
        self.bare, self.boxes = bare, 0

    def check(self, node):
        """Refuses unless `node` proves that no blend of the nets vanishes, but at those corners."""
        self.walk(node, self.nets, [0] * len(self.nets), self.bare, CUT, True)
        return self.boxes

    def walk(self, node, nets, slack, bare, cut, may_turn):
        if isinstance(node, list) or list(node) in (["pencil"], ["product"]):
            self.boxes += 1
            return demand(self.holds(node, nets, slack, bare), "a chart is not proved")
        if list(node) == ["corner"]:
            demand(may_turn and all(first and not last for first, last in bare), "a corner that is not bare is blown up")
            return self.corner(node["corner"], nets)
        demand(list(node) in (["x"], ["y"]) and len(*node.values()) == 2, "a chart is cut along x or y")
        turn = (lambda net: [list(row) for row in zip(*net)]) if "x" in node else list
        parts = [list(zip(*(halves(row, cut) for row in turn(net)))) for net in nets]
        for k, part in enumerate(*node.values()):
            kept = [(first and k == 0, last and k == 1) for first, last in bare]
            self.walk(part, [turn(part[k]) for part in parts], [e * cut[1] ** 3 for e in slack], kept, cut, may_turn)

    def holds(self, node, nets, slack, bare):
        """Whether a reason holds; every coefficient may be off by `slack` of its curve, per component."""
        flat = [sum(net, []) for net in nets]
        # A coefficient that is zero for want of a handle is passed over; what mixes curves, where all terms are zero.
        is_bare = lambda c, k: not any(flat[c][k]) and (bare[c][0] and k == 0 or bare[c][1] and k == 15)
        reach = lambda d, c: (abs(d[0]) + abs(d[1])) * slack[c]
        if isinstance(node, list):
            d = direction(node)
            return all(reach(d, c) < dot(d, p) for c, net in enumerate(flat) for k, p in enumerate(net) if not is_bare(c, k))
        if "pencil" in node:
            d = directions(node["pencil"])
            demand(len(d) == len(flat), "a pencil has one direction a curve")
            return all(
                reach(d[a], b) + reach(d[b], a) < dot(d[a], flat[b][k]) + dot(d[b], flat[a][k])
                for a in range(len(d)) for b in range(a + 1) for k in range(16) if not (is_bare(a, k) and is_bare(b, k))
            )
        demand(len(flat) < 3, "a product is that of two curves")
        d, ends = direction(node["product"]), (0, len(flat) - 1)
        a, b = (max(max(map(abs, p)) for p in flat[c]) for c in ends)
        e, f = (slack[c] for c in ends)
        off = 4 * dot(d, d) * (a * f + b * e + e * f) ** 2
        either = [any(is_bare(c, k) for c in ends) for k in (0, 15)]
        asked = product(nets[0], nets[-1], d)[either[0] : 49 - either[1]]
        return 0 <= d[0] and all(0 < z and off * w * w < z * z for z, w in asked)

    def corner(self, node, nets):
        """K = x a + y b + ... near x = y = 0, over x + y: s a + (1 - s) b, s in [0, 1], off by all further coefficients."""
        demand(not any(any(net[0][0]) for net in nets), "a corner that is not bare is blown up")
        lines, slack = [], []
        for net in nets:
            powers = lambda row: [row[0], mixed(row[1], row[0], 3, -3), tuple(3 * (p - 2 * q + r) for p, q, r in zip(*row[:3])),
                                  tuple(s - 3 * r + 3 * q - p for p, q, r, s in zip(*row))]
            terms = list(zip(*map(powers, zip(*map(powers, net)))))
            a, b = terms[1][0], terms[0][1]
            higher = [terms[i][j] for i in range(4) for j in range(4) if 1 < i + j]
            row = [mixed(b, a, 3 - i, i) for i in range(4)]
            lines.append([[c] * 4 for c in row])
            slack.append(3 * max(sum(abs(c[k]) for c in higher) for k in (0, 1)))
        self.walk(node, lines, slack, [(False, False)] * len(nets), MIDDLE, False)
