"""``proof``: computed values beside published ones; and the constants no published value guards."""

import argparse
import json
from dataclasses import asdict

from stringerlab.assess.constants import uncovered
from stringerlab.assess.proof import Proof, proofs
from stringerlab.cli.table import Column, paragraph, table
from stringerlab.units import rounded


def run(options: argparse.Namespace) -> int:
    """Print the comparison; 1 when a computed value misses its published one."""
    if options.uncovered:
        return _uncovered(as_json=options.json)
    found = proofs()
    if options.json:
        print(json.dumps([as_json(proof) for proof in found], indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(_page(found)))
    return 0 if all(proof.ok for proof in found) else 1


def as_json(proof: Proof) -> dict[str, object]:
    """Return the documented JSON of one comparison."""
    return {
        "source": proof.source,
        "quantity": proof.quantity,
        "published": proof.published,
        "computed": proof.computed,
        "unit": proof.unit,
        "tolerance": proof.tolerance,
        "ok": proof.ok,
        "known": proof.known.value,
    }


def _page(found: tuple[Proof, ...]) -> list[str]:
    columns = (
        Column("quantity", 38),
        Column("published", 11, right=True),
        Column("computed", 11, right=True),
        Column("tolerance", 9, right=True),
        Column("unit", 9),
        Column("", 5),
        Column("known", 8),
    )
    text: list[str] = []
    source = ""
    for proof in found:
        if proof.source != source:
            source = proof.source
            text += ["", *paragraph(source)]
            text += table(columns, [])[: 2 if len(text) < 4 else 0]
        numbers = [rounded(number, 6) for number in (proof.published, proof.computed)]
        row = (
            proof.quantity,
            *numbers,
            rounded(proof.tolerance, 2),
            proof.unit,
            "ok" if proof.ok else "MISS",
        )
        text += table(columns, [(*row, proof.known.value)])[2:]
    met = sum(proof.ok for proof in found)
    return [*text, "", f"{met} of {len(found)} published values met."]


def _uncovered(*, as_json: bool) -> int:
    constants = uncovered()
    if as_json:
        print(json.dumps([asdict(constant) for constant in constants], indent=2, ensure_ascii=False))
        return 0
    print("Constants of the methods that no published value would catch if they were 1 % off:")
    for constant in constants:
        print(f"  {constant.module}:{constant.line}  {constant.value:g}  in {constant.place}")
    return 0
