"""The sheets about buying: Quotes, Suppliers, Delivery."""

from __future__ import annotations

from budget import job
from budget.units import (
    BULK_MASS,
    DISTANCE,
    MASS,
    MONEY,
)
from budget.workbook.sheets.describe import Column, Names, Sheet

#: How far lead days may stray, on Suppliers and on Bids.
LEAD_RANGE = (
    Column(
        "lead_low",
        "Lead days at least",
        "The fewest days that it may take.",
        "number",
        blank="a usual range",
    ),
    Column(
        "lead_high",
        "Lead days at most",
        "The most days that it may take if they are late.",
        "number",
        blank="a usual range",
    ),
)

QUOTES = Sheet(
    name="Quotes",
    row=job.Quote,
    target="quotes",
    purpose="Every price you were given. Several sellers and pack sizes for one item are welcome.",
    worth="Always. A price left blank means not yet priced; it never means free.",
    required=True,
    worked_out=("measure",),
    columns=(
        Column(
            "item",
            "Item",
            "What is bought. Pick a usual material, or the name of a paver, product or extra.",
            required=True,
            width=22,
        ),
        Column(
            "supplier",
            "Supplier",
            "Who sells it, as on Suppliers.",
            names=Names("Suppliers", "supplier", "warning"),
            required=True,
            width=18,
        ),
        Column(
            "price", "Price", "For one pack, before tax.", "money", MONEY, blank="not yet priced"
        ),
        Column(
            "price_low",
            "Low price",
            "If the price is a guess: the least it may be.",
            "money",
            MONEY,
        ),
        Column(
            "price_high",
            "High price",
            "If the price is a guess: the most it may be.",
            "money",
            MONEY,
        ),
        Column(
            "per",
            "Per",
            "What the price is for: each, bag, box, pallet, roll, ton, cu yd, sq ft, ft ...",
            "raw",
            blank="each",
            width=10,
        ),
        Column(
            "holds",
            "Pack holds",
            "What one bag, box, pallet or roll holds: 0.5 cu ft, 50 lb, 120 sq ft, 8 ft, "
            "or a bare number of pieces.",
            "raw",
            sign="positive",
        ),
        Column(
            "least",
            "Least",
            "The fewest packs the seller will sell.",
            "number",
            blank="no least",
        ),
        Column(
            "step",
            "Sold in steps of",
            "For loose goods: 0.5 if sold by the half ton or half yard.",
            "number",
            sign="positive",
            blank="whole packs",
        ),
        Column(
            "weight",
            "Weight per pack",
            "Weight of one pack.",
            "measure",
            MASS,
            sign="positive",
            blank="worked out where it can be",
        ),
        Column("lead_days", "Lead days", "Days from order to goods.", "number", blank="0"),
        Column("valid_until", "Valid until", "Last day of the price.", "date", blank="no end"),
        Column(
            "taxed", "Taxed", "no if sales tax is not added to this price.", "flag", blank="yes"
        ),
        Column(
            "deposit",
            "Deposit per pack",
            "Paid and given back, as for a pallet.",
            "money",
            MONEY,
            blank="none",
        ),
        Column(
            "restocking",
            "Restocking fee",
            "Share kept by the seller when goods go back.",
            "share",
            likely=(0.01, 0.6),
            blank="not known",
        ),
        Column(
            "breaks",
            "Price breaks",
            "Lower prices from a number of packs on, for every pack: 10: 4.20; 50: 3.95 means "
            "4.20 each from 10 packs and 3.95 each from 50.",
            "raw",
            blank="one price for any number",
            width=20,
        ),
        Column(
            "oversize",
            "Oversize share",
            "Bedding only: share of the lot that is stones too big for it, as a cheap heap may "
            "have. They are picked out, which takes own hours, and are missing from the bed.",
            "share",
            likely=(0.0, 0.3),
            blank="none",
        ),
        Column(
            "in_part",
            "Buy in part",
            "yes if you would buy only part of what you need here and the rest at other quotes "
            "that say yes too. Goods that differ from lot to lot, such as pavers, wall units and "
            "caps, are never parted: they come from one lot.",
            "flag",
            blank="no",
        ),
        Column("note", "Note", "Anything you want to remember.", width=24),
    ),
)

SUPPLIERS = Sheet(
    name="Suppliers",
    row=job.Supplier,
    target="suppliers",
    purpose="How far each seller is and what it asks to deliver.",
    worth="As soon as you have prices: delivery often decides which seller is cheapest.",
    unique=("supplier",),
    columns=(
        Column("supplier", "Supplier", "The seller's name.", required=True, width=18),
        Column("distance", "Distance", "One way, by road.", "measure", DISTANCE),
        Column(
            "delivery_fee",
            "Delivery fee",
            "A flat fee for each drop. Use the Delivery sheet if it is not flat.",
            "money",
            MONEY,
            blank="delivery not offered, unless on Delivery",
        ),
        Column(
            "free_above",
            "Free above",
            "Delivery costs nothing from this order value, before tax.",
            "money",
            MONEY,
            blank="never free",
        ),
        Column("least_per_drop", "Least per drop", "The least load brought.", "measure", BULK_MASS),
        Column(
            "most_per_drop",
            "Most per drop",
            "The most one truck brings.",
            "measure",
            BULK_MASS,
            sign="positive",
        ),
        Column(
            "street",
            "To the street",
            "What is asked on top to set down at the street. 0 if nothing.",
            "money",
            MONEY,
            blank="not offered",
        ),
        Column(
            "drive",
            "To the drive",
            "What is asked on top to set down on the drive. 0 if nothing.",
            "money",
            MONEY,
            blank="not offered",
        ),
        Column(
            "site",
            "To the site",
            "What is asked on top to set down beside the work. 0 if nothing.",
            "money",
            MONEY,
            blank="not offered",
        ),
        Column(
            "heaps_share",
            "Heaps share a drop",
            "yes if two loose materials may come on one truck.",
            "flag",
            blank="no",
        ),
        Column(
            "delivery_taxed",
            "Delivery taxed",
            "yes if sales tax is added to the delivery fee.",
            "flag",
            blank="no",
        ),
        Column(
            "pickup",
            "Pickup allowed",
            "no if goods cannot be fetched with your own vehicle.",
            "flag",
            blank="yes",
        ),
        Column(
            "card_surcharge",
            "Card surcharge",
            "Share added when you pay by card.",
            "share",
            likely=(0.003, 0.1),
            most=0.25,
            blank="none",
        ),
        Column("lead_days", "Lead days", "Days from order to delivery.", "number", blank="0"),
        *LEAD_RANGE,
        Column(
            "open_days",
            "Open days",
            "The weekdays on which they deliver and sell, set apart by commas; or all.",
            "list",
            table="weekdays",
            blank="Monday to Saturday",
            width=18,
        ),
        Column(
            "return_days",
            "Return days",
            "Days in which they take back what you did not use.",
            "number",
            blank="not known",
        ),
        Column("note", "Note", "Anything you want to remember.", width=24),
    ),
)

DELIVERY = Sheet(
    name="Delivery",
    row=job.DeliveryStep,
    target="delivery",
    purpose="Delivery fees that are not one flat sum: by load, pallet, weight or distance.",
    worth="When a seller's fee depends on how much, how far or how dear the order is.",
    columns=(
        Column(
            "supplier",
            "Supplier",
            "The seller, as on Suppliers.",
            names=Names("Suppliers", "supplier"),
            required=True,
            width=18,
        ),
        Column(
            "basis",
            "Basis",
            "What the fee counts: drop, load, pallet, ton (tonne), volume, "
            "mile (km), mile beyond (km beyond), order value.",
            "raw",
            required=True,
            width=14,
        ),
        Column(
            "start",
            "From",
            "The step starts here, in what the basis counts: tons, miles, money ...",
            "raw",
            blank="0",
        ),
        Column("end", "To", "The step ends here.", "raw", blank="no end"),
        Column(
            "fee",
            "Fee",
            "For each drop, load, pallet, ton (tonne), cu yd (m³) or mile (km).",
            "raw",
            required=True,
        ),
        Column(
            "applies_to",
            "Applies to",
            "bulk: loose goods. packs: bags, boxes, pallets.",
            "choice",
            choices=("bulk", "packs"),
            blank="all goods",
        ),
    ),
)

SHEETS = (QUOTES, SUPPLIERS, DELIVERY)
