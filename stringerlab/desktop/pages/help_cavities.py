"""The help on cavities, drains, foam and flotation; its numbers come from where they are reckoned with."""

from stringerlab.layout.drains import KEPT
from stringerlab.layout.flotation import EDITION, USUAL_FOAM
from stringerlab.layout.insulation import CONDUCTIVITY

CAVITIES = (
    "A cavity is a named space between members: its points say which bays it lies in. What parts panels but "
    "is no member, as the keel or a spray step, parts no cavity; a member between two of its bays is inside "
    "it. Two cavities in one bay, or a point on a member or off the bottom, are said with their place.",
    "<b>Depth and room.</b> The top is level: at the depth given, over its lowest place, or at the lowest "
    "point of any crown round it. Only a foam void’s runs along the shell. Bulkheads bound a cavity but not "
    "its depth. Room is counted over the clear bottom from web root to web root, with upright webs and "
    "nothing over members: on the small side.",
    "<b>Drains.</b> Water runs to the lowest place of a bay, rises to its lowest way out, and so on to a "
    "cavity whose use is bilge. Ways are limber holes, at their lower edge, and lines without a member; "
    f"holes for weight and pipes are none. Up to {KEPT:g} mm may stay, our own bound for a wet corner; what "
    "is more is said with its depth and place. The boat lies level and at rest: trim moves water, and a "
    "drain overboard is not drawn here.",
    "<b>Foam.</b> It weighs what the book says, and bears what it displaces in fresh water less its own mass "
    "and the water in it. That allowance is a choice of yours for foam that is not sealed in; sealed foam is "
    "taken to stay dry, and a limber hole into a sealed void is said. Foam counts as no strength.",
    f"<b>Insulation</b> of an in-floor box: heat through bottom, sides and lid with {CONDUCTIVITY[0]:g} "
    f"W/(m·K) for new and dry foam and {CONDUCTIVITY[1]:g} for old, common practice without a source. Lid "
    "joints, drains and gaskets let more past. <b>Access</b>, how a tank comes out and is looked at, is your "
    "own note; a tank bay without one is pointed at.",
    f"<b>Flotation</b> is an estimate in the form of {EDITION}, and no test of it: foam for hull and deck, "
    "for machinery under water, and for the part of the marked load that must stay afloat. It covers "
    "single-hulled motor boats under 20 ft; of others it says so and lists the foam there. Only foam in "
    f"sealed voids counts, of {USUAL_FOAM:g} kg/m³ while there is none; air does not. Where the foam lies "
    "decides whether she floats level, and no sum can say that. What is not known is asked for; the "
    "machinery’s part is from memory, with low confidence.",
    "<code>stringerlab layout FILE</code> prints all of this; its exit status is 1 where a cavity that is "
    "not sealed keeps water.",
)

__all__ = ["CAVITIES"]
