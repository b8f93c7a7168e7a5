"""scikit-fem: one Newton solve for the heights and the pressure at a given edge angle.

Usage: fem.py CASE FIRST GROWTH LARGEST ORDER [REPEATS]
Prints the volume in mL, the number of unknowns and the median time of one solve, in s.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import statistics
import sys
import time

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from skfem import Basis, ElementQuad2, ElementQuadP, MeshQuad, MeshQuad2

import cases
import quarter


def mesh_of(case, grading):
    """A mesh of the quarter; with curved sides where the outline is curved."""
    if case.kind != "ellipse":
        points, cells = quarter.squares(case, grading)
        return MeshQuad(points.T, cells[:, [0, 1, 3, 2]].T)
    points, cells = quarter.squares(case, grading, degree=2)
    corners, which = np.unique(cells[:, [0, 2, 8, 6]], return_inverse=True)
    mesh = MeshQuad2.from_mesh(MeshQuad(points[corners].T, which.reshape(-1, 4).T))
    # Vertices, middles of sides and middle, in the element's own order.
    mesh.doflocs[:, mesh.dofs.element_dofs] = points[cells[:, [0, 2, 8, 6, 1, 5, 7, 3, 4]].T].T.swapaxes(1, 2)
    return mesh


# The sides of the reference square: from which corner to which, and the fixed coordinate.
SIDES = ((0, 1, 1, 0.0), (1, 2, 0, 1.0), (3, 2, 1, 1.0), (0, 3, 0, 0.0))


def rim_weights(case, mesh, element, basis):
    """Weights that read a flux at the steepest place from the forces on the rim's unknowns:
    the row there of the inverse of the rim's mass matrix, as a flux f has the forces M f."""
    ends = mesh.p[:, mesh.facets]
    facets = np.flatnonzero(quarter.on_rim(case, ends[0], ends[1]).all(axis=0))
    dofs = basis.get_dofs(facets).flatten()
    place = np.full(basis.N, -1)
    place[dofs] = np.arange(len(dofs))
    mass = np.zeros((len(dofs), len(dofs)))
    nodes, weights = np.polynomial.legendre.leggauss(element.p + 1)
    nodes, weights = (nodes + 1) / 2, weights / 2
    cells, sides = mesh.f2t[0, facets], (mesh.t2f[:, mesh.f2t[0, facets]] == facets).argmax(axis=0)
    for side in np.unique(sides):
        first, last, across, fixed = SIDES[side]
        at = np.empty((2, len(nodes)))
        at[across], at[1 - across] = fixed, nodes
        values = np.array([element.lbasis(at, i)[0] for i in range(len(basis.element_dofs))])
        for cell in cells[sides == side]:
            number = place[basis.element_dofs[:, cell]]
            on = number >= 0
            scale = weights * speed(mesh, cell, first, last, 4 + side, nodes)
            mass[np.ix_(number[on], number[on])] += (values[on] * scale) @ values[on].T
    x, y = quarter.steepest(case)
    vertex = np.argmin((mesh.p[0] - x) ** 2 + (mesh.p[1] - y) ** 2)
    row = np.zeros(len(dofs))
    row[place[basis.nodal_dofs[0, vertex]]] = 1.0
    return dofs, np.linalg.solve(mass, row)


def speed(mesh, cell, first, last, middle, r):
    """|dx/dr| along a side, 0 <= r <= 1, of three nodes where it is curved."""
    a, b = mesh.p[:, mesh.t[first, cell]], mesh.p[:, mesh.t[last, cell]]
    along = np.outer(b - a, np.ones_like(r))
    if isinstance(mesh, MeshQuad2):
        bulge = mesh.doflocs[:, mesh.dofs.element_dofs[middle, cell]] - (a + b) / 2
        along = along + np.outer(bulge, 4 - 8 * r)
    return np.hypot(*along)


def solve(case, grading, order):
    """The volume, mL, and the number of unknowns.

    Find u, zero on the rim, and p with, for every v,
        int grad u . grad v / S + (u / c^2 - p) v = - int_rim sin(theta) v,
    S = sqrt(1 + |grad u|^2), and theta given at the steepest place.
    """
    mesh = mesh_of(case, grading)
    element = ElementQuad2() if order == 2 else ElementQuadP(order)
    element.p = order
    basis = Basis(mesh, element, intorder=2 * order)
    dofs, count = basis.element_dofs.T, basis.N
    dx = basis.dx
    value = np.array([b[0].value for b in basis.basis])  # i e q, or i 1 q
    value = np.ascontiguousarray(np.broadcast_to(value, (dofs.shape[1], *dx.shape)).transpose(1, 0, 2))
    gradient = np.array([b[0].grad for b in basis.basis]).transpose(2, 0, 1, 3)  # e i d q
    gradient = np.ascontiguousarray(gradient)
    flat = gradient.reshape(*gradient.shape[:2], -1)
    transposed = value.transpose(0, 2, 1)
    weighed = value * dx[:, None, :]
    mass = weighed @ transposed / cases.CAPILLARY**2
    load = np.bincount(dofs.ravel(), weighed.sum(axis=2).ravel(), count)

    rim, weights = rim_weights(case, mesh, element, basis)
    inside = np.ones(count, bool)
    inside[rim] = False
    pick = np.zeros(count)
    pick[rim] = weights
    number = np.cumsum(inside) - 1
    free = int(inside.sum())
    # Where each element's entries go in the compressed columns.
    rows = np.repeat(dofs, dofs.shape[1], axis=1).ravel()
    columns = np.tile(dofs, (1, dofs.shape[1])).ravel()
    kept = np.flatnonzero(inside[rows] & inside[columns])
    keys, slots = np.unique(number[columns[kept]] * free + number[rows[kept]], return_inverse=True)
    pointers = np.searchsorted(keys, np.arange(free + 1) * free)
    indices = keys % free

    sine = np.sin(np.radians(cases.EDGE_ANGLE))
    u, p = np.zeros(count), 0.0
    for _ in range(30):
        heights = u[dofs][:, None, :]
        slope = (heights @ flat).reshape(-1, 2, dx.shape[1])
        stretch = 1.0 / np.sqrt(1.0 + (slope**2).sum(axis=1))
        flux = slope * (dx * stretch)[:, None, :]
        push = (heights @ value)[:, 0] * dx / cases.CAPILLARY**2
        local = flat @ flux.reshape(len(dofs), -1, 1) + value @ push[:, :, None]
        residual = np.bincount(dofs.ravel(), local.ravel(), count) - p * load
        # Tangent: (I - g g^T / S^2) / S, g = grad u.
        along = (gradient * slope[:, None]).sum(axis=2, keepdims=True)
        bent = (gradient - slope[:, None] * along * (stretch**2)[:, None, None, :]) * (dx * stretch)[:, None, None, :]
        tangent = bent.reshape(flat.shape) @ flat.transpose(0, 2, 1) + mass
        data = np.bincount(slots, tangent.ravel()[kept], len(keys))
        factor = splu(
            csc_matrix((data, indices, pointers), shape=(free, free)),
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        both = factor.solve(np.column_stack([-residual[inside], load[inside]]))
        step, per_pressure = np.zeros(count), np.zeros(count)
        step[inside], per_pressure[inside] = both.T
        force = lambda d: (tangent @ d[dofs][:, :, None]).ravel() @ pick[dofs].ravel()
        miss = -sine - pick @ residual - force(step)
        change = miss / (force(per_pressure) - pick @ load)
        step += change * per_pressure
        u, p = u + step, p + change
        if abs(step).max() < 1e-7 * abs(u).max():
            break
    else:
        raise SystemExit("Newton's method did not settle")
    return 1e-3 * 4 * float(load @ u), free + 1


def main():
    case = next(c for c in cases.CASES if c.name == sys.argv[1])
    grading, order = tuple(map(float, sys.argv[2:5])), int(sys.argv[5])
    times = []
    # Without repeats: one solve, so that the whole process can be timed.
    repeats = int(sys.argv[6]) if len(sys.argv) > 6 else 0
    for _ in range(repeats + 1):
        start = time.perf_counter()
        volume, unknowns = solve(case, grading, order)
        times.append(time.perf_counter() - start)
    print(volume, unknowns, statistics.median(times[1:] or times))


if __name__ == "__main__":
    main()
