"""The cases: five outlines, one liquid, one edge angle, and the reference volumes."""

import csv
from dataclasses import dataclass
from pathlib import Path

SURFACE_TENSION = 0.035  # N/m
DENSITY = 1050.0  # kg/m3
GRAVITY = 9.80665  # m/s2
EDGE_ANGLE = 60.0  # degrees, the largest along the outline
CAPILLARY = 1e3 * (SURFACE_TENSION / (DENSITY * GRAVITY)) ** 0.5  # mm

TABLES = Path(__file__).resolve().parents[2] / "data" / "reference" / "dome"


@dataclass(frozen=True)
class Case:
    """An outline: its name, its row in the tables, and how brimful is asked for it."""

    name: str
    kind: str  # rectangle, ellipse or hexagon
    size: tuple  # mm: length and width, or the distance across flats
    row: dict
    flags: tuple


CASES = [
    Case(
        f"{length}x{width}",
        "rectangle",
        (length, width),
        {"length_mm": str(length), "width_mm": str(width), "corner_radius_mm": "0"},
        ("--rectangle", f"{length} mm", f"{width} mm"),
    )
    for length, width in [(25, 25), (50, 25), (50, 50)]
] + [
    Case("ellipse 25x18", "ellipse", (25, 18), {"shape": "ellipse_18x25"}, ("--oval", "25 mm", "18 mm")),
    Case("hexagon 25", "hexagon", (25,), {"shape": "hexagon_25af"}, ("--regular", "6", "25 mm")),
]


def reference_volume(case, tables=TABLES):
    """The volume of the case's row in the reference tables, mL."""
    file = "rectangle.csv" if case.kind == "rectangle" else "shapes.csv"
    wanted = {"fluid": "glaze_like", "control": "max_edge_angle", **case.row}
    with open(Path(tables) / file, newline="") as text:
        rows = [
            row
            for row in csv.DictReader(text)
            if all(row[key] == value for key, value in wanted.items())
            and float(row["control_value"]) == EDGE_ANGLE
        ]
    if len(rows) != 1:
        raise SystemExit(f"{case.name}: {len(rows)} rows in {file}, not one")
    return float(rows[0]["V_mL"])
