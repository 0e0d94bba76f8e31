"""The legend of a plan's picture: one row for everything seen in it, supports by how they hold."""

from stringerlab.drawing.display import Area, Label, Mark, Picture, Role, Ticks
from stringerlab.drawing.options import LegendRow, Swatch
from stringerlab.drawing.plans import SUPPORT_SHAPES

_WORDS = {
    Role.CAVITY: "cavity",
    Role.WATER: "bilge",
    Role.FOAM: "foam in a cavity",
    Role.INSULATION: "insulated box",
    Role.MEMBER: "member, at its width on the shell",
    Role.CROWN: "its crown",
    Role.BULKHEAD: "bulkhead",
    Role.BONDED: "bonded up the hull's side",
    Role.SPRAY_STEP: "spray step",
    Role.HULL_STEP: "hull step",
    Role.EQUIPMENT: "equipment",
    Role.BLOCK: "foot, or the block it is bolted to",
    Role.PANEL: "panel, from web root to web root",
}
"""In the order of the legend; what is not among them explains itself."""
_ORDER = {role: place for place, role in enumerate(_WORDS)}
_HOLDS = {shape: held for held, shape in SUPPORT_SHAPES.items()}


def plan_legend(picture: Picture) -> tuple[LegendRow, ...]:
    """Return the legend of a plan's picture."""
    rows: dict[Role, LegendRow] = {}
    supports: dict[str, LegendRow] = {}
    for item in picture:
        if isinstance(item, (Label, Ticks)):
            continue
        if isinstance(item, Mark):
            if item.role is Role.SUPPORT:
                words = f"end held {_HOLDS[item.shape]}"
                supports[words] = LegendRow(text=words, swatch=Swatch.MARK, role=item.role, shape=item.shape)
            continue
        words = _WORDS.get(item.role)
        swatch = Swatch.AREA if isinstance(item, Area) else Swatch.LINE
        if words and (item.role not in rows or swatch is Swatch.AREA):
            rows[item.role] = LegendRow(text=words, swatch=swatch, role=item.role)
    return (
        *sorted(rows.values(), key=lambda row: _ORDER[row.role]),
        *(supports[each] for each in sorted(supports)),
    )
