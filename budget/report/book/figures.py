"""Figures as cells: every input once on *Inputs*, every step once on *Workings*.

A :class:`Register` collects the figures that the sheets show, gives each its own cell and
writes its arithmetic as a formula over the cells of the figures it was made from. A figure
met again (in another plan, on another sheet) is the same cell.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from budget.figures import Figure, in_order
from budget.report.book.cells import TOP_ROWS
from budget.units import NUMBER, PACK_TOLERANCE, RATIO, Kind, System, Unit

INPUTS = "Inputs"
WORKINGS = "Workings"
#: First data row and value column of both sheets (Excel row numbers count from 1).
FIRST_ROW = TOP_ROWS + 2  # after the headings
VALUE_COLUMN = "C"

#: Half a cent, with the noise that :func:`budget.units.round_half_up` forgives.
HALF_CENT = 0.5 + 1e-6
CENTS_IN_ONE = 100

#: Sheets of the quotes workbook in their order, to sort inputs by where they were read.
_SHEETS = (
    "Job", "Areas", "Outline", "Build-up", "Extras", "Stock", "Products", "Quotes", "Suppliers",
    "Delivery", "Disposal", "Vehicles", "Equipment", "Work", "Bids", "Bid scope",
    "Checklist",
)  # fmt: skip
_ORIGINS = ("given", "default", "laid out", "solved", "constant")


#: Ratios are fractions in their cells, shown in per cent.
_FRACTION = Unit("", 1.0, 1)


def sheet_unit(kind: Kind, system: System) -> Unit:
    """The unit of a cell: as people read it, but a ratio is a fraction shown in per cent.

    >>> sheet_unit(RATIO, "metric").size
    1.0
    """
    return _FRACTION if kind.name == RATIO.name else kind.unit(system)


def unit_words(kind: Kind, system: System, currency: str) -> str:
    """What the unit column says, with the currency where it is money.

    >>> from budget.units import MASS, MONEY, per
    >>> unit_words(per(MONEY, MASS), "imperial", "USD"), unit_words(MASS, "imperial", "USD")
    ('USD per lb', 'lb')
    """
    label = sheet_unit(kind, system).label
    return f"{currency} {label}".strip() if kind.dimension[3] else label


def number_format(kind: Kind, system: System, value: float = 0.0) -> str:
    """The spreadsheet format that shows a cell of this kind, never a real amount as zero.

    >>> from budget.units import AREA
    >>> number_format(AREA, "metric"), number_format(RATIO, "metric")
    ('#,##0.00', '0.0%')
    """
    unit = sheet_unit(kind, system)
    if kind.name == RATIO.name:
        return "0.0%" if round(value, 3) == round(value, 6) else "0.00%"
    if kind.name == NUMBER.name and abs(value - round(value, 3)) < 1e-9:
        return "General"  # 12.5 packs, 3 packs
    places = unit.decimals
    shown = abs(value / unit.size)
    while shown and places < 9 and shown < 10**-places:
        places += 1
    return "#,##0." + "0" * places if places else "#,##0"


@dataclass(slots=True, eq=False)
class Entry:
    """One figure in its cell. ``block`` is what it was first needed for."""

    figure: Figure
    block: str
    args: tuple[Entry, ...] = ()
    row: int = 0
    formula: str = ""  # the arithmetic, once the register is settled

    @property
    def is_input(self) -> bool:
        """Whether it is a leaf, on the Inputs sheet."""
        return not self.figure.args

    @property
    def sheet(self) -> str:
        """The sheet its cell is on."""
        return INPUTS if self.is_input else WORKINGS

    @property
    def address(self) -> str:
        """Its cell, with the sheet, such as ``Inputs!$C$9``."""
        return f"{self.sheet}!${VALUE_COLUMN}${self.row}"


@dataclass(frozen=True, slots=True)
class Conversion:
    """A number that turns one unit into another, in a cell with a name."""

    name: str
    value: float
    words: str


@dataclass(slots=True)
class Register:
    """Every figure of the workbook, each once, and the conversions that join their units."""

    system: System
    currency: str
    _entries: dict[tuple[object, ...], Entry] = field(default_factory=dict)
    _by_id: dict[int, Entry] = field(default_factory=dict)
    _kept: list[Figure] = field(default_factory=list)
    _conversions: dict[str, Conversion] = field(default_factory=dict)
    _labels: dict[str, str] = field(default_factory=dict)
    _sizes: dict[str, float] = field(default_factory=dict)
    names: dict[int, str] = field(default_factory=dict)
    inputs: list[Entry] = field(default_factory=list)
    workings: list[Entry] = field(default_factory=list)

    def add(self, block: str, figure: Figure) -> Entry:
        """Take in a figure and everything it rests on."""
        if id(figure) not in self._by_id:
            self._kept.append(figure)  # keeps ids of its nodes in use
            for node in in_order(figure, self._by_id):
                if id(node) not in self._by_id:
                    self._by_id[id(node)] = self._take(block, node)
        return self._by_id[id(figure)]

    def _take(self, block: str, node: Figure) -> Entry:
        args = tuple(self._by_id[id(arg)] for arg in node.args)
        key = _key(node, args)
        if key not in self._entries:
            self._entries[key] = Entry(node, block, args)
            (self.workings if args else self.inputs).append(self._entries[key])
        return self._entries[key]

    def settle(self) -> None:
        """Put the inputs in order and give every figure its row; nothing is added after."""
        self.inputs.sort(key=lambda entry: (not self.name_of(entry), _input_order(entry)))
        for entries in (self.inputs, self.workings):
            for row, entry in enumerate(entries, start=FIRST_ROW):
                entry.row = row
        for entry in self.workings:
            entry.formula = self._formula(entry)  # meets every conversion

    def entry(self, figure: Figure) -> Entry:
        """The cell of a figure taken in before."""
        return self._by_id[id(figure)]

    def conversions(self) -> list[Conversion]:
        """The conversions that formulas use, by name."""
        return [self._conversions[name] for name in sorted(self._conversions)]

    def link(self, figure: Figure) -> str:
        """A formula that shows the figure, in the unit of its kind, on another sheet."""
        entry = self.entry(figure)
        factor = self._size(entry) / self.size(figure.kind)
        ours, theirs = self.unit(entry.figure.kind), self.unit(figure.kind)
        return f"={entry.address}" + self._converted(factor, (ours,), "*", theirs)

    def called(self, figure: Figure, name: str) -> None:
        """Give an input a defined name; named inputs come first."""
        self.names[id(self.entry(figure))] = name

    def name_of(self, entry: Entry) -> str:
        """The defined name of an input, or nothing."""
        return self.names.get(id(entry), "")

    def _formula(self, entry: Entry) -> str:
        """The arithmetic of a worked figure over the cells it was made from."""
        node, args = entry.figure, entry.args
        if node.op in ("product", "ratio"):
            return self._multiplied(entry)
        terms = [self._in_unit_of(node.kind, arg) for arg in args]
        match node.op:
            case "sum":
                return "=" + _added(args, terms)
            case "minus":
                return f"={terms[0]} - {terms[1]}"
            case "largest":
                return f"=MAX({', '.join(terms)})"
            case "smallest":
                return f"=MIN({', '.join(terms)})"
            case "whole":
                return f"=MAX(0, ROUNDUP({terms[0]} - pack_tolerance, 0))"
            case "cents":
                return "=" + rounded(terms[0])
            case "tier":
                return "=" + self._tier(args)
        msg = f"no formula for the operation {node.op!r}"
        raise ValueError(msg)

    def _size(self, entry: Entry) -> float:
        return self.size(entry.figure.kind)

    def size(self, kind: Kind) -> float:
        """How much of the SI unit (or how many cents) one in a cell stands for."""
        found = self._sizes.get(kind.name)
        if found is None:
            found = self._sizes[kind.name] = sheet_unit(kind, self.system).size
        return found

    def unit(self, kind: Kind) -> str:
        """What the unit column says."""
        found = self._labels.get(kind.name)
        if found is None:
            found = self._labels[kind.name] = unit_words(kind, self.system, self.currency)
        return found

    def _in_unit_of(self, kind: Kind, entry: Entry) -> str:
        factor = self._size(entry) / self.size(kind)
        ours = self.unit(entry.figure.kind)
        return _reference(entry) + self._converted(factor, (ours,), "*", self.unit(kind))

    def _multiplied(self, entry: Entry) -> str:
        sign = "*" if entry.figure.op == "product" else "/"
        sizes = [self._size(arg) for arg in entry.args]
        factor = sizes[0]
        for size in sizes[1:]:
            factor = factor * size if sign == "*" else factor / size
        factor /= self._size(entry)
        arithmetic = f" {sign} ".join(_reference(arg) for arg in entry.args)
        labels = tuple(self.unit(arg.figure.kind) for arg in entry.args)
        return f"={arithmetic}" + self._converted(
            factor, labels, sign, self.unit(entry.figure.kind)
        )

    def _converted(self, factor: float, units: tuple[str, ...], sign: str, into: str) -> str:
        if abs(factor - 1) < 1e-9:
            return ""
        joined = (" × " if sign == "*" else " ÷ ").join(unit for unit in units if unit)
        if factor < 1:
            conversion = self._conversion(
                _snapped(1 / factor), f"{joined or 'cents'} in one {into or 'piece'}"
            )
            return f" / {conversion.name}"
        conversion = self._conversion(_snapped(factor), f"{into or 'pieces'} in one {joined}")
        return f" * {conversion.name}"

    def _conversion(self, value: float, words: str) -> Conversion:
        name = _defined_name(words)
        while name in self._conversions and abs(self._conversions[name].value - value) > 1e-9:
            name += "_"
        return self._conversions.setdefault(name, Conversion(name, value, words))

    def _tier(self, args: tuple[Entry, ...]) -> str:
        tested = _reference(args[0])
        reached = [
            f"({tested} >= {self._in_unit_of(args[0].figure.kind, start)})" for start in args[3::2]
        ]
        amounts = [self._in_unit_of(args[2].figure.kind, amount) for amount in args[2::2]]
        if not reached:
            return amounts[0]
        return f"CHOOSE({' + '.join(['1', *reached])}, {', '.join(amounts)})"


def fixed_names() -> list[Conversion]:
    """The named cells that do not turn units: rounding to packs and to cents."""
    return [
        Conversion("pack_tolerance", PACK_TOLERANCE, "closer than this to whole packs counts"),
        Conversion("half_cent", HALF_CENT, "added before money is cut to whole cents"),
        Conversion("cents_in_one", CENTS_IN_ONE, "cents in one of the currency"),
    ]


def rounded(money: str) -> str:
    """The formula that rounds money to the cent, halves up, as the tool does."""
    return f"INT({money} * cents_in_one + half_cent) / cents_in_one"


def _reference(entry: Entry) -> str:
    return entry.address if entry.is_input else f"${VALUE_COLUMN}${entry.row}"


def _key(node: Figure, args: tuple[Entry, ...]) -> tuple[object, ...]:
    if args:
        return (node.op, node.kind.name, *(id(arg) for arg in args))
    known_as = node.key or f"{node.name}|{node.kind.name}"
    return (node.origin, known_as, node.kind.dimension, node.value)


def _added(args: tuple[Entry, ...], terms: list[str]) -> str:
    rows = [arg.row for arg in args]
    together = len({arg.sheet for arg in args}) == 1 and rows == list(
        range(rows[0], rows[0] + len(rows))
    )
    plain = all(term == _reference(arg) for arg, term in zip(args, terms, strict=True))
    if len(terms) > 2 and together and plain:
        return f"SUM({terms[0]}:{terms[-1].rpartition('!')[2]})"
    return f"SUM({', '.join(terms)})" if len(terms) > 3 else " + ".join(terms)


def _snapped(value: float) -> float:
    whole = round(value)
    return float(whole) if abs(value - whole) < 1e-9 * max(1.0, abs(value)) else value


def _defined_name(words: str) -> str:
    text = words.replace("²", "2").replace("³", "3").replace("%", "percent")
    text = text.replace("×", "by").replace("÷", "over")
    return "unit_" + re.sub(r"[^A-Za-z0-9]+", "_", text).strip("_")


def _input_order(entry: Entry) -> tuple[object, ...]:
    figure = entry.figure
    origin = _ORIGINS.index(figure.origin) if figure.origin in _ORIGINS else len(_ORIGINS)
    sheet, _, cell = figure.key.partition("!")
    place = _SHEETS.index(sheet) if sheet in _SHEETS else len(_SHEETS)
    column, row = _split(cell)
    return (origin, place, sheet, row, column, figure.key, figure.name, figure.value)


def _split(cell: str) -> tuple[tuple[int, str], int]:
    match = re.fullmatch(r"([A-Z]+)([0-9]+)", cell)
    if match is None:
        return (0, cell), 0
    return (len(match[1]), match[1]), int(match[2])
