"""What a laminate is asked about though nothing forbids it: coupons that say nothing of the plies as laid."""

from collections.abc import Iterator

from stringerlab.errors import Problem
from stringerlab.laminate.records import Laminate
from stringerlab.materials import Book
from stringerlab.materials.coupons import FAR, coupon_value, in_words


def laminate_doubts(laminate: Laminate, book: Book) -> Iterator[Problem]:
    """Yield what is to be asked about a laminate: plies of a glass content their coupons were not tested at.

    Parameters
    ----------
    laminate
        The laminate.
    book
        Its materials.
    """
    for number, ply in enumerate(laminate.plies, start=1):
        material = book.reinforcement(ply.material)
        if material is None or ply.glass is None or not 0 < ply.glass < 1:
            continue
        unused = [
            in_words(coupons.property)
            for coupons in material.coupons
            if coupons.count > 1
            and abs(coupons.glass - material.glass) <= FAR
            and coupon_value(coupons, ply.glass).why_not
        ]
        if unused:
            what = (
                f"it is laid at a glass content of {ply.glass:g}, far from that of the coupons of "
                f"'{material.name}': {', '.join(dict.fromkeys(unused))} by the estimate."
            )
            where = f"laminate '{laminate.name}' ({laminate.id}), ply {number}"
            yield Problem(what, where, "Test at that glass content, or leave the ply the material's own.")
