"""The usual cautions of the trade, by what is handled; stand on every sheet. Data sheets and law decide."""

from enum import StrEnum

FIRST = (
    "Read the safety data sheet of every product first; it and the rules of the place of work come before "
    "this sheet."
)


class Hazard(StrEnum):
    """What is handled or done."""

    RESIN = "Resin and styrene"
    PEROXIDE = "Peroxide catalyst"
    ADHESIVE = "Methacrylate adhesive"
    FOAM = "Foam"
    DUST = "Grinding dust"
    CONFINED = "Confined spaces"


CAUTIONS: dict[Hazard, str] = {
    Hazard.RESIN: "Vapour burns and harms. Ventilate, no flame or spark, gloves, eye protection, the right "
    "respirator. Resin left thick in a pot heats up and can burn: spread it or take it outside.",
    Hazard.PEROXIDE: "Can blind. Face shield and gloves; rinse eyes with water at once and get help. Never "
    "mix "
    "it with accelerator. Measure, never guess. Keep it cool; wet spills and rags down as its sheet says.",
    Hazard.ADHESIVE: "Flammable, strong vapour, harms skin by repeated touch. Ventilate, no flame, gloves. A "
    "thick bead or a full pot gets hot as it sets.",
    Hazard.FOAM: "Isocyanate: respirator and gloves as its sheet says; once sensitised, stay away. A thick "
    "pour "
    "heats inside, can char or burn, and its rise can push a wall out: thin lifts, let each cool.",
    Hazard.DUST: "Glass and resin dust harms lungs, eyes and skin and can burn. Extraction, respirator, eye "
    "protection, covered skin.",
    Hazard.CONFINED: "Bilges, tanks and lockers hold vapour and lack air. Never alone, test and blow air in, "
    "someone outside who watches.",
}
