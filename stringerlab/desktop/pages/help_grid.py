"""What the help page says of the grid: what is analysed, under which loads, and what that leaves out."""

from stringerlab.assess.grid.limits import APART

GRID = (
    "Members of the layout in use are beams between nodes: where they meet, end, turn or change their "
    "section. Each has the bending, shear and torsion stiffness of its section with the plating that "
    "counts by the layout’s rule (the method’s width, shear lag’s, or none), no wider than the mean of "
    "the spacings beside it. The bottom is unfolded about the keel, so that members and patches have "
    "their lengths in the skin. A moment is positive where it puts the crown in tension, as slam does at "
    "mid-span.",
    "<b>Loads.</b> Every judged panel and span has a slam patch of its own design area at that area’s "
    "pressure by the method, slid along it from half on one neighbour to half on the other, with smaller "
    "steps where it governs. Each point of a bay goes to its nearest side (yield lines); what is nearest "
    "to chine, transom or a bulkhead goes to the hull, and is tallied. So is what is nearest to a keel "
    "without a girder, as far as no floor crosses it: the vee itself is taken to carry it. Equipment "
    "presses with its weight times 1 + a, a its own acceleration or the method’s; a tank with its head, "
    "or its weight where that is more. Thrust turns the feet by its height; an outboard’s thrust and "
    "weight turn the longitudinals at the transom the same way, and add; a gyro turns both ways. Slam is "
    "always there without equipment too: weights never relieve it.",
    "<b>Supports.</b> Simple edges hold members up and from rolling over. Clamped ones hold all turning. "
    "An elastic chine is turned back by the side’s bending from a hinge at the deck edge; members bonded "
    "up the side have that spring there too and no more; at a simple or free chine they are held from "
    "turning. Bulkheads hold what lies on them. The side and the rest of the hull do not move: reactions "
    "say what they must take.",
    "<b>Findings.</b> Spans are judged under the greatest moment either way, shear and torque of all "
    "cases, which need not come from one case; the moment that puts the crown in tension has the greatest "
    "shear of any case at its own place with it, unless that is in the middle third. Deflection is from the "
    "straight line between a span’s nodes; how far the nodes move with the grid stands in its notes. A "
    "natural frequency is to stand "
    f"{APART:.0%} off a speed, our own choice; it is that in air, and water lowers it. Equipment’s mass is "
    "set at nodes and half way between them, beside its feet.",
    "<b>What a grid of beams leaves out.</b> Held against a finite-element solution of plate and "
    "stringers together, plating carries a sixth to two fifths of a load on one stringer to its "
    "neighbours, where beams without transverses share nothing: a stringer loaded alone is on the safe "
    "side, its neighbours are not. Under even pressure yield lines make a longitudinal’s moment at mid-"
    "span low by about (s/L)²/3, with s its spacing and L its length between floors: 8 % where the "
    "spacing is half the length. Nothing is added for that: leave room for it.",
    "The vee is laid flat: forces along the skin, and the kink at the keel, are not there; weights, "
    "upright, are taken square to the skin, which is up to 1/cos of the deadrise too much. The slope of "
    "keel and buttocks fore and aft is not in beams’ lengths. The hull’s bending as a whole, the shape "
    "and motion of an impact in time, water moved along, and lift under the skin beyond a patch are left "
    "out. Moments go through a crossing unless its crown is cut with nothing behind it; whether tabs can "
    "carry them is the crossing’s own finding. Against pieces six times finer the cut of the bottom "
    "changes moments by 0.5 % and shears by 1.1 % at the most in the sample launch.",
    "Load shared by the grid is first principles and never rule compliance. A panel’s own plies are not "
    "judged by the grid. <code>stringerlab grid FILE</code> prints all of it.",
)
