"""Plies laid at another glass content than their coupons were tested at, or on epoxy, are asked about."""

from dataclasses import replace

from stringerlab.laminate import Laminate, Ply
from stringerlab.laminate.doubts import laminate_doubts
from stringerlab.materials import Book, shipped
from stringerlab.materials.records import CouponSet, Materials, Property

COUPONS = CouponSet(
    property=Property.TENSION_1, mean=95, deviation=4, count=6, glass=0.3, source="report 1, invented"
)


def asked(*plies: Ply) -> list[tuple[str, str]]:
    mat = next(one for one in shipped().reinforcements if one.id == "csm450")
    own = Materials(reinforcements=(replace(mat, id="own", name="Own mat", coupons=(COUPONS,)),))
    found = laminate_doubts(Laminate(id="l1", name="Bottom", plies=plies), Book.of(own, shipped()))
    return [(doubt.where, doubt.what) for doubt in found]


def test_a_ply_far_from_its_coupons_glass_content_is_asked_about() -> None:
    assert asked(Ply(material="csm450"), Ply(material="own", glass=0.36)) == [
        (
            "laminate 'Bottom' (l1), ply 2",
            "it is laid at a glass content of 0.36, far from that of the coupons of 'Own mat': "
            "tension 1 by the estimate.",
        )
    ]


def test_plies_near_it_are_not() -> None:
    assert (
        asked(Ply(material="own"), Ply(material="own", glass=0.32), Ply(material="csm450", glass=0.4)) == []
    )


def test_polyester_laid_on_epoxy_is_questioned_but_not_epoxy_on_polyester() -> None:
    mat, carbon = Ply(material="csm450"), Ply(material="cud300")

    def asked(*plies: Ply) -> list[str]:
        laid = Laminate(id="l1", name="Bottom", plies=plies)
        return [doubt.where for doubt in laminate_doubts(laid, Book.of(shipped()))]

    assert asked(mat, carbon, carbon) == []
    assert asked(mat, carbon, mat, mat) == ["laminate 'Bottom' (l1), ply 3"]
