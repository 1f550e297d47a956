"""The questions of one workbook: who is asked, for what, and what was written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

Kind = Literal["seller", "rental", "hired"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """One row to be priced."""

    what: str
    amount: float | None
    unit: str
    remarks: str = ""
    so_far: str = ""  # what this seller has said already


@dataclass(frozen=True, slots=True)
class Question:
    """One question, what it is for, and the answer that is noted already."""

    text: str
    if_not: str
    noted: str


@dataclass(frozen=True, slots=True)
class Letter:
    """One sheet: who is asked, what is to be priced, and the questions."""

    name: str
    kind: Kind
    goods: tuple[Wanted, ...]
    questions: tuple[Question, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """The workbook of questions that was written."""

    path: Path
    letters: tuple[Letter, ...]

    @property
    def sentence(self) -> str:
        """What was written, and what to do with it."""
        sheets = "1 sheet" if len(self.letters) == 1 else f"{len(self.letters)} sheets"
        return (
            f"Wrote {self.path} with {sheets} of questions to print or send.\n"
            "Type the answers into your quotes workbook."
        )
