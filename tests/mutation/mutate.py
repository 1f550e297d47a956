"""Small changes to a module's source, each of which a test should notice."""

from __future__ import annotations

import ast
import builtins
import copy
from collections.abc import Iterator
from dataclasses import dataclass

_COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.Mod: ast.Mult, ast.Pow: ast.Mult,
}  # fmt: skip
_NAMES = {
    "min": "max", "max": "min", "any": "all", "all": "any", "sum": "max", "ceil": "floor",
    "floor": "ceil", "largest": "smallest", "smallest": "largest", "product": "ratio",
    "minus": "total",
}  # fmt: skip
#: Of those, the ones that are changed as methods too.
_METHODS = frozenset(("min", "max", "any", "all", "ceil", "floor"))


@dataclass(frozen=True)
class Mutant:
    """One change: where, and what. ``index`` is its place among all that may be changed.

    ``at`` is the character of its line, counted from the first that is not a blank.
    """

    line: int
    at: int
    what: str
    index: int


def mutants(source: str) -> list[Mutant]:
    """Every single change of a module, in the order in which it is written."""
    tree = ast.parse(source)
    known = {*dir(builtins), *_imported(tree)}
    lines = source.encode().splitlines()
    found = []
    for index, node in enumerate(_inside_functions(tree)):
        other = copy.deepcopy(node)
        _apply(other)
        called = other.func if isinstance(other, ast.Call) else None
        if isinstance(called, ast.Name) and called.id not in known:
            continue  # an unknown name fails wherever it is run
        line = lines[node.lineno - 1]
        at = node.col_offset - (len(line) - len(line.lstrip()))
        what = f"{ast.unparse(node)}  ->  {ast.unparse(other)}"
        found.append(Mutant(node.lineno, at, what, index))
    return found


def _imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield from (name.asname or name.name for name in node.names)


def mutated(source: str, mutant: Mutant) -> ast.Module:
    """The module with one change, its lines where they were."""
    tree = ast.parse(source)
    node = _inside_functions(tree)[mutant.index]
    _apply(node)
    return ast.fix_missing_locations(tree)


def _inside_functions(tree: ast.Module) -> list[ast.expr]:
    """What may be changed: expressions in the bodies of functions, docstrings left out.

    Whether ``zip`` is strict makes no difference as long as the lengths are equal, which is what
    strict says; it is left alone.
    """
    found: dict[int, ast.expr] = {}
    strict = {
        id(word.value)
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "zip"
        for word in call.keywords
    }
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef):
            for statement in function.body:
                for node in ast.walk(statement):
                    if isinstance(node, ast.expr) and _may_change(node) and id(node) not in strict:
                        found.setdefault(id(node), node)
    return list(found.values())


def _may_change(node: ast.expr) -> bool:
    match node:
        case ast.Compare(ops=[op]) if type(op) in _COMPARE:
            return True
        case ast.BinOp(op=op) if type(op) in _ARITHMETIC and not _text(node):
            return True
        case ast.BoolOp() | ast.UnaryOp(op=ast.Not()):
            return True
        case ast.Constant(value=bool() | int() | float()):
            return True
        case ast.Call(func=ast.Name(id=name)) if name in _NAMES:
            return bool(node.args)
        case ast.Call(func=ast.Attribute(attr=name)) if name in _METHODS:
            return True
        case ast.IfExp():
            return True
    return False


def _text(node: ast.BinOp) -> bool:
    return any(
        isinstance(side, ast.JoinedStr)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def _apply(node: ast.expr) -> None:
    match node:
        case ast.Compare(ops=[op]):
            node.ops = [_COMPARE[type(op)]()]
        case ast.BinOp(op=op):
            node.op = _ARITHMETIC[type(op)]()
        case ast.BoolOp(op=ast.And()):
            node.op = ast.Or()
        case ast.BoolOp():
            node.op = ast.And()
        case ast.UnaryOp(operand=operand):
            node.op, node.operand = ast.Not(), ast.UnaryOp(ast.Not(), operand)
        case ast.Constant(value=bool() as value):
            node.value = not value
        case ast.Constant(value=(int() | float()) as value):
            node.value = value + 1
        case ast.Call(func=ast.Name(id=name) as called):
            called.id = _NAMES[name]
        case ast.Call(func=ast.Attribute(attr=name) as called):
            called.attr = _NAMES[name]
        case ast.IfExp():
            node.body, node.orelse = node.orelse, node.body
