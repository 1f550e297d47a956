"""The sheets kept once work has begun: Spend and Progress."""

from __future__ import annotations

from budget import job
from budget.units import HOURS, MONEY
from budget.workbook.sheets.describe import Column, Names, Sheet

SPEND = Sheet(
    name="Spend",
    row=job.Spend,
    target="spend",
    purpose="What you ordered and paid, and own hours worked, from day to day.",
    worth="From the first order on.",
    columns=(
        Column("date", "Date", "The day.", "date", required=True),
        Column("line", "Line", "The plan's line, such as Base stone.", required=True, width=22),
        Column(
            "supplier",
            "Supplier",
            "Who was paid.",
            names=Names("Suppliers", "supplier", "free"),
            width=18,
        ),
        Column("what", "What", "In your own words.", width=24),
        Column("quantity", "Quantity", "How much or how many.", "number", sign="any"),
        Column(
            "amount", "Amount", "Before tax.", "money", MONEY, sign="any", blank="not known yet"
        ),
        Column("tax", "Tax", "The tax on it.", "money", MONEY, sign="any", blank="none"),
        Column(
            "state",
            "State",
            "ordered, delivered, paid, final payment (paid, and nothing more will come on this "
            "line), returned, refunded, deposit paid, deposit back, change agreed, worked (own "
            "hours), driven (quantity is the distance).",
            "choice",
            choices=(
                "ordered",
                "delivered",
                "paid",
                "final payment",
                "returned",
                "refunded",
                "deposit paid",
                "deposit back",
                "change agreed",
                "worked",
                "driven",
            ),
            blank="paid",
            width=14,
        ),
        Column("own_hours", "Own hours", "Own time it took.", "measure", HOURS, blank="none"),
        Column("receipt", "Receipt", "Number or place of the receipt.", width=16),
        Column(
            "reason",
            "Reason",
            "Of a change agreed: chosen (you wished for it) or unforeseen.",
            "choice",
            choices=("chosen", "unforeseen"),
            blank="chosen",
        ),
        Column(
            "due",
            "Due",
            "The day an order comes, a delivery must be paid, a purchase can last be returned, "
            "or a deposit comes back.",
            "date",
            blank="not known",
        ),
    ),
)

PROGRESS = Sheet(
    name="Progress",
    row=job.Progress,
    target="progress",
    purpose="How far the work is, and what is needed after measuring again.",
    worth="Every evening, or once a week: it shows early whether hours and money will hold.",
    columns=(
        Column("date", "Date", "The day.", "date", required=True),
        Column(
            "line",
            "Step or item",
            "A step such as Dig, or an item such as Garden paver.",
            required=True,
            width=22,
        ),
        Column(
            "part",
            "Part",
            "The part it was seen at.",
            names=Names("Areas", "part", "warning"),
            blank="the whole job",
            width=16,
        ),
        Column(
            "percent",
            "Percent done",
            "How much of it is done.",
            "share",
            likely=(0.01, 1.0),
            blank="see the quantity",
        ),
        Column(
            "quantity",
            "Quantity done",
            "How much is done, in the unit of “budget quantities”.",
            "number",
            blank="see the percent",
        ),
        Column(
            "need",
            "Need measured again",
            "How much is needed in all after measuring, in the unit of “budget quantities”.",
            "number",
            blank="as planned",
        ),
    ),
)

SHEETS = (SPEND, PROGRESS)
