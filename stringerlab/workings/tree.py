"""What a formula's body may hold, read from its syntax tree, and what its local names come to.

A body is assignments of new single names and one return, over arithmetic, comparisons joined by
``&`` and ``|``, numbers, the formula's arguments, and the functions of ``workings.maths``.
"""

import ast
import dis
import inspect
import operator
import textwrap
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import FunctionType
from typing import Any

from stringerlab.workings import maths

FUNCTIONS: dict[str, Callable[..., Any]] = {
    name: getattr(maths, name)
    for name in (
        "sqrt",
        "cbrt",
        "exp",
        "log",
        "sin",
        "cos",
        "tan",
        "tanh",
        "absolute",
        "minimum",
        "maximum",
        "clip",
        "where",
    )
}
_BINARY: dict[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: lambda left, right: left / right,
    ast.Pow: lambda left, right: left**right,
    ast.BitAnd: lambda left, right: left & right,
    ast.BitOr: lambda left, right: left | right,
}
_COMPARED: dict[type[ast.cmpop], Callable[[Any, Any], Any]] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
    ast.Eq: operator.eq,
    ast.NotEq: operator.ne,
}
_BRANCHES = frozenset(dis.hasjrel) | frozenset(dis.hasjabs)
_MANY = inspect.CO_VARARGS | inspect.CO_VARKEYWORDS


@dataclass(frozen=True, slots=True)
class Body:
    """A formula's body: what it assigns, in order, and what it returns."""

    name: str
    assigned: tuple[tuple[str, ast.expr], ...]
    returned: ast.expr
    constants: Mapping[str, float]
    """Numbers of the module that the body names, such as ``pi``."""

    def local_values(self, inputs: Mapping[str, Any]) -> dict[str, Any]:
        """Return what each assigned name comes to, for inputs in the clause's units."""
        known = {**self.constants, **inputs}
        for name, node in self.assigned:
            known[name] = _value(node, known)
        return {name: known[name] for name, _ in self.assigned}


def refuse_at_once(function: FunctionType) -> None:
    """Refuse, without reading the source, what shows in the compiled function: it is cheap enough for import.

    Raises
    ------
    TypeError
        When the function branches or loops, takes ``*args``, reaches outside itself for more than a
        number, or calls anything but the functions of ``workings.maths``.
    """
    code = function.__code__
    if code.co_flags & _MANY:
        raise TypeError(
            f"{code.co_name}: a formula names each of its arguments; it takes no *args or **named"
        )
    if code.co_posonlyargcount:
        raise TypeError(f"{code.co_name}: a formula's arguments may all be given by name")
    if code.co_freevars:
        raise TypeError(
            f"{code.co_name}: a formula takes {', '.join(code.co_freevars)} as an argument or not at all"
        )
    if not _BRANCHES.isdisjoint(code.co_code[::2]):
        read(function)
        raise TypeError(f"{code.co_name}: a formula holds no branch or loop; write where(condition, yes, no)")
    for name in code.co_names:
        _outside_name(function, name)


def read(function: FunctionType) -> Body:
    """Return the body of a formula's function.

    Raises
    ------
    TypeError
        When it holds what no formula may; the message names it.
    """
    node = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    if not isinstance(node, ast.FunctionDef):
        raise TypeError(f"{function.__name__}: a formula is an ordinary function, written with def")
    arguments = {
        argument.arg for argument in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    }
    assigned: list[tuple[str, ast.expr]] = []
    taken = set(arguments)
    for statement in node.body:
        match statement:
            case ast.Expr(value=ast.Constant(value=str())):
                continue
            case ast.Assign(targets=[ast.Name(id=name)], value=value):
                if name in taken:
                    raise TypeError(
                        f"{node.name}: '{name}' already has a meaning; give the new value a new name"
                    )
                taken.add(name)
                assigned.append((name, value))
            case ast.Return(value=ast.expr() as value):
                constants: dict[str, float] = {}
                for expression in (*(value for _, value in assigned), value):
                    constants |= _checked(expression, taken, function)
                return Body(node.name, tuple(assigned), value, constants)
            case _:
                raise TypeError(
                    f"{node.name}: {_refused(statement)}; it holds only assignments and one return"
                )
    raise TypeError(f"{node.name}: a formula must return its result")


def _refused(statement: ast.stmt) -> str:
    match statement:
        case ast.If():
            return "a formula holds no 'if' (write where(condition, yes, no))"
        case ast.For() | ast.While():
            return "a formula holds no loop"
        case _:
            return f"a formula does not hold '{ast.unparse(statement).splitlines()[0]}'"


def _outside_name(function: FunctionType, name: str) -> float | None:
    """Return the number an outside name stands for, None for a function a formula may call."""
    value = function.__globals__.get(name)
    if name in FUNCTIONS and value is FUNCTIONS[name]:
        return None
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    raise TypeError(
        f"{function.__name__}: '{name}' is neither a number nor a function of stringerlab.workings.maths; "
        "a formula calls no other function, and no formula"
    )


def _checked(node: ast.expr, known: set[str], function: FunctionType) -> dict[str, float]:
    """Return the module's numbers an expression names; refuse what cannot be displayed."""
    match node:
        case ast.Name(id=name):
            number = None if name in known else _outside_name(function, name)
            if name not in known and number is None:
                raise TypeError(f"{function.__name__}: '{name}' is a function, not a number")
            return {} if number is None else {name: number}
        case ast.Constant(value=bool()):
            parts: list[ast.expr] = []
            allowed = False
        case ast.Constant(value=int() | float()):
            parts, allowed = [], True
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            parts, allowed = [operand], True
        case ast.BinOp(left=left, op=op, right=right):
            parts, allowed = [left, right], type(op) in _BINARY
        case ast.Compare(left=left, ops=[op], comparators=[right]):
            parts, allowed = [left, right], type(op) in _COMPARED
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]):
            parts, allowed = list(args), name not in known and _outside_name(function, name) is None
        case _:
            parts, allowed = [], False
    if not allowed:
        raise TypeError(f"{function.__name__}: a formula may not hold '{ast.unparse(node)}'")
    constants: dict[str, float] = {}
    for part in parts:
        constants |= _checked(part, known, function)
    return constants


def _value(node: ast.expr, known: Mapping[str, Any]) -> Any:
    match node:
        case ast.Name(id=name):
            return known[name]
        case ast.Constant(value=value):
            return value
        case ast.UnaryOp(operand=operand):
            return -_value(operand, known)
        case ast.BinOp(left=left, op=op, right=right):
            return _BINARY[type(op)](_value(left, known), _value(right, known))
        case ast.Compare(left=left, ops=[op], comparators=[right]):
            return _COMPARED[type(op)](_value(left, known), _value(right, known))
        case ast.Call(func=ast.Name(id=name), args=args):
            return FUNCTIONS[name](*(_value(arg, known) for arg in args))
        case _:
            raise TypeError(f"a formula may not hold '{ast.unparse(node)}'")
