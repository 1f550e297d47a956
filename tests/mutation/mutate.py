"""Small changes to a module's source, each of which a test should notice."""

from __future__ import annotations

import ast
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
    "min": "max", "max": "min", "any": "all", "all": "any", "sum": "len", "ceil": "floor",
    "floor": "ceil", "largest": "smallest", "smallest": "largest", "product": "ratio",
    "minus": "total",
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One change: where, what, and the whole changed source."""

    line: int
    what: str
    source: str


def mutants(source: str) -> Iterator[Mutant]:
    """Every single change of a module, in the order of its lines."""
    tree = ast.parse(source)
    for index, node in enumerate(_inside_functions(tree)):
        for variant in range(_variants(node)):
            changed = copy.deepcopy(tree)
            target = list(_inside_functions(changed))[index]
            before = ast.unparse(target)
            _apply(target, variant)
            what = f"{before}  ->  {ast.unparse(target)}"
            yield Mutant(
                getattr(node, "lineno", 0), what, ast.unparse(ast.fix_missing_locations(changed))
            )


def _inside_functions(tree: ast.Module) -> Iterator[ast.expr]:
    """What may be changed: expressions in the bodies of functions, docstrings left out."""
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef):
            for statement in function.body:
                for node in ast.walk(statement):
                    if isinstance(node, ast.expr) and _variants(node):
                        yield node


def _variants(node: ast.AST) -> int:
    match node:
        case ast.Compare(ops=[op]) if type(op) in _COMPARE:
            return 1
        case ast.BinOp(op=op) if type(op) in _ARITHMETIC and not _text(node):
            return 1
        case ast.BoolOp() | ast.UnaryOp(op=ast.Not()):
            return 1
        case ast.Constant(value=bool() | int() | float()):
            return 1
        case ast.Call(func=ast.Name(id=name)) if name in _NAMES and node.args:
            return 1
        case ast.IfExp():
            return 1
    return 0


def _text(node: ast.BinOp) -> bool:
    return any(
        isinstance(side, ast.JoinedStr)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def _apply(node: ast.expr, variant: int) -> None:
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
        case ast.IfExp():
            node.body, node.orelse = node.orelse, node.body
