"""How a formula's body is written: Typst's mathematics, or one line of plain text.

Written from the syntax tree of the function that runs, so that the two cannot disagree.
"""

import ast
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from stringerlab.units import trimmed
from stringerlab.workings.tree import Body

GREEK = dict(  # noqa: C408
    alpha="α", beta="β", gamma="γ", delta="δ", epsilon="ε", zeta="ζ", eta="η", theta="θ", kappa="κ",
    lamda="λ", mu="μ", nu="ν", xi="ξ", pi="π", rho="ρ", sigma="σ", tau="τ", phi="φ", chi="χ", psi="ψ",
    omega="ω", Gamma="Γ", Delta="Δ", Sigma="Σ", Phi="Φ", Omega="Ω",
)  # fmt: skip

_OR, _AND, _COMPARE, _SUM, _SIGN, _PRODUCT, _POWER, _ATOM = range(8)
"""How tightly an expression's outermost operation binds, loosest first."""


@dataclass(frozen=True, slots=True)
class Style:
    """How each piece of mathematics is written."""

    name: Callable[[str], str]
    scientific: Callable[[str, str], str]
    """Mantissa (empty for one) and exponent."""
    fraction: Callable[[str, str], str]
    power: Callable[[str, str], str]
    text: Callable[[str], str]
    """Words and units among mathematics."""
    times: str
    functions: Mapping[str, Callable[[list[str]], str]]
    conjunction: str
    alternative: str
    bar: bool
    """A fraction is drawn with a bar, so that its parts need no brackets."""


def equations(body: Body, result: str, style: Style) -> list[str]:
    """Return ``result = …`` and after it each local name's own equation."""
    shown = [(result, body.returned), *body.assigned]
    return [f"{style.name(name)} = {written(node, style)}" for name, node in shown]


def written(node: ast.expr, style: Style, numbers: Mapping[str, float] | None = None) -> str:
    """Return an expression, with numbers in place of the names they are given for."""
    return _write(node, style, numbers or {})[0]


def number_text(text: str, style: Style) -> str:
    """Return a rounded number as it stands among mathematics."""
    return _number(text, style)[0]


def _write(node: ast.expr, style: Style, numbers: Mapping[str, float]) -> tuple[str, int]:
    """Return the text of an expression and how tightly its outermost operation binds."""

    def part(child: ast.expr, at_least: int) -> str:
        text, binds = _write(child, style, numbers)
        return text if binds >= at_least else f"({text})"

    def leading(child: ast.expr) -> tuple[str, int]:
        """Return the first factor of a product; its sign, if any, becomes the product's."""
        text, binds = _write(child, style, numbers)
        if binds < _SIGN:
            return f"({text})", _PRODUCT
        return text, min(binds, _PRODUCT)

    match node:
        case ast.Name(id=name):
            return _number(trimmed(numbers[name]), style) if name in numbers else (style.name(name), _ATOM)
        case ast.Constant(value=int() | float() as value):
            return _number(repr(value).removesuffix(".0"), style)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return f"−{part(operand, _PRODUCT)}", _SIGN
        case ast.BinOp(left=left, op=ast.Add() | ast.Sub() as op, right=right):
            sign = "+" if isinstance(op, ast.Add) else "−"
            return f"{part(left, _SUM)} {sign} {part(right, _PRODUCT)}", _SUM
        case ast.BinOp(left=left, op=ast.Mult(), right=right):
            first, binds = leading(left)
            return f"{first}{style.times}{part(right, _PRODUCT)}", binds
        case ast.BinOp(left=left, op=ast.Div(), right=right) if style.bar:
            return style.fraction(written(left, style, numbers), written(right, style, numbers)), _PRODUCT
        case ast.BinOp(left=left, op=ast.Div(), right=right):
            first, binds = leading(left)
            return style.fraction(first, part(right, _POWER)), binds
        case ast.BinOp(left=left, op=ast.Pow(), right=right):
            return style.power(part(left, _ATOM), written(right, style, numbers)), _POWER
        case ast.BinOp(left=left, op=ast.BitAnd(), right=right):
            return f"{part(left, _AND)} {style.conjunction} {part(right, _AND)}", _AND
        case ast.BinOp(left=left, op=ast.BitOr(), right=right):
            return f"{part(left, _OR)} {style.alternative} {part(right, _OR)}", _OR
        case ast.Compare(left=left, ops=[op], comparators=[right]):
            return f"{part(left, _SUM)} {_RELATIONS[type(op)]} {part(right, _SUM)}", _COMPARE
        case ast.Call(func=ast.Name(id=name), args=args):
            binds = _POWER if name in {"sqrt", "cbrt"} else _ATOM
            return style.functions[name]([written(arg, style, numbers) for arg in args]), binds
        case _:
            raise TypeError(f"a formula may not hold '{ast.unparse(node)}'")


def _number(text: str, style: Style) -> tuple[str, int]:
    """Return a number (``2.5e-9``, ``−2.5·10⁻⁹``, ``−3``) in a style, and how tightly it binds."""
    bare = text.lstrip("-−")
    found = _TENS.fullmatch(bare)
    if found is None:
        shown, binds = bare, _ATOM
    else:
        mantissa = found["mantissa"] or found["typed"] or "1"
        exponent = str(int((found["e"] or found["raised"]).translate(_LOWERED)))
        shown = style.scientific("" if mantissa in {"1", "1.0"} else mantissa, exponent)
        binds = _POWER if mantissa in {"1", "1.0"} else _PRODUCT
    return (shown, binds) if bare == text else (f"−{shown}", _SIGN)


_TENS = re.compile(
    r"(?P<mantissa>[\d.]+)e(?P<e>[-+]?\d+)|(?:(?P<typed>[\d.]+)·)?10(?P<raised>[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)"
)
_LOWERED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def _split(name: str) -> tuple[str, list[str]]:
    """Return a name's letter and what stands below it: ``nu12`` and ``nu_12`` are both ν with 12."""
    base, *below = name.split("_")
    found = re.fullmatch(r"([^\W\d]+)(\d+)", base)
    if found is not None and (len(found[1]) == 1 or found[1] in GREEK):
        return found[1], [found[2], *below]
    return base, below


def _typst_name(name: str) -> str:
    base, below = _split(name)
    head = "lambda" if base == "lamda" else base if base in GREEK or len(base) == 1 else f'"{base}"'
    if not below:
        return head
    subscript = ", ".join(sub if sub.isdigit() or len(sub) == 1 else f'"{sub}"' for sub in below)
    return f"{head}_({subscript})"


def _plain_name(name: str) -> str:
    base, below = _split(name)
    if "_" not in name:
        return f"{GREEK.get(base, base)}{''.join(below)}"
    return f"{GREEK.get(base, base)}_{','.join(below)}"


def _named(word: str) -> Callable[[list[str]], str]:
    return lambda args: f"{word}({', '.join(args)})"


_SAME_IN_BOTH: dict[str, Callable[[list[str]], str]] = {
    "exp": _named("exp"),
    "log": _named("ln"),
    "sin": _named("sin"),
    "cos": _named("cos"),
    "tan": _named("tan"),
    "tanh": _named("tanh"),
    "minimum": _named("min"),
    "maximum": _named("max"),
}
_PLAIN_FUNCTIONS: dict[str, Callable[[list[str]], str]] = {
    **_SAME_IN_BOTH,
    "sqrt": lambda args: f"√({args[0]})",
    "cbrt": lambda args: f"∛({args[0]})",
    "absolute": lambda args: f"|{args[0]}|",
    "clip": lambda args: f"[{args[0]} held in {args[1]} … {args[2]}]",
    "where": lambda args: f"{{{args[1]} if {args[0]}, else {args[2]}}}",
}
_TYPST_FUNCTIONS: dict[str, Callable[[list[str]], str]] = {
    **_SAME_IN_BOTH,
    "sqrt": lambda args: f"sqrt({args[0]})",
    "cbrt": lambda args: f"root(3, {args[0]})",
    "absolute": lambda args: f"abs({args[0]})",
    "clip": lambda args: f'lr([{args[0]} " held in " {args[1]} " … " {args[2]}])',
    "where": lambda args: f'cases({args[1]} &" if " {args[0]}, {args[2]} &" otherwise")',
}
_RELATIONS: dict[type[ast.cmpop], str] = {
    ast.Lt: "<", ast.LtE: "≤", ast.Gt: ">", ast.GtE: "≥", ast.Eq: "=", ast.NotEq: "≠",
}  # fmt: skip

PLAIN = Style(
    name=_plain_name,
    scientific=lambda mantissa, exponent: f"{mantissa and mantissa + '·'}10{exponent.translate(_RAISED)}",
    fraction=lambda top, bottom: f"{top}/{bottom}",
    power=lambda base, exponent: f"{base}^{exponent if _simple(exponent) else f'({exponent})'}",
    text=lambda words: words,
    times="·",
    functions=_PLAIN_FUNCTIONS,
    conjunction="and",
    alternative="or",
    bar=False,
)
TYPST = Style(
    name=_typst_name,
    scientific=lambda mantissa, exponent: f"{mantissa and mantissa + ' dot '}10^({exponent})",
    fraction=lambda top, bottom: f"frac({top}, {bottom})",
    power=lambda base, exponent: f"{base}^({exponent})",
    text=lambda words: f'"{words}"',
    times=" dot ",
    functions=_TYPST_FUNCTIONS,
    conjunction='" and "',
    alternative='" or "',
    bar=True,
)


def _simple(text: str) -> bool:
    return text.replace(".", "").replace("_", "").isalnum()
