"""The exit status of every end that a command may come to, and the sentence for what went wrong."""

from __future__ import annotations

import errno

#: What to do about a file that may not be read or written.
_WHERE_ELSE = (
    "If it is open in another program, close it there; else choose a folder you may write in. "
)

FINE, PROBLEMS, WRONG_USE, FILE_TROUBLE, OUR_FAULT, INTERRUPTED = 0, 1, 2, 3, 70, 130


def verdict(error: Exception) -> tuple[int, str]:
    """The exit status and the sentence for what went wrong."""
    from budget.decide.pins import UnknownPin
    from budget.decide.programme.search import NothingFoundError
    from budget.report.pinned import PinError
    from budget.report.starting import UnitsError
    from budget.spend import (
        BaselineError,
        NoPlanError,
        StatementError,
        TwiceError,
        UnknownNameError,
    )
    from budget.workbook import WorkbookError
    from budget.workbook.changes import ChangeError

    match error:
        case UnknownNameError() | PinError() | UnitsError() | TwiceError() | ChangeError():
            return WRONG_USE, str(error)
        case UnknownPin():
            return WRONG_USE, _sentence(str(error))
        case NoPlanError():
            return PROBLEMS, str(error)
        case NothingFoundError():
            return PROBLEMS, f"{str(error).capitalize()}. Give it more time with --limit."
        case WorkbookError() | BaselineError() | StatementError():
            return FILE_TROUBLE, str(error)
        case FileExistsError():
            return FILE_TROUBLE, f"{error}. --force overwrites it."
        case OSError():
            where = f"{error.filename}: " if error.filename else ""
            closed = isinstance(error, PermissionError) or error.errno == errno.EROFS
            hint = _WHERE_ELSE if closed else ""
            return FILE_TROUBLE, f"{where}{error.strerror or error}. {hint}Nothing was changed."
    name = type(error).__name__
    return OUR_FAULT, (
        f"This is a fault in the program, not in your workbook ({name}: {error}). "
        "Run again with --debug to see where, and report it."
    )


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith("?") else ".")
