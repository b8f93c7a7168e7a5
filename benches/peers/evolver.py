"""Surface Evolver: the input that makes it find the volume at the edge angle.

The quarter of the surface, as quadratic facets. Evolver is given pressures, and a secant
in its own command language finds the one that gives the edge angle. All is in mm, with
energies divided by the surface tension.
"""

import numpy as np

import cases
import quarter


def triangles(case, grading):
    """The quarter's mesh in triangles, none with all its corners on the rim."""
    points, cells = quarter.squares(case, grading)
    cut = []
    for a, b, d, c in cells.tolist():  # around the cell: a b c d
        if quarter.on_rim(case, *points[[b, c, d]].T).all():
            cut += [(a, b, c), (a, c, d)]
        else:
            cut += [(a, b, d), (b, c, d)]
    return points, cut


def datafile(case, grading, accuracy):
    """The input, and the number of facets."""
    points, facets = triangles(case, grading)
    rim = quarter.on_rim(case, *points.T)
    number = {}
    for facet in facets:
        for a, b in sides(facet):
            if (b, a) not in number:
                number.setdefault((a, b), len(number) + 1)
    signed = lambda a, b: number.get((a, b)) or -number[b, a]
    lines = [*head(case), "vertices"]
    for n, (x, y) in enumerate(points.tolist()):
        lines.append(f"{n + 1} {x!r} {y!r} 0{held(case, points[[n]], rim[n])}")
    lines.append("edges")
    for (a, b), n in number.items():
        lines.append(f"{n} {a + 1} {b + 1}{held(case, points[[a, b]], rim[a] and rim[b])}")
    lines.append("faces")
    for n, facet in enumerate(facets, 1):
        lines.append(f"{n} {' '.join(str(signed(a, b)) for a, b in sides(facet))}")
    everything = " ".join(map(str, range(1, len(facets) + 1)))
    lines += ["bodies", f"1 {everything} pressure start density 1", "read"]
    weights = rim_weights(case, points, [edge for edge in number if rim[list(edge)].all()])
    raised = lambda sign: " ".join(
        f"vertex[{node}].z := {sign * LIFT * weight:.15g};" for node, weight in named(weights, number)
    )
    lines.append(SEARCH.format(up=raised(1), down=raised(-1), level=raised(0), close=0.01 * accuracy, lift=2 * LIFT))
    return "\n".join(lines), len(facets)


def named(weights, number):
    """The nodes of the weights as Evolver knows them: a vertex, or the middle of an edge."""
    for key, weight in weights.items():
        yield (f"edge[{number[key]}].midv" if isinstance(key, tuple) else key + 1), weight


def rim_weights(case, points, edges):
    """How far to raise the rim's nodes to feel its pull at the steepest place.

    A smooth bump over the part of the rim around that place, w(s) = (1 - s^2/b^2)^2 (k0 + k2 s^2 + k4 s^4)
    at the distance s, with int w = 1, int w s^2 = 0 and int w s^4 = 0: the pull that it
    feels is that at s = 0 but for terms of s^6. (Raising one node alone feels how the triangles lie.)
    A node is a point, or an edge for its middle.
    """
    place, at = quarter.steepest(case), {}
    chain, here = list(edges), next(n for e in edges for n in e if np.hypot(*(points[n] - place)) < 1e-6)
    at[here], pieces, gone = 0.0, [], 0.0
    while found := next((e for e in chain if here in e), None):
        chain.remove(found)
        size = length(case, *points[list(found)])
        there = found[0] + found[1] - here
        at[found], at[there] = gone + size / 2, gone + size
        pieces.append((here, found, there, size))
        here, gone = there, gone + size
    reach = 0.6 * half_side(case)
    bump = {n: max(0.0, 1 - (s / reach) ** 2) ** 2 for n, s in at.items()}
    rule = np.array([[4, 2, -1], [2, 16, 2], [-1, 2, 4]]) / 30

    def moment(power, extra):
        """int s^power w over the rim, as the elements integrate it; w = bump s^extra."""
        total = 0.0
        for *nodes, size in pieces:
            total += size * np.array([at[n] ** power for n in nodes]) @ rule @ [bump[n] * at[n] ** extra for n in nodes]
        return total

    powers = (0, 2, 4)
    k = np.linalg.solve([[moment(p, q) for q in powers] for p in powers], [1.0, 0.0, 0.0])
    return {n: bump[n] * sum(f * s**p for f, p in zip(k, powers)) for n, s in at.items() if bump[n] > 0}


def half_side(case):
    """The length of half the side that has the steepest place in its middle, mm."""
    if case.kind == "ellipse":
        return case.size[0] / 2
    return case.size[0] / (12**0.5 if case.kind == "hexagon" else 2)


def length(case, a, b):
    """The length of the rim between two of its points, by Gauss's two points where it is curved."""
    if case.kind != "ellipse":
        return np.hypot(*(b - a))
    half = np.array(case.size) / 2
    start, end = (np.arctan2(*(p / half)[::-1]) for p in (a, b))
    middle, reach = (start + end) / 2, abs(end - start) / 2
    at = middle + reach * np.array([-1, 1]) / 3**0.5
    return reach * np.hypot(half[0] * np.sin(at), half[1] * np.cos(at)).sum()


def sides(facet):
    """The sides of a facet, around it."""
    return zip(facet, facet[1:] + facet[:1])


def head(case):
    """Gravity, the first pressure, the mirror planes and a curved rim."""
    angle = np.radians(cases.EDGE_ANGLE)
    # The pressure of an endless wide puddle at this edge angle.
    yield f"parameter start = {2 * np.sin(angle / 2) / cases.CAPILLARY:.15g}"
    yield f"parameter wanted = {np.sin(angle):.15g}"
    yield f"gravity_constant {cases.CAPILLARY**-2:.15g}"
    yield "constraint 1\nformula: x = 0"
    yield "constraint 2\nformula: y = 0"
    if case.kind == "ellipse":
        length, width = case.size
        yield f"constraint 3\nformula: (2*x/{length})^2 + (2*y/{width})^2 = 1"


def held(case, places, rim):
    """How a vertex or an edge is held: on the rim, or on mirror planes."""
    if rim:
        return (" constraint 3" if case.kind == "ellipse" else "") + " fixed"
    planes = [str(k + 1) for k in range(2) if (abs(places[:, k]) < 1e-9).all()]
    return f" constraints {','.join(planes)}" if planes else ""


# How far the rim is raised to feel its pull, mm at a weight of one.
LIFT = 1e-4
# The rim's pull on its nodes is the change of energy as they are raised.
SEARCH = """M 2
hessian_normal on
steps := 0
settle := {{
  do {{ before := total_energy; hessian; steps := steps + 1; }}
  while (abs(total_energy - before) > 1e-9*abs(before));
}}
read_sine := {{
  {up} recalc; above := total_energy;
  {down} recalc; sine := (total_energy - above)/{lift};
  {level} recalc;
}}
solves := 1
settle
read_sine
old_p := start
old_miss := sine - wanted
trial := start*(1 - 0.5*old_miss/wanted)
again := {{
  solves := solves + 1;
  set body pressure trial where id == 1;
  settle; read_sine;
  miss := sine - wanted;
  next_p := trial - miss*(trial - old_p)/(miss - old_miss);
  old_p := trial; old_miss := miss; trial := next_p;
}}
do {{ again; }} while (abs(miss) > {close} and solves < 20)
free := sum(vertex where not fixed, 1)
printf "answer %.12g pressure %.12g miss %g solves %g steps %g unknowns %g\\n", 4e-3*body[1].volume, old_p, miss, solves, steps, free
q
"""
