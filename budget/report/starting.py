"""Beginning a quotes workbook, blank or filled with an example, and what to do next."""

from __future__ import annotations

import errno
import shlex
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from budget.units import System

if TYPE_CHECKING:
    from budget.workbook import Carried

#: The example that is meant when none is named.
FIRST_EXAMPLE = "terrace"


class UnitsError(ValueError):
    """An example asked for in units that it is not written in; ``str`` is what to show."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A workbook that was written."""

    path: Path
    units: System
    example: str
    carried: Carried | None = None

    @property
    def sentence(self) -> str:
        """What was written, and the next step."""
        name = shlex.quote(str(self.path))
        if self.carried is not None:
            return f"Wrote {self.path}, carrying on {_carried(self.carried)}.\n{_ADVICE}{name}"
        if self.example:
            return f"Wrote {self.path}, the {self.example} example.\nNext: budget compare {name}"
        return (
            f"Wrote {self.path}. Open it, read its first sheet, and fill Job, Areas and Quotes.\n"
            f"Next: budget check {name}"
        )


#: What to do with a workbook that carries on from another.
_ADVICE = "Fill Areas and Quotes; rents and fees may have changed.\nNext: budget check "


def _carried(carried: Carried) -> str:
    rows = [f"{count} rows of {name}" for name, count in carried.counts if count]
    words = ", ".join(rows) or "no rows: none of its sheets had any that can be"
    if carried.left_out:
        words += f" (left out, without a value: {', '.join(carried.left_out)})"
    return words


def begin_from(path: Path, earlier: Path, force: bool) -> Begun:
    """Write a quotes workbook that carries on sellers, vehicles, machines, products and paces.

    Raises ``FileNotFoundError`` when its folder is not there, ``FileExistsError`` when there is one
    already, and :class:`budget.workbook.WorkbookError` if the earlier one cannot be read.
    """
    from budget.workbook import carry_over

    path = _settled(path)
    if force and path.exists() and earlier.exists() and path.samefile(earlier):
        raise FileExistsError(f"{path} is the earlier workbook itself; name a new one")
    carried = carry_over(earlier, path, force)
    return Begun(path, carried.system, "", carried)


def _settled(path: Path) -> Path:
    """The path with its ending. Raises ``FileNotFoundError`` when its folder is not there."""
    if path.suffix.casefold() != ".xlsx":
        path = path.with_name(path.name + ".xlsx")
    if not path.parent.is_dir():
        raise FileNotFoundError(errno.ENOENT, "there is no such folder", str(path.parent))
    return path


def begin(path: Path, units: System | None, example: str | None, force: bool) -> Begun:
    """Write a quotes workbook. ``example`` None is a blank one, an empty name the first example.

    Raises ``FileNotFoundError`` when its folder is not there, ``FileExistsError`` when there is
    one already and ``force`` is not given,
    :class:`budget.spend.finding.UnknownNameError` for an example that does not exist, and
    :class:`UnitsError` for one that is written in other units.
    """
    from budget.workbook import write_blank

    name = "" if example is None else _example(example or FIRST_EXAMPLE)
    system = _units(name, units or "imperial")
    if units and units != system:
        msg = f"The {name} example is written in {system} units; leave --units out."
        raise UnitsError(msg)
    path = _settled(path)
    write_blank(path, system, example=name, force=force)
    return Begun(path, system, name)


def _units(name: str, units: System) -> System:
    from budget.workbook.example_jobs import system_of
    from budget.workbook.sheets.tabs import JOB

    return system_of(name, JOB, units) if name else units


def _example(name: str) -> str:
    from budget.spend.finding import UnknownNameError, folded
    from budget.workbook.example_jobs import names

    for example in names():
        if folded(example) == folded(name):
            return example
    raise UnknownNameError("example", name, names())
