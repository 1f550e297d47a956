"""Stock that pieces are cut from: its lengths, true sections, weight and lowest quoted price."""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures import Figure, constant, minus, product
from budget.job import CutPiece, Job, Product
from budget.quantities.formulas import lumber
from budget.quantities.formulas.paving import PIECE_MASS
from budget.reference import coefficient
from budget.units import DEPTH, LENGTH, NUMBER, SMALL_AREA, System

#: The kinds of product that pieces are cut from, and the coefficients of each.
KINDS = {"timber": "timber", "steel section": "steel"}


@dataclass(frozen=True, slots=True)
class Stock:
    """One length of one stock."""

    product: Product
    length: float  # m
    section: tuple[Figure, Figure] | None  # true thickness and width [m]
    price: float | None  # cents, the lowest quoted for one
    system: System = "metric"

    @property
    def item(self) -> str:
        """Its name, as on Quotes."""
        return self.product.item

    def straight(self) -> str:
        """What to buy, and what its name says of its true size (common practice)."""
        sides = " by ".join(side.words(self.system) for side in self.section or ())
        if self.product.kind != "timber":
            return f"straight ones. Steel is true to its name{f': {sides}' if sides else ''}."
        dressed = lumber.nominal_of(self.product.size)
        true = f" Dressed, a {dressed} truly measures {sides}." if dressed and sides else ""
        return f"straight, dry pieces.{true}"

    def length_figure(self) -> Figure:
        """Stock length."""
        return self.product.figure("length", LENGTH, f"length of one {self.item}")

    def material(self, what: str) -> Figure:
        """A coefficient of its material, such as ``density``."""
        return coefficient(f"{what} {KINDS[self.product.kind]}").figure()

    def weight(self) -> Figure | None:
        """Weight of one length [kg], None where its section is not known."""
        words = f"weight of one {self.item}"
        if self.product.weight:
            return self.product.figure("weight", PIECE_MASS, words)
        area = self._area()
        if area is None:
            return None
        return product(words, PIECE_MASS, area, self.length_figure(), self.material("density"))

    def _area(self) -> Figure | None:
        if self.section is None:
            return None
        full = product("section", SMALL_AREA, *self.section)
        if not self.product.wall:
            return full
        wall = self.product.figure("wall", DEPTH, "wall of the tube")
        clear = [_less_walls(side, wall) for side in self.section]
        return minus("section less its hollow", full, product("hollow", SMALL_AREA, *clear))

    def inertia(self, on_edge: bool) -> Figure | None:
        """Moment of inertia as it lies [m⁴]."""
        if self.section is None:
            return None
        small, large = sorted(self.section, key=lambda side: side.value)
        base, height = (small, large) if on_edge else (large, small)
        if not self.product.wall:
            return lumber.inertia(base, height)
        nominal = self.product.figure("wall", DEPTH, "wall of the tube")
        wall = product("wall reckoned with", DEPTH, nominal, coefficient("design wall").figure())
        return lumber.tube_inertia(base, height, wall)


def _less_walls(side: Figure, wall: Figure) -> Figure:
    two = constant(2, NUMBER, "both walls")
    return minus("clear width", side, product("both walls", DEPTH, two, wall))


def all_stock(job: Job) -> list[Stock]:
    """Every stock of a known length, by length and name."""
    found = [
        Stock(p, p.length, lumber.section(p), _lowest(p, job), job.settings.units)
        for p in job.products
        if p.kind in KINDS and p.length
    ]
    return sorted(found, key=lambda s: (s.length, s.item))


def stock_of(name: str, every: list[Stock]) -> list[Stock]:
    """The stock of one name, or every length of one size."""
    named = [s for s in every if s.item.casefold() == name.casefold()]
    size = lumber.nominal_of(name) or name.casefold()
    return named or [
        s for s in every if (lumber.nominal_of(s.product.size) or s.product.size.casefold()) == size
    ]


def _lowest(stock: Product, job: Job) -> float | None:
    """Lowest quoted price of one length [cents]; it only weighs one length against another."""
    prices = []
    for quote in job.quotes:
        if quote.item.casefold() != stock.item.casefold() or quote.price is None:
            continue
        if quote.measure == "count":
            prices.append(quote.price / quote.holds)
        elif quote.measure == "length" and stock.length:
            prices.append(quote.price / quote.holds * stock.length)
    return min(prices, default=None)


def true_section(row: CutPiece, stock: Stock) -> tuple[Figure, Figure] | None:
    """True thickness and width of a piece: a strip is as wide as it is ripped [m]."""
    if stock.section is None or row.width is None:
        return stock.section
    return stock.section[0], row.figure("width", DEPTH, f"width of {row.name}")
