"""What a laminate is asked about, nothing forbids it: plies far from their coupons, polyester on epoxy."""

from collections.abc import Iterator

from stringerlab.errors import Problem
from stringerlab.laminate.records import Laminate
from stringerlab.materials import Book
from stringerlab.materials.coupons import FAR, coupon_value, in_words
from stringerlab.materials.records import Reinforcement


def laminate_doubts(laminate: Laminate, book: Book) -> Iterator[Problem]:
    """Yield what is to be asked about a laminate.

    Plies of a glass content their coupons were not tested at; a ply in polyester or vinylester laid on one in
    epoxy, which by common practice bonds poorly, while epoxy on cured polyester holds.

    Parameters
    ----------
    laminate
        The laminate.
    book
        Its materials.
    """
    below = False
    for number, ply in enumerate(laminate.plies, start=1):
        laid = book.reinforcement(ply.material)
        epoxy = laid is not None and _is_epoxy(laid, book)
        if laid is not None and below and not epoxy:
            what = (
                f"'{laid.name}' is laid in another resin on a ply in epoxy, "
                "on which polyester and vinylester bond poorly."
            )
            where = f"laminate '{laminate.name}' ({laminate.id}), ply {number}"
            yield Problem(what, where, "Lay both in epoxy, or the epoxy last; or leave it, if it is tested.")
        below = epoxy
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


def _is_epoxy(material: Reinforcement, book: Book) -> bool:
    """Return whether a fabric's resin is called an epoxy; an epoxy vinylester is a vinylester."""
    resin = book.resin(material.resin)
    said = f"{material.resin} {resin.name if resin else ''}".casefold()
    return "epox" in said and "vinyl" not in said
