"""The quotes workbook: one description per sheet, reading with all problems, the blank one."""

from budget.workbook.carry import Carried, carry_over
from budget.workbook.problems import WorkbookError
from budget.workbook.reading import Reading, read
from budget.workbook.template.template import write_blank

__all__ = ["Carried", "Reading", "WorkbookError", "carry_over", "read", "write_blank"]
