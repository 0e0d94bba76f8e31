"""A formula's displayed mathematics, generated from its syntax tree: Typst, or one line of plain text.

A body is assignments of single names and one return; loops and ``if`` are refused.
"""

import ast
from collections.abc import Callable, Mapping
from dataclasses import dataclass

GREEK = dict(  # noqa: C408
    alpha="α", beta="β", gamma="γ", delta="δ", epsilon="ε", zeta="ζ", eta="η", theta="θ", kappa="κ",
    lamda="λ", mu="μ", nu="ν", xi="ξ", pi="π", rho="ρ", sigma="σ", tau="τ", phi="φ", chi="χ", psi="ψ",
    omega="ω", Delta="Δ", Sigma="Σ", Phi="Φ", Omega="Ω",
)  # fmt: skip

_SUM, _PRODUCT, _SIGN, _POWER, _ATOM = 1, 2, 3, 4, 5


@dataclass(frozen=True, slots=True)
class Style:
    """How each piece of mathematics is written."""

    name: Callable[[str], str]
    number: Callable[[str], str]
    fraction: Callable[[str, str], str]
    power: Callable[[str, str], str]
    times: str
    functions: Mapping[str, Callable[[list[str]], str]]
    relations: Mapping[type[ast.cmpop], str]
    conjunction: str
    alternative: str
    fraction_binds: bool
    """A fraction groups by itself (a bar), so that its parts need no brackets."""


def symbol(name: str, style: Style) -> str:
    """Return a name (``sigma_d``, ``k_2``) as a symbol."""
    return style.name(name)


def equation(tree: ast.FunctionDef, result: str, style: Style) -> str:
    """Return ``result = …``, local names following after "with".

    Raises
    ------
    TypeError
        When the body holds what no formula may: loops, ``if``, unknown functions.
    """
    locals_, final = _body(tree)
    parts = [f"{style.name(result)} = {_write(final, style, {})[0]}"]
    parts += [f"{style.name(name)} = {_write(value, style, {})[0]}" for name, value in locals_]
    return ", ".join(parts) if style is PLAIN else " \\ \n".join(parts)


def substitution(tree: ast.FunctionDef, numbers: Mapping[str, str], style: Style) -> str:
    """Return the returned expression with numbers in place of the names they are given for."""
    return _write(_body(tree)[1], style, numbers)[0]


def local_names(tree: ast.FunctionDef) -> list[str]:
    """Return the names a body assigns before it returns."""
    return [name for name, _ in _body(tree)[0]]


def _body(tree: ast.FunctionDef) -> tuple[list[tuple[str, ast.expr]], ast.expr]:
    assigned: list[tuple[str, ast.expr]] = []
    for node in tree.body:
        match node:
            case ast.Expr(value=ast.Constant(value=str())):
                continue
            case ast.Assign(targets=[ast.Name(id=name)], value=value):
                assigned.append((name, value))
            case ast.Return(value=ast.expr() as value):
                return assigned, value
            case _:
                kind = type(node).__name__.lower()
                raise TypeError(f"{tree.name}: a formula holds no {kind}, only assignments and one return")
    raise TypeError(f"{tree.name}: a formula must return")


def _write(node: ast.expr, style: Style, numbers: Mapping[str, str]) -> tuple[str, int]:
    """Return the text of an expression and how tightly its outermost operation binds."""

    def part(child: ast.expr, at_least: int) -> str:
        text, binds = _write(child, style, numbers)
        return text if binds >= at_least else f"({text})"

    match node:
        case ast.Name(id=name):
            given = numbers.get(name)
            if given is None:
                return style.name(name), _ATOM
            return style.number(given), _SIGN if given.startswith(("-", "−")) else _ATOM
        case ast.Constant(value=bool()):
            raise TypeError("a formula holds no truth values")
        case ast.Constant(value=int() | float() as value):
            return style.number(f"{value:.12g}"), _ATOM
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return f"−{part(operand, _PRODUCT)}", _SIGN
        case ast.BinOp(left=left, op=ast.Add() | ast.Sub() as op, right=right):
            sign, tight = ("+", _SUM) if isinstance(op, ast.Add) else ("−", _PRODUCT)
            return f"{part(left, _SUM)} {sign} {part(right, tight)}", _SUM
        case ast.BinOp(left=left, op=ast.Mult(), right=right):
            return f"{part(left, _PRODUCT)}{style.times}{part(right, _PRODUCT)}", _PRODUCT
        case ast.BinOp(left=left, op=ast.Div(), right=right):
            if style.fraction_binds:
                return style.fraction(part(left, _SUM), part(right, _SUM)), _ATOM
            return style.fraction(part(left, _PRODUCT), part(right, _SIGN)), _PRODUCT
        case ast.BinOp(left=left, op=ast.Pow(), right=right):
            return style.power(part(left, _ATOM), _write(right, style, numbers)[0]), _POWER
        case ast.Compare(left=left, ops=ops, comparators=others):
            text = _write(left, style, numbers)[0]
            for op, other in zip(ops, others, strict=True):
                text += f" {style.relations[type(op)]} {_write(other, style, numbers)[0]}"
            return text, _SUM
        case ast.BinOp(left=left, op=ast.BitAnd(), right=right):
            return f"{part(left, _SUM)} {style.conjunction} {part(right, _SUM)}", _SUM
        case ast.BinOp(left=left, op=ast.BitOr(), right=right):
            return f"{part(left, _SUM)} {style.alternative} {part(right, _SUM)}", _SUM
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]):
            shown = style.functions.get(name)
            if shown is None:
                raise TypeError(f"a formula may not call '{name}'; a formula calls no formula")
            binds = _POWER if name in {"sqrt", "cbrt"} else _ATOM
            return shown([_write(arg, style, numbers)[0] for arg in args]), binds
        case _:
            raise TypeError(f"a formula may not hold {ast.unparse(node)}")


def _typst_name(name: str) -> str:
    base, *below = name.split("_")
    head = base if base in GREEK or len(base) == 1 else f'"{base}"'
    head = "lambda" if head == "lamda" else head
    if not below:
        return head
    subscript = ",".join(sub if sub.isdigit() or len(sub) == 1 else f'"{sub}"' for sub in below)
    return f"{head}_({subscript})"


def _plain_name(name: str) -> str:
    base, *below = name.split("_")
    head = GREEK.get(base, base)
    return f"{head}_{','.join(below)}" if below else head


def _typst_number(text: str) -> str:
    mantissa, mark, exponent = text.partition("e")
    if mark:
        return f"{mantissa} dot 10^({int(exponent)})"
    return text


def _plain_number(text: str) -> str:
    mantissa, mark, exponent = text.partition("e")
    if mark:
        raised = str(int(exponent)).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
        return f"{mantissa}·10{raised}"
    return text


def _named(word: str) -> Callable[[list[str]], str]:
    return lambda args: f"{word}({', '.join(args)})"


_PLAIN_FUNCTIONS: dict[str, Callable[[list[str]], str]] = {
    "sqrt": lambda args: f"√({args[0]})",
    "cbrt": lambda args: f"∛({args[0]})",
    "exp": _named("exp"),
    "log": _named("ln"),
    "sin": _named("sin"),
    "cos": _named("cos"),
    "tan": _named("tan"),
    "tanh": _named("tanh"),
    "absolute": lambda args: f"|{args[0]}|",
    "minimum": _named("min"),
    "maximum": _named("max"),
    "clip": lambda args: f"{args[0]} held in {args[1]}…{args[2]}",
    "where": lambda args: f"{{{args[1]} if {args[0]}, else {args[2]}}}",
}
_TYPST_FUNCTIONS: dict[str, Callable[[list[str]], str]] = {
    "sqrt": lambda args: f"sqrt({args[0]})",
    "cbrt": lambda args: f"root(3, {args[0]})",
    "exp": _named("exp"),
    "log": _named("ln"),
    "sin": _named("sin"),
    "cos": _named("cos"),
    "tan": _named("tan"),
    "tanh": _named("tanh"),
    "absolute": lambda args: f"abs({args[0]})",
    "minimum": _named("min"),
    "maximum": _named("max"),
    "clip": lambda args: f"lr([{args[0]}])_({args[1]})^({args[2]})",
    "where": lambda args: f'cases({args[1]} &"if" {args[0]}, {args[2]} &"otherwise")',
}
_RELATIONS: dict[type[ast.cmpop], str] = {
    ast.Lt: "<", ast.LtE: "≤", ast.Gt: ">", ast.GtE: "≥", ast.Eq: "=", ast.NotEq: "≠",
}  # fmt: skip

PLAIN = Style(
    name=_plain_name,
    number=_plain_number,
    fraction=lambda top, bottom: f"{top}/{bottom}",
    power=lambda base, exponent: f"{base}^{exponent if _simple(exponent) else f'({exponent})'}",
    times="·",
    functions=_PLAIN_FUNCTIONS,
    relations=_RELATIONS,
    conjunction="and",
    alternative="or",
    fraction_binds=False,
)
TYPST = Style(
    name=_typst_name,
    number=_typst_number,
    fraction=lambda top, bottom: f"frac({top}, {bottom})",
    power=lambda base, exponent: f"{base}^({exponent})",
    times=" dot ",
    functions=_TYPST_FUNCTIONS,
    relations=_RELATIONS,
    conjunction='"and"',
    alternative='"or"',
    fraction_binds=True,
)


def _simple(text: str) -> bool:
    return text.replace(".", "").replace("_", "").isalnum()
