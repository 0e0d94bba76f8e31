"""What the help page says of layouts and boats side by side."""

COMPARE = (
    "<b>Compare</b> sets two to six layouts or boats side by side, the parent boat among them. Tick them at "
    "the left; the first is what the others are held against. It measures mass by part, centre of gravity, "
    "stiffness under one common load, worst and mean utilisation, bond, materials, cost, labour, cavities; "
    "it draws plans and bars on one page, and says in sentences made from the numbers what differs.",
    "The common load is an even 1 kN/m² on the whole bottom, shared by the grid: it makes layouts comparable "
    "and is no rule’s load. Where members meet, one goes through (one that goes on rather than one that "
    "ends, then one drawn continuous, then the higher, then the longitudinal) and the others are counted up "
    "to its web root. All are priced at the rates of the first that has any.",
    "What is not known says why and is never counted as nothing: a boat whose spans are given by hand has no "
    "grid to load and no cavity to fill. More or less of something is no claim that either complies.",
)
