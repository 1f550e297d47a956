"""The sheets about layers and things: Build-up, Extras, Products, Stock."""

from __future__ import annotations

from budget import job
from budget.units import DENSITY, DEPTH, HOURS, LENGTH, MASS
from budget.workbook.sheets.describe import Column, Sheet
from budget.workbook.sheets.plan import KEEP, PART, WORTH

BUILD_UP = Sheet(
    name="Build-up",
    row=job.BuildUp,
    target="build_ups",
    purpose="What lies below and around the pavers: base, bedding, edge, joints.",
    worth="When your layers differ from the documented usual ones, or differ between parts.",
    unique=("name",),
    columns=(
        Column("name", "Build-up", "A name, used on Areas.", required=True, width=16),
        Column("base_item", "Base item", "The base material.", blank="Base stone", width=18),
        Column(
            "base_depth",
            "Base depth",
            "Depth of the base when compacted.",
            "measure",
            DEPTH,
            sign="positive",
            blank="a published least depth",
        ),
        Column(
            "bedding",
            "Bedding",
            "The layer the pavers are set in. Blank compares every bedding that has a quote.",
            "choice",
            choices=("sand", "small gravel", "screenings", "pea gravel"),
            blank="each one quoted",
            width=14,
        ),
        Column(
            "bedding_depth",
            "Bedding depth",
            "Depth of the bedding.",
            "measure",
            DEPTH,
            sign="positive",
            blank="the usual one of the bedding",
        ),
        Column(
            "joint_filler",
            "Joint filler",
            "What fills the joints. Bedding and filler are checked as a pair.",
            "choice",
            choices=("joint sand", "polymeric sand", "joint gravel"),
            blank="the usual one of the bedding",
            width=16,
        ),
        Column(
            "geotextile",
            "Geotextile",
            "yes lays a separation fabric below the base.",
            "flag",
            blank="only where the ground asks for it",
        ),
        Column(
            "restraint",
            "Edge restraint",
            "What holds the open edges.",
            "choice",
            choices=("edging", "concrete haunch", "none"),
            blank="edging",
            width=16,
        ),
        Column(
            "overrun",
            "Base overrun",
            "How far the base runs past an open edge.",
            "measure",
            DEPTH,
            blank="a published distance",
        ),
        Column(
            "spike_spacing",
            "Spike spacing",
            "Distance between edging spikes.",
            "measure",
            DEPTH,
            sign="positive",
            blank="a usual distance",
        ),
        Column(
            "turned_up",
            "Geotextile turned up",
            "How far geotextile goes up the sides of the dig, so that soil does not creep in.",
            "measure",
            DEPTH,
            blank="it lies flat",
        ),
    ),
)

EXTRAS = Sheet(
    name="Extras",
    row=job.Extra,
    target="extras",
    purpose="Counted things that are not paving: a fire bowl kit, a bench, a lamp.",
    worth="When something is bought by the piece and belongs to the job.",
    columns=(
        PART,
        Column("item", "Item", "Its name, as on Quotes.", required=True, width=22),
        Column("quantity", "Quantity", "How many.", "number", required=True, sign="positive"),
        Column(
            "hours_each",
            "Hours each",
            "Own hours to build or place one, of everybody at it together.",
            "measure",
            HOURS,
            blank="none",
        ),
        KEEP,
        WORTH,
    ),
)

PRODUCTS = Sheet(
    name="Products",
    row=job.Product,
    target="products",
    purpose="True sizes and weights of the pavers and other products you mean to use.",
    worth="As soon as you have chosen a paver: its true size decides how many you need.",
    unique=("item",),
    columns=(
        Column("item", "Item", "Its name, as on Areas and Quotes.", required=True, width=22),
        Column(
            "kind",
            "Kind",
            "What it is: paver, base, bedding sand, edging and so on.",
            "choice",
            table="product_kinds",
            required=True,
            width=16,
        ),
        Column("length", "Length", "True length of one piece.", "measure", DEPTH, sign="positive"),
        Column("width", "Width", "True width of one piece.", "measure", DEPTH, sign="positive"),
        Column(
            "height",
            "Height",
            "True thickness of one piece.",
            "measure",
            DEPTH,
            sign="positive",
        ),
        Column("joint", "Joint", "Width of the joint between pieces.", "measure", DEPTH),
        Column(
            "density",
            "Loose density",
            "Weight by volume as sold, loose.",
            "measure",
            DENSITY,
            sign="positive",
            blank="a published one of its kind",
        ),
        Column(
            "weight",
            "Weight each",
            "Weight of one piece.",
            "measure",
            MASS,
            sign="positive",
            blank="worked out from size and kind",
        ),
        Column(
            "holds",
            "Piece or roll",
            "Edging: length of one piece, such as 8 ft. Geotextile: area of one roll, such as "
            "300 sq ft. Adhesive: content of a tube, such as 48.7 cu in.",
            "raw",
            sign="positive",
        ),
        Column(
            "roll_width",
            "Roll width",
            "Geotextile: width of the roll.",
            "measure",
            LENGTH,
            sign="positive",
        ),
        Column(
            "mix",
            "Mixed set",
            "For pavers of several sizes laid together: the name of the set. Areas names the set "
            "as its paver.",
            width=14,
        ),
        Column(
            "share",
            "Share of the set",
            "How much of the set's area is this size, such as 40 %.",
            "share",
            likely=(0.02, 0.98),
            blank="as much as each other size",
        ),
        Column(
            "material",
            "Material",
            "Paver, wall unit or cap: what it is made of. soft stone is sandstone or limestone, "
            "hard stone granite or basalt. It sets the weight where none is given, and how fast "
            "a blade wears.",
            "choice",
            choices=("concrete", "clay", "soft stone", "hard stone", "porcelain"),
            blank="concrete",
            width=14,
        ),
        Column("per_band", "Pieces a band", "Pavers in one strapped band.", "whole"),
        Column("per_layer", "Pieces a layer", "Pavers in one layer of a pallet.", "whole"),
        Column("per_pallet", "Pieces a pallet", "Pavers on a full pallet.", "whole"),
        Column(
            "spikes",
            "Spikes in a kit",
            "Edging: how many spikes come with one piece. Only those missing are bought.",
            "whole",
            blank="none",
        ),
        Column(
            "allows",
            "Maker allows",
            "Bedding that the maker's own sheet allows although notes advise against it.",
            "choice",
            choices=("sand", "small gravel", "screenings", "pea gravel"),
            width=14,
        ),
        Column(
            "if_short",
            "If it runs short",
            "more of the same: bought again any day. another lot: bought again, but its colour may "
            "differ. no more: it cannot be had again, as salvaged or discontinued pieces.",
            "choice",
            choices=("more of the same", "another lot", "no more"),
            blank="another lot for pavers, wall units and caps",
            width=16,
        ),
        Column(
            "back_width",
            "Back length",
            "Wall unit: its length at the back, if it is shorter there.",
            "measure",
            DEPTH,
            sign="positive",
            blank="as at the face",
        ),
        Column(
            "size",
            "Size",
            "Timber: its size as sold, such as 2x4; the true size is looked up.",
            blank="by width and height",
        ),
        Column(
            "wall",
            "Wall thickness",
            "Tube: thickness of its wall.",
            "measure",
            DEPTH,
            sign="positive",
            blank="solid",
        ),
    ),
)

STOCK = Sheet(
    name="Stock",
    row=job.Stock,
    target="stock",
    purpose="Pieces you own or have salvaged. They are counted off what must be bought.",
    worth="When you have pavers, bricks or kits lying about that will be used.",
    unique=("item",),
    columns=(
        Column(
            "item", "Item", "Its name, as on Areas, Products or Extras.", required=True, width=22
        ),
        Column("count", "Count", "How many pieces.", "number", required=True),
        Column(
            "usable",
            "Usable share",
            "The share that is sound, such as 90 %.",
            "share",
            likely=(0.05, 1.0),
            blank="100 %",
        ),
        Column(
            "cleaning",
            "Cleaning each",
            "Own time to clean one piece, such as 2 min.",
            "measure",
            HOURS,
            blank="a usual time",
        ),
    ),
)

SHEETS = (BUILD_UP, EXTRAS, PRODUCTS, STOCK)
