"""The sheets about doing: Equipment, Work, Weather, Checklist, Scenarios."""

from __future__ import annotations

from budget import job
from budget.units import DEPTH, HOURS, MONEY, per
from budget.workbook.sheets.describe import Column, Names, Sheet


def _price(name: str, title: str, note: str, blank: str = "not offered") -> Column:
    return Column(name, title, note, "money", MONEY, blank=blank)


EQUIPMENT = Sheet(
    name="Equipment",
    row=job.Equipment,
    target="equipment",
    purpose="Machines, and each way to have one: rent, borrow or buy.",
    worth="When a machine is needed. List the same machine several times, once for each way.",
    unique=("equipment", "way", "source"),
    columns=(
        Column("equipment", "Equipment", "The machine's name.", required=True, width=20),
        Column(
            "way",
            "Way",
            "rent, borrow or buy.",
            "choice",
            choices=("rent", "borrow", "buy"),
            blank="rent",
        ),
        Column("source", "From", "The shop, friend or seller.", width=24),
        _price("half_day", "4 hours", "Rent for up to four hours."),
        _price("day", "Day", "Rent for a day."),
        _price("weekend", "Weekend", "Rent for a weekend."),
        _price("week", "Week", "Rent for a week."),
        _price("month", "4 weeks", "Rent for four weeks."),
        Column(
            "hours_a_day",
            "Hours a day",
            "Machine hours that a day's rent covers.",
            "measure",
            HOURS,
            sign="positive",
            blank="8 h",
        ),
        Column(
            "days_a_week",
            "Days a week",
            "Days of use that a week's rent covers.",
            "number",
            sign="positive",
            blank="7",
        ),
        Column(
            "weekend_days",
            "Weekend days",
            "Days of use that a weekend's rent covers.",
            "number",
            sign="positive",
            blank="2",
        ),
        _price("price", "Price to buy", "If it is bought.", "not yet priced"),
        _price("resale", "Resale", "What you expect to sell it on for.", "nothing"),
        _price("favour", "Favour", "What a loan costs: a gift, a repair.", "nothing"),
        Column(
            "waiver",
            "Damage waiver",
            "Share added to the rent for damage cover.",
            "share",
            likely=(0.02, 0.3),
            most=0.5,
            blank="none",
        ),
        Column(
            "fuel",
            "Fuel",
            "Fuel for each machine hour.",
            "money",
            per(MONEY, HOURS),
            blank="none",
        ),
        _price("cleaning", "Cleaning", "Asked once each time it is hired.", "none"),
        _price("transport", "Transport", "Both ways, each time it is hired.", "fetched by you"),
        _price("deposit", "Deposit", "Paid and given back.", "none"),
        Column("taxed", "Taxed", "no if sales tax is not added.", "flag", blank="yes"),
        Column(
            "width",
            "Machine width",
            "To see whether it fits through the narrowest way in.",
            "measure",
            DEPTH,
            sign="positive",
            blank="fits",
        ),
        Column("valid_until", "Valid until", "Last day of the price.", "date", blank="no end"),
        Column(
            "there_from",
            "There from",
            "The first day on which it can be had, as when a friend lends it.",
            "date",
            blank="always",
        ),
        Column(
            "there_to",
            "There until",
            "The last day on which it can be had.",
            "date",
            blank="always",
        ),
    ),
)

WORK = Sheet(
    name="Work",
    row=job.Work,
    target="work",
    purpose="How fast you work: own hours for each step, by hand or with a machine.",
    worth="When you have timed yourself. Until then documented paces are used.",
    unique=("step", "method"),
    helpers=("unit",),
    columns=(
        Column("step", "Step", "The step of work.", "choice", table="steps", required=True),
        Column("method", "Method", "By hand, with which machine.", required=True, width=20),
        Column("low", "Low", "Person-hours a unit if all goes well.", "raw"),
        Column("likely", "Likely", "Person-hours a unit, most likely.", "raw"),
        Column("high", "High", "Person-hours a unit if it goes badly.", "raw"),
        Column(
            "unit",
            "Per unit",
            "The unit those hours are for: cu yd, sq ft, 100 sq ft, ft, ton, m³, m² ...",
            "raw",
            blank="the step's usual unit",
        ),
        Column(
            "people",
            "People at once",
            "How many can work on it at once.",
            "whole",
            sign="positive",
            blank="1",
        ),
        Column(
            "equipment",
            "Equipment",
            "The machine it needs, as on Equipment.",
            names=Names("Equipment", "equipment", "warning"),
            width=20,
        ),
        Column("machine_hours", "Machine hours", "Machine hours a unit.", "raw"),
        Column(
            "reworked",
            "Share reworked",
            "Share of the work that is done twice.",
            "share",
            likely=(0.005, 0.6),
            blank="a usual share",
        ),
        Column(
            "after",
            "After",
            "Steps that must be done before this one, set apart by commas.",
            "list",
            table="steps",
            blank="the usual order of work",
            width=18,
        ),
        Column(
            "wait",
            "Wait",
            "Time after this step before what follows may start: curing, joints not walked on.",
            "measure",
            HOURS,
            blank="a documented time",
        ),
    ),
)

WEATHER = Sheet(
    name="Weather",
    row=job.Weather,
    target="weather",
    purpose="How often a day is too wet to work outside, month by month.",
    worth="When you want to know how far rain may push the finish. Leave out dry months.",
    unique=("month",),
    columns=(
        Column("month", "Month", "The month.", "choice", table="months", required=True, width=14),
        Column(
            "wet",
            "Chance of a wet day",
            "Share of its days that are too wet to work outside, such as 25 %: one in four.",
            "share",
            likely=(0.02, 0.95),
            required=True,
            width=16,
        ),
        Column("source", "Source", "Where the number comes from.", width=30),
    ),
)

CHECKLIST = Sheet(
    name="Checklist",
    row=job.ChecklistLine,
    target="checklist",
    purpose="Costs that are easily forgotten: permit, drainage, lawn repair, safety gear.",
    worth="Before you call the total complete. Answer each line once.",
    unique=("line",),
    columns=(
        Column("line", "Line", "The cost.", required=True, width=28),
        Column(
            "answer",
            "Answer",
            "priced (give the amount), not needed, in bid (name the bid), or to price.",
            "choice",
            choices=("priced", "not needed", "in bid", "to price"),
            blank="to price",
        ),
        Column("amount", "Amount", "What it costs, tax included.", "money", MONEY),
        Column(
            "bid",
            "Bid",
            "The bid it is in, as on Bids.",
            names=Names("Bids", "bid"),
            width=20,
        ),
    ),
)

SCENARIOS = Sheet(
    name="Scenarios",
    row=job.Pin,
    target="pins",
    purpose="What if? Fix some choices and let the rest be planned around them.",
    worth="When you want to see one particular plan beside the ones made for you.",
    unique=("scenario", "choice"),
    columns=(
        Column("scenario", "Scenario", "A name for it.", required=True, width=24),
        Column(
            "choice",
            "Choice",
            "bedding, part:NAME, item:NAME, goods:SUPPLIER, step:NAME, machine:NAME or disposal.",
            required=True,
            width=22,
        ),
        Column(
            "value",
            "Value",
            "What it is fixed to, such as hire, own, sand, keep, drop, haul, deliver.",
            required=True,
            width=24,
        ),
    ),
)

SHEETS = (EQUIPMENT, WORK, WEATHER, CHECKLIST, SCENARIOS)
