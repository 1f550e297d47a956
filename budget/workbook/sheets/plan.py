"""The sheets that say what is to be built: Areas and Outline."""

from __future__ import annotations

from budget import job
from budget.units import (
    AREA,
    DEPTH,
    LENGTH,
    MONEY,
)
from budget.workbook.sheets.describe import Column, Names, Sheet

_SIZE_NOTE = "Text such as 12 ft 6 in, 12' 6 1/2\" or 3.8 m is fine too."
PART = Column(
    "part",
    "Part",
    "The part of the job this belongs to, such as Terrace or Walk.",
    required=True,
    width=16,
)
KEEP = Column(
    "optional",
    "Keep",
    "must: it is built whatever it costs. optional: it may be left out if it is not worth it.",
    "flag",
    choices=("must", "optional"),
    blank="must",
)
WORTH = Column(
    "worth",
    "Worth",
    "For something optional: the most it is worth to you.",
    "money",
    MONEY,
    blank="kept in every plan",
)

AREAS = Sheet(
    name="Areas",
    row=job.Area,
    target="areas",
    purpose="The paved shapes. Several shapes may make one part; cut-outs are taken off.",
    worth="Always: without a shape there is nothing to count.",
    required=True,
    unique=("name",),
    columns=(
        PART,
        Column("name", "Name", "A name for this shape.", blank="the part's name", width=16),
        Column(
            "shape",
            "Shape",
            "rectangle, triangle, ellipse: length and width. Circles: diameter. ring: both. "
            "On Outline: polygon by corners, walked by sides and diagonals, (curved) offsets from "
            "a base line. measured: area and perimeter.",
            "choice",
            choices=(
                "rectangle",
                "triangle",
                "circle",
                "half circle",
                "quarter circle",
                "ring",
                "ellipse",
                "polygon",
                "walked",
                "offsets",
                "curved offsets",
                "measured",
            ),
            blank="rectangle",
            width=14,
        ),
        Column(
            "length",
            "Length",
            "Length; base of a triangle; first width of an ellipse; base line of offsets. "
            + _SIZE_NOTE,
            "measure",
            LENGTH,
            sign="positive",
        ),
        Column(
            "width",
            "Width",
            "Width; height of a triangle; second width of an ellipse. " + _SIZE_NOTE,
            "measure",
            LENGTH,
            sign="positive",
        ),
        Column(
            "diameter",
            "Diameter",
            "Of the full circle, also for a half or quarter; the outer one of a ring.",
            "measure",
            LENGTH,
            sign="positive",
        ),
        Column(
            "inner_diameter",
            "Inner diameter",
            "The inner diameter of a ring.",
            "measure",
            LENGTH,
            sign="positive",
        ),
        Column(
            "area",
            "Area",
            "For a measured shape only: its area.",
            "measure",
            AREA,
            sign="positive",
        ),
        Column(
            "perimeter",
            "Perimeter",
            "For a measured shape only: the length all round.",
            "measure",
            LENGTH,
            sign="positive",
        ),
        Column(
            "cut_out",
            "Add or cut out",
            "cut out takes this shape off its part, for a tree or a hatch.",
            "flag",
            choices=("add", "cut out"),
            blank="add",
        ),
        Column(
            "paver",
            "Paver",
            "The paver's name, as on Products and Quotes.",
            names=Names("Products", "item", "free"),
            blank="Paver, of a usual size",
            width=20,
        ),
        Column(
            "pattern",
            "Pattern",
            "The laying pattern: it decides cuts and spare pavers.",
            "choice",
            table="patterns",
            blank="running bond",
            width=16,
        ),
        Column(
            "border",
            "Border",
            "The paver of a border along the outer edge, as on Products and Quotes.",
            names=Names("Products", "item", "free"),
            blank="no border",
            width=16,
        ),
        Column(
            "border_course",
            "Border course",
            "soldier: side by side, the length across the edge. sailor: lengthwise along it.",
            "choice",
            choices=("soldier", "sailor"),
            blank="soldier",
        ),
        Column(
            "house_edge",
            "Edge against the house",
            "Length of edge along a wall: not dug past, no edge restraint.",
            "measure",
            LENGTH,
            blank="none",
        ),
        Column(
            "joined_edge",
            "Edge against other paving",
            "Length of edge shared with other paving: not dug past, no edge restraint.",
            "measure",
            LENGTH,
            blank="none",
        ),
        Column(
            "build_up",
            "Build-up",
            "Which layers lie below, as named on Build-up.",
            names=Names("Build-up", "name"),
            blank="the usual layers",
            width=16,
        ),
        KEEP,
        WORTH,
        Column(
            "x",
            "X",
            "How far along the plan its first corner lies (the middle of anything round). "
            "With X and Y, overlaps count once and shared edges are found.",
            "measure",
            LENGTH,
            sign="any",
            blank="it lies by itself",
        ),
        Column("y", "Y", "How far up the plan.", "measure", LENGTH, sign="any", blank="as X"),
        Column(
            "turn",
            "Turn",
            "How far it is turned about that point, against the clock.",
            "number",
            sign="any",
            unit_word="degrees",
            blank="not turned",
        ),
        Column(
            "old_surface",
            "Old surface",
            "What lies there now and must be broken out: its rubble has to go too.",
            "choice",
            table="old_surfaces",
            blank="none",
            width=14,
        ),
        Column(
            "old_thickness",
            "Old thickness",
            "How thick the old surface is.",
            "measure",
            DEPTH,
            sign="positive",
            blank="a usual thickness",
        ),
    ),
)

OUTLINE = Sheet(
    name="Outline",
    row=job.Corner,
    target="corners",
    purpose="The outline of polygons, walked shapes and offsets, in order around each shape.",
    worth="When a shape on Areas is a polygon, walked or offsets. Measure x and y from any one "
    "point.",
    unique=("area", "order"),
    columns=(
        Column(
            "area",
            "Area",
            "The name of the shape on Areas.",
            names=Names("Areas", "name"),
            required=True,
            width=16,
        ),
        Column("order", "Order", "1, 2, 3 and so on, around the shape.", "whole", required=True),
        Column(
            "x",
            "X",
            "Polygon: how far along. Offsets: how far along the base line.",
            "measure",
            LENGTH,
            sign="any",
            blank="offsets evenly spaced",
        ),
        Column("y", "Y", "Polygon: how far across.", "measure", LENGTH, sign="any"),
        Column(
            "length",
            "Length",
            "Walked: the side from this corner to the next. Offsets: how far from the base line.",
            "measure",
            LENGTH,
        ),
        Column(
            "diagonal",
            "Diagonal",
            "Walked: from corner 1 to this corner, for corners 3 to the last but one.",
            "measure",
            LENGTH,
            sign="positive",
        ),
    ),
)

SHEETS = (AREAS, OUTLINE)
