"""The sheets about moving: Disposal and Vehicles."""

from __future__ import annotations

from budget import job
from budget.units import BULK_MASS, DISTANCE, HOURS, MASS, MONEY, VOLUME, per
from budget.workbook.sheets.describe import Column, Names, Sheet

DISPOSAL = Sheet(
    name="Disposal",
    row=job.Disposal,
    target="disposal",
    purpose="Where the dug-out soil goes, and what that costs.",
    worth="When more is dug than a flower bed can take. Soil swells by a quarter or more.",
    unique=("way",),
    columns=(
        Column("way", "Way", "A name for it.", required=True, width=22),
        Column(
            "kind",
            "Kind",
            "keep on the plot, give away, a box (skip) or tipper by the load, own trips.",
            "choice",
            choices=("keep", "give away", "box", "tipper", "own trips"),
            blank="box",
        ),
        Column("price", "Price per load", "For one load.", "money", MONEY, blank="not yet priced"),
        Column(
            "volume",
            "Volume per load",
            "The most loose soil one load may hold.",
            "measure",
            VOLUME,
            sign="positive",
        ),
        Column(
            "weight",
            "Weight included",
            "The weight of one load that the price covers.",
            "measure",
            BULK_MASS,
            sign="positive",
        ),
        Column(
            "over_price",
            "Over-weight price",
            "For weight beyond what is included.",
            "money",
            per(MONEY, BULK_MASS),
        ),
        Column(
            "permit", "Permit", "Once, if it stands in the street.", "money", MONEY, blank="none"
        ),
        Column(
            "hours",
            "Own hours",
            "Own hours for loose soil, beyond moving it to the heap.",
            "measure",
            per(HOURS, VOLUME),
            blank="none",
        ),
        Column(
            "vehicle",
            "Vehicle",
            "For own trips: the vehicle, as on Vehicles.",
            names=Names("Vehicles", "vehicle"),
            width=18,
        ),
    ),
)

VEHICLES = Sheet(
    name="Vehicles",
    row=job.Vehicle,
    target="vehicles",
    purpose="What you could fetch goods with, and what it may carry.",
    worth="When you could fetch some goods. Weights stand on the door frame and the hitch.",
    unique=("vehicle",),
    columns=(
        Column("vehicle", "Vehicle", "A name for it.", required=True, width=18),
        Column(
            "payload",
            "Payload",
            "The most it may carry, people and goods together.",
            "measure",
            MASS,
            sign="positive",
        ),
        Column(
            "people",
            "People aboard",
            "Weight of the people who ride along.",
            "measure",
            MASS,
            blank="one person",
        ),
        Column("tow_limit", "Tow limit", "The most it may pull.", "measure", MASS),
        Column("trailer_empty", "Trailer empty", "Weight of the empty trailer.", "measure", MASS),
        Column(
            "trailer_gross",
            "Trailer gross",
            "The most the trailer may weigh, loaded.",
            "measure",
            MASS,
            sign="positive",
        ),
        Column(
            "tongue",
            "Tongue share",
            "Share of the loaded trailer's weight that rests on the hitch.",
            "share",
            likely=(0.03, 0.3),
            most=0.5,
            blank="a published share",
        ),
        Column(
            "bed_volume",
            "Bed volume",
            "What the bed or trailer holds, level full.",
            "measure",
            VOLUME,
            sign="positive",
        ),
        Column(
            "cost_per_distance",
            "Running cost",
            "Fuel and wear.",
            "money",
            per(MONEY, DISTANCE),
            blank="a published rate",
        ),
        Column(
            "hire_per_day",
            "Hire per day",
            "If it is hired. One day may serve several sellers; days to the tip are counted apart.",
            "money",
            MONEY,
            blank="own, no hire",
        ),
        Column(
            "load_rate",
            "Loading",
            "Person-hours to load a ton (tonne).",
            "measure",
            per(HOURS, BULK_MASS),
            blank="a published pace",
        ),
        Column(
            "unload_rate",
            "Unloading",
            "Person-hours to unload a ton (tonne).",
            "measure",
            per(HOURS, BULK_MASS),
            blank="a published pace",
        ),
    ),
)

SHEETS = (DISPOSAL, VEHICLES)
