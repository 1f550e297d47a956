"""Machines: rent, borrow or buy, and what each way costs for the spells it is wanted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from budget.figures import Figure, cents, constant, largest, minus, product, ratio, total
from budget.job import Equipment, Job
from budget.prices.defaults import Notes, if_filled, unique
from budget.prices.options import Machine, Term
from budget.prices.sums import added, times
from budget.prices.tax import NOTHING, UNTAXED, applies, tax_on
from budget.prices.terms import rent
from budget.units import COUNT, HOURS, MONEY, RATIO, per


def machines(job: Job, tax: Figure, notes: Notes) -> Mapping[str, tuple[Machine, ...]]:
    """Every way to have each machine, by machine.

    A rent without any term, or a machine to buy without a price, is not yet priced: it is
    warned about and not offered. Borrowing costs what the favour is said to cost, else nothing.
    """
    found: dict[str, list[Machine]] = {}
    taken: dict[str, set[str]] = {}
    names: dict[str, str] = {}
    for row in sorted(job.equipment, key=_order):
        name = names.setdefault(row.equipment.casefold(), row.equipment)
        if _priced(row, notes):
            key = unique(_key(row), taken.setdefault(name, set()))
            found.setdefault(name, []).append(_machine(job, row, name, key, tax, notes))
    return {name: tuple(ways) for name, ways in sorted(found.items())}


def _order(row: Equipment) -> tuple[str, str, str, str, int]:
    ways = ("rent", "borrow", "buy")
    return (row.equipment.casefold(), row.equipment, str(ways.index(row.way)), row.source,
            row.place.row)  # fmt: skip


def _key(row: Equipment) -> str:
    join = {"rent": "from", "borrow": "from", "buy": "at"}[row.way]
    return f"{row.way} {join} {row.source}" if row.source else row.way


def _priced(row: Equipment, notes: Notes) -> bool:
    rents = (row.half_day, row.day, row.weekend, row.week, row.month)
    if row.way == "rent" and all(term is None for term in rents):
        field, expected = "day", "the rent for 4 hours, a day, a weekend or a week"
    elif row.way == "buy" and row.price is None:
        field, expected = "price", "the price to buy it"
    else:
        return True
    where = f" from {row.source}" if row.source else ""
    notes.warn(
        row, field, "not-priced", "", expected,
        f"Until it is filled, {row.equipment}{where} is not counted.",
    )  # fmt: skip
    return False


def _machine(job: Job, row: Equipment, name: str, key: str, tax: Figure, notes: Notes) -> Machine:
    once, taxed = _once(row)
    width = job.settings.way_in_width
    return Machine(
        key=key,
        equipment=name,
        way=row.way,
        source=row.source,
        terms=tuple(_terms(row, notes)) if row.way == "rent" else (),
        once=once,
        once_taxed=taxed,
        per_spell=_per_spell(row),
        waiver=if_filled(row, "waiver", RATIO, "damage waiver") if row.way == "rent" else None,
        fuel=if_filled(row, "fuel", per(MONEY, HOURS), "fuel per machine hour"),
        deposit=if_filled(row, "deposit", MONEY, "refundable deposit"),
        hours_a_day=_hours_a_day(row, notes),
        tax=applies(job.settings, tax, row.taxed),
        fits=row.width is None or width is None or row.width <= width + 1e-9,
        cell=row.cell("price" if row.way == "buy" else "day"),
        there_from=row.there_from,
        there_to=row.there_to,
    )


def _once(row: Equipment) -> tuple[Figure, Figure]:
    """Cents once, before tax, and the part of it that is taxed."""
    if row.way == "buy":
        price = row.figure("price", MONEY, f"price of {row.equipment}")
        if row.resale is None:
            return price, price
        resale = row.figure("resale", MONEY, f"resale of {row.equipment}")
        return minus("price less resale", price, resale), price
    if row.way == "borrow" and row.favour is not None:
        return row.figure("favour", MONEY, "what the favour costs"), NOTHING
    return NOTHING, NOTHING


def _per_spell(row: Equipment) -> Figure:
    fields = (("cleaning", "cleaning"), ("transport", "transport both ways"))
    return added("each time it is had", [if_filled(row, f, MONEY, w) for f, w in fields], MONEY)


def _hours_a_day(row: Equipment, notes: Notes) -> Figure:
    if row.hours_a_day is not None:
        return row.figure("hours_a_day", HOURS, "machine hours a hire day covers")
    return notes.default("hire hours a day", "Equipment")


def _terms(row: Equipment, notes: Notes) -> Iterator[Term]:
    """The shop's terms with the days of use each covers."""
    if row.half_day is not None:
        yield Term("4 hours", row.figure("half_day", MONEY, "4 hours' rent"), 0.5)
    if row.day is not None:
        yield Term("day", row.figure("day", MONEY, "a day's rent"), 1)
    if row.weekend is not None:
        days = _days(row.weekend_days, "hire weekend days", notes)
        yield Term("weekend", row.figure("weekend", MONEY, "a weekend's rent"), days)
    if row.week is not None:
        days = _days(row.days_a_week, "hire days a week", notes)
        yield Term("week", row.figure("week", MONEY, "a week's rent"), days)
    if row.month is not None:
        four_weeks = 4 * row.days_a_week if row.days_a_week else None
        days = _days(four_weeks, "hire month days", notes)
        yield Term("4 weeks", row.figure("month", MONEY, "four weeks' rent"), days)


def _days(given: float | None, name: str, notes: Notes) -> float:
    return notes.default(name, "Equipment").value if given is None else given


def hire_cost(machine: Machine, spells: Sequence[Figure], hours: Figure) -> Figure:
    """What one way to have a machine costs, tax included [cents].

    :param spells: days of use of each spell that it is had for [days]; a machine kept through
        is one spell, a machine had again is another.
    :param hours: machine hours in all [h], for fuel and for hours over what the days cover.

    Rent by spell at the cheapest mix of terms, with the waiver; hours over the meter at the
    day's rent over the hours of a day; cleaning and transport each spell; fuel; what is bought
    less its resale, or a favour, once. Tax on the money line, where taxed, but not on fuel,
    on a favour or off the resale. Nothing if there are no spells.

    Source of the over-time rule: rental terms read, "day rate / 8 per hour" beyond the meter.
    """
    if not spells:
        return NOTHING
    number = constant(len(spells), COUNT, "times it is had")
    rents = [rent(machine.terms, days) for days in spells] if machine.terms else []
    parts = [*rents, _overtime(machine, spells, hours)]
    if rents and machine.waiver is not None:
        base = added("rent of all spells", rents, MONEY)
        parts.append(product("damage waiver", MONEY, base, machine.waiver))
    if machine.per_spell.value:
        parts.append(times("cleaning and transport", MONEY, number, machine.per_spell))
    fuel = None if machine.fuel is None else product("fuel", MONEY, hours, machine.fuel)
    untaxed = [fuel, machine.once if machine.once.value else None]
    price = added(f"{machine.equipment} before tax", [*parts, *untaxed], MONEY)
    return _taxed(machine, price, added("part that is taxed", parts, MONEY))


def _taxed(machine: Machine, price: Figure, parts: Figure) -> Figure:
    rounded = cents(f"{machine.equipment} before tax, in cents", price)
    if machine.tax is UNTAXED:
        return rounded.called(machine.equipment)
    once = machine.once_taxed if machine.once_taxed.value else None
    base = added("what is taxed", [parts, once], MONEY)
    return total(machine.equipment, [rounded, tax_on(base, machine.tax)])


def _overtime(machine: Machine, spells: Sequence[Figure], hours: Figure) -> Figure | None:
    """Cents for machine hours beyond what the days out cover, None if the shop has no day."""
    day = next((term for term in machine.terms if term.name == "day"), None)
    if day is None:
        return None
    days = added("days out", spells, spells[0].kind)
    covered = product("hours on the meter covered", HOURS, days, machine.hours_a_day)
    over = minus("hours over", hours, covered)
    if over.value <= 1e-9:
        return None
    charged = largest("hours over, if any", over, constant(0.0, HOURS, "none"))
    hour = ratio("an hour over", per(MONEY, HOURS), day.price, machine.hours_a_day)
    return product("hours over the meter", MONEY, charged, hour)
