"""The sheets about the ground: Levels, and Trenches with pads."""

from __future__ import annotations

from budget import job
from budget.units import DEPTH, LENGTH
from budget.workbook.sheets.describe import Column, Names, Sheet
from budget.workbook.sheets.plan import PART

LEVELS = Sheet(
    name="Levels",
    row=job.Level,
    target="levels",
    purpose="Heights of the ground, and of the door sill, measured up from any one mark.",
    worth="When the ground is not level: it shows how much is dug and how much is filled.",
    columns=(
        Column("where", "Where", "A name for the spot, such as corner by the gate.", width=20),
        Column(
            "part",
            "Part",
            "The part this spot belongs to.",
            names=Names("Areas", "part"),
            blank="every part",
            width=16,
        ),
        Column(
            "what",
            "What",
            "ground; the sill of a door that the paving must stay below; or a drop point, where a "
            "truck puts goods down (it needs a place, no height).",
            "choice",
            choices=("ground", "sill", "drop point"),
            blank="ground",
        ),
        Column(
            "x",
            "X",
            "Where it is on the plan, as X on Areas.",
            "measure",
            LENGTH,
            sign="any",
            blank="only its height counts",
        ),
        Column("y", "Y", "As Y on Areas.", "measure", LENGTH, sign="any", blank="as X"),
        Column(
            "level",
            "Level",
            "Height of the ground (or of the sill) above your mark; below it, minus.",
            "measure",
            LENGTH,
            sign="any",
            blank="not measured",
        ),
        Column(
            "finish",
            "Finish",
            "Height wanted for the paving here, above the same mark.",
            "measure",
            LENGTH,
            sign="any",
            blank="worked out from the sill and the fall",
        ),
        Column(
            "toward",
            "Falls toward",
            "On the sill's row: which way the paving falls. 0 is along X, 90 along Y.",
            "number",
            sign="any",
            unit_word="degrees",
            blank="away from the sill",
        ),
        Column(
            "fall",
            "Fall",
            "On the sill's row: how steeply it falls, such as 2 %.",
            "share",
            likely=(0.005, 0.1),
            most=0.2,
            blank="a published fall",
        ),
    ),
)

TRENCHES = Sheet(
    name="Trenches",
    row=job.Trench,
    target="trenches",
    purpose="Trenches for conduit, drains and sleeves, and pads of stone under a heavy point.",
    worth="When pipe or cable goes under the paving, or a post, bowl or pillar stands on it.",
    unique=("part", "name"),
    columns=(
        PART,
        Column("name", "Name", "A name for it, such as drain to the garden.", required=True,
               width=20),
        Column(
            "what",
            "What",
            "conduit, drain, sleeve (for a later phase), or pad: more base under a heavy point.",
            "choice",
            choices=("conduit", "drain", "sleeve", "pad"),
            blank="conduit",
        ),
        Column("length", "Length", "How long.", "measure", LENGTH, required=True,
               sign="positive"),
        Column("width", "Width", "How wide.", "measure", DEPTH, required=True, sign="positive"),
        Column(
            "depth",
            "Depth",
            "Below the ground; under paving, below the bottom of its dig. How deep cables and "
            "gas must lie is for local code and licensed trades.",
            "measure",
            DEPTH,
            required=True,
            sign="positive",
        ),
        Column(
            "far_depth",
            "Depth at the far end",
            "For a drain that falls.",
            "measure",
            DEPTH,
            sign="positive",
            blank="as deep all along",
        ),
        Column(
            "stone",
            "Depth of stone",
            "How much of the depth is filled with base stone; soil goes back above it.",
            "measure",
            DEPTH,
            blank="none; a pad is stone all through",
        ),
        Column("item", "Pipe", "What is laid in it, as on Quotes; bought by length.",
               blank="nothing to buy", width=18),
        Column(
            "diameter",
            "Pipe diameter",
            "Outside diameter of the pipe.",
            "measure",
            DEPTH,
            sign="positive",
            blank="too small to count",
        ),
        Column("x", "X", "Where its middle line starts on the plan, as X on Areas.", "measure",
               LENGTH, sign="any", blank="not drawn"),
        Column("y", "Y", "As Y on Areas.", "measure", LENGTH, sign="any", blank="as X"),
        Column("turn", "Turn", "The way it runs. 0 is along X, 90 along Y.", "number",
               sign="any", unit_word="degrees", blank="along X"),
    ),
)  # fmt: skip

SHEETS = (LEVELS, TRENCHES)
