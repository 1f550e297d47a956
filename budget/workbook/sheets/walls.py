"""The sheets about what is built on or beside the paving: Walls, and Pieces of timber and metal."""

from __future__ import annotations

from budget import job
from budget.units import DEPTH, LENGTH, MASS
from budget.workbook.sheets.describe import Column, Sheet
from budget.workbook.sheets.plan import KEEP, PART, WORTH

#: For each kind on Walls, the sizes that it needs.
NEEDED: dict[str, tuple[str, ...]] = {
    "wall": ("length", "height"),
    "ring": ("diameter", "height"),
    "column": ("length", "height"),
    "steps": ("length", "height"),
}

WALLS = Sheet(
    name="Walls",
    row=job.Wall,
    target="walls",
    purpose="Low walls, rings around a fire, columns and steps, built of units in courses.",
    worth="When you build any of these: units, caps, adhesive, stone and hours are counted.",
    unique=("part", "name"),
    columns=(
        PART,
        Column("name", "Name", "A name for it, such as seat wall.", required=True, width=18),
        Column("kind", "Kind", "wall (straight), ring, column or steps.", "choice",
               choices=("wall", "ring", "column", "steps"), blank="wall"),
        Column("length", "Length", "wall: along its outside face. column: one side. "
               "steps: how wide they are.", "measure", LENGTH, sign="positive"),
        Column("diameter", "Diameter", "ring: across it.", "measure", LENGTH, sign="positive"),
        Column("circle", "Which circle", "ring: where the diameter is measured: outer face, "
               "middle of the units, or inner face.", "choice",
               choices=("outer", "middle", "inner"), blank="outer"),
        Column("height", "Height", "From the ground (or paving) to the top, cap included. "
               "steps: the whole rise.", "measure", LENGTH, sign="positive"),
        Column("risers", "Risers", "steps: how many, the one up to the landing included.",
               "whole", sign="positive", blank="the fewest of a usual height"),
        Column("tread", "Tread", "steps: from front to back.", "measure", DEPTH,
               sign="positive", blank="a usual one"),
        Column("corners", "Corners", "wall: how many outside corners.", "whole", blank="none"),
        Column("ends", "Free ends", "wall: ends that do not meet a house or another wall.",
               "whole", blank="2"),
        Column("count", "Alike", "How many alike there are.", "whole", sign="positive",
               blank="1"),
        Column("unit", "Unit", "The block or stone it is built of, as on Products and Quotes.",
               required=True, width=18),
        Column("cap", "Cap", "The cap (of steps: the tread), as on Products and Quotes.",
               blank="none", width=18),
        Column("stands", "Stands", "beside or in the paving: on stone of its own. In the "
               "paving its pavers are left out. on the paving: on the pavers.", "choice",
               choices=("beside the paving", "in the paving", "on the paving"),
               blank="beside the paving", width=18),
        Column("buried", "Courses below ground", "How many courses are below the ground.",
               "number", blank="a published number; none on paving or steps"),
        Column("pad", "Stone below", "Depth of the stone it stands on.", "measure", DEPTH,
               sign="positive", blank="a published depth"),
        Column("glue", "Glued", "caps, every course, or none. Lay all of it dry first.",
               "choice", choices=("caps", "every course", "none"), blank="caps"),
        Column("liner", "Liner", "ring: outside diameter of the liner or bowl that must fit in.",
               "measure", DEPTH, sign="positive", blank="none"),
        Column("x", "X", "Where its first corner (ring: its middle) lies, as X on Areas.",
               "measure", LENGTH, sign="any", blank="it lies by itself"),
        Column("y", "Y", "As Y on Areas.", "measure", LENGTH, sign="any", blank="as X"),
        Column("turn", "Turn", "Turned about that point, against the clock.", "number",
               sign="any", unit_word="degrees", blank="not turned"),
        KEEP,
        WORTH,
    ),
)  # fmt: skip

PIECES = Sheet(
    name="Pieces",
    row=job.CutPiece,
    target="pieces",
    purpose="Pieces cut from boards, posts or tube: how many lengths to buy, and how to cut them.",
    worth="When you build a bench, a frame or a screen: the fewest lengths are worked out.",
    columns=(
        PART,
        Column("name", "Piece", "What it is, such as seat slat.", required=True, width=18),
        Column("stock", "Cut from", "The stock on Products, by its name, or by its size if "
               "several lengths of it are sold (2x4).", required=True, width=18),
        Column("length", "Length", "Length of one piece.", "measure", DEPTH, required=True,
               sign="positive"),
        Column("width", "Width", "Of a strip sawn from a wider board.", "measure", DEPTH,
               sign="positive", blank="as wide as the stock"),
        Column("count", "Count", "How many.", "whole", required=True, sign="positive"),
        Column("fixings", "Fixings each", "Screws or bolts in one piece.", "number",
               blank="none"),
        Column("pilot", "Drilled first", "yes if holes are drilled before the screws go in.",
               "flag", blank="yes"),
        Column("coats", "Coats", "Coats of stain or sealer on every side.", "whole",
               blank="none"),
        Column("end_caps", "End caps each", "Caps for the ends of one tube.", "whole",
               blank="none"),
        Column("pocket", "Goes into", "Clear width of the bracket, socket or block it must "
               "fit into.", "measure", DEPTH, sign="positive", blank="not checked"),
        Column("span", "Free span", "Between its supports, if it carries a load.", "measure",
               DEPTH, sign="positive", blank="not checked"),
        Column("load", "Load", "Weight spread along the span.", "measure", MASS,
               sign="positive", blank="not checked"),
        Column("on_edge", "On edge", "yes: its larger side stands up. no: it lies flat.",
               "flag", blank="yes"),
        KEEP,
        WORTH,
    ),
)  # fmt: skip

SHEETS = (WALLS, PIECES)
