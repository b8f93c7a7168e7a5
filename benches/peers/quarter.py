"""Meshes of the quarter of an outline in the first quadrant, graded towards the rim.

A mesh is made of patches, each the image of the unit square (s, t): the rim is s = 1
and, where `rims` says so, t = 1. The lines x = 0 and y = 0 are mirror lines.
Quadrilaterals run the same way in all patches: their first local edge lies along s.
"""

import numpy as np

from cases import CAPILLARY


def spaced(length, first, growth, largest):
    """Places from 0 to 1 along a line of `length`, the last step `first` long, the others
    growing away from it by `growth` up to `largest`, all scaled to fit."""
    steps, size = [], first
    while sum(steps) < length:
        steps.append(size)
        size = min(size * growth, largest)
    # Drop the last step if the line is met better without it.
    if len(steps) > 1 and sum(steps) - length > length - sum(steps[:-1]):
        steps.pop()
    places = np.concatenate([[0.0], np.cumsum(steps[::-1])])
    return places / places[-1]


def patches(case, grading):
    """Patches as (map from (s, t) to (x, y), places along s, places along t)."""
    if case.kind == "rectangle":
        a, b = case.size[0] / 2, case.size[1] / 2
        return [(lambda s, t: (a * s, b * t), spaced(a, *grading), spaced(b, *grading))]
    if case.kind == "hexagon":
        # The quarter of a regular hexagon with a flat on +x is a quadrilateral: its corner
        # s = t = 1 is the hexagon's, s = 0, t = 1 the one on the y axis.
        r = case.size[0] / 2
        half, tip = r / 3**0.5, 2 * r / 3**0.5
        corner = lambda s, t: (r * s, t * (tip + s * (half - tip)))
        return [(corner, spaced(r, *grading), spaced(r, *grading))]
    a, b = case.size[0] / 2, case.size[1] / 2
    return ellipse_patches(a, b, grading)


def ellipse_patches(a, b, grading):
    """A four-sided middle and two patches between it and the two halves of the arc."""
    inner, corner = 0.5, 0.42
    across = spaced(0.55 * min(a, b), *grading)
    along = np.linspace(0, 1, max(1, round(0.55 * max(a, b) / grading[2])) + 1)

    def middle(s, t):
        x = inner * s * (1 - t) + corner * s * t
        y = inner * t * (1 - s) + corner * s * t
        return a * x, b * y

    def right(s, t):
        xi, yi = middle(1.0, t)
        angle = t * np.pi / 4
        return xi + s * (a * np.cos(angle) - xi), yi + s * (b * np.sin(angle) - yi)

    def top(s, t):
        xi, yi = middle(s, 1.0)
        angle = np.pi / 2 - s * np.pi / 4
        return xi + t * (a * np.cos(angle) - xi), yi + t * (b * np.sin(angle) - yi)

    return [(middle, along, along), (right, across, along), (top, along, across)]


def squares(case, grading, degree=1):
    """Points and quadrilaterals with (degree + 1)^2 points each, numbered s first."""
    points, cells, index = [], [], {}

    def number(x, y):
        key = (round(float(x), 7), round(float(y), 7))
        if key not in index:
            index[key] = len(points)
            points.append(key)
        return index[key]

    for shape, along_s, along_t in patches(case, grading):
        fine = lambda v: np.interp(np.arange((len(v) - 1) * degree + 1) / degree, np.arange(len(v)), v)
        s, t = fine(along_s), fine(along_t)
        grid = [[number(*shape(u, v)) for v in t] for u in s]
        for i in range(0, len(s) - 1, degree):
            for j in range(0, len(t) - 1, degree):
                cells.append([grid[i + k][j + l] for l in range(degree + 1) for k in range(degree + 1)])
    return np.array(points), np.array(cells)


def on_rim(case, x, y):
    """Which of the places lie on the outline."""
    near = 1e-5
    if case.kind == "rectangle":
        return (x > case.size[0] / 2 - near) | (y > case.size[1] / 2 - near)
    if case.kind == "hexagon":
        r = case.size[0] / 2
        return (x > r - near) | (x / 2 + y * 3**0.5 / 2 > r - near)
    return (2 * x / case.size[0]) ** 2 + (2 * y / case.size[1]) ** 2 > 1 - near


def steepest(case):
    """The place of the largest edge angle, by symmetry: the middle of a long side."""
    if case.kind == "hexagon":
        return (case.size[0] / 2, 0.0)
    return (0.0, case.size[1] / 2)
