"""What the help page says of search, of what would help, of scatter, of studies, and of long runs."""

SIZING = (
    "<b>Size</b> proposes. Mark what may change, say what must hold and what to lower, and run. Designs are "
    "judged by the same formulas as the screen; those that no other beats in all you want lower are the "
    "front. Pick one on the plot or in the table: change the boat to it, open it as a layout beside the "
    "present one, or save it as a boat of its own. Undo takes either of the first two back.",
    "<b>Proven or found.</b> The page says how many designs there are, how many were judged, and how many a "
    "bound ruled out. Where every one was judged or ruled out, the front is proven: no better one is among "
    "the choices you gave. In a larger space it is the best found: another seed or more designs may find "
    "better ones. Neither says anything of designs outside those choices.",
    "<b>Judge at most</b> is a budget, counted in designs. What has to be made anew for one counts as "
    "several: a laminate as 10, a section that is no level hat as 100, panels and spans found anew on a plan "
    "as 700. So a search that moves floors sees fewer designs for the same number.",
    "<b>Highest utilisation</b> here is of the rule findings that something marked changes. What nothing "
    "marked changes is the same in every design, and is left out of it: else it would hide what differs. "
    "Where such a finding breaks a demand, no design can hold, and the page says which.",
    "<b>What it does not prove.</b> It judges what the method judges. Mechanics and grid have no part in "
    "it: Check it wholly asks them of the design picked, Mechanics of each too of all that are found. How a "
    "part comes off its mould and what a crew can lay it does not know. The lightest design has something "
    "just holding, and little to spare for a poor lay-up: look at its Scatter.",
    "<b>Nothing holds.</b> Then it says which demand makes it so, how near the nearest design came, and "
    "whether it fails alone or only together with the others.",
    "<b>What helps</b> tries one step in every number, each alone, judges the whole boat again, and ranks "
    "what each does to every finding that is short or tight, with kilograms beside. A ■ marks a step that "
    "makes another finding short. Do it takes the step as one edit; two steps together need not do what "
    "each does alone, so look again after each.",
    "<b>Scatter</b> lets thickness, glass content, moduli, strengths, bead width and speed vary as a hand "
    "lay-up and a sea do, and judges the boat for each sample. A chance of 3 % means that of a hundred boats "
    "laid so, three would have that finding above 1: short of the method. It is no chance of failure, as "
    "such a boat has used up the method’s own margin, no more. The interval beside it is of the sampling "
    "alone and narrows with more samples; the chance is only as true as the spreads put in.",
    "<b>Where the defaults come from.</b> Careful, usual and rough hand lay-up are common practice, rounded. "
    "No standard, paper or test stands behind them. Weigh your own laminates, burn coupons off, and type "
    "what they show; the first change makes the inputs the project’s own. What drives a finding is the rank "
    "correlation of each input with its utilisation: near 1 or −1 it decides, near 0 it hardly matters.",
    "<b>Studies</b> sweep one number, drawn as curves, or two, drawn as contours. The limit 1 is drawn bold, "
    "the boat as she is marked; what could not be judged is left blank and says why in the table. Copy, CSV "
    "and SVG are at the upper right.",
    "Runs go on beside the window; Stop ends one. What a run brought stays, and says so when the boat or "
    "what was asked has changed since. The same seed gives the same answer on one core, on all of them, or "
    "on a cluster.",
    "<b>Long runs</b> go from the command line: <code>stringerlab size FILE --journal RUN.jsonl</code> "
    "(<code>study</code>, <code>scatter</code>, <code>sensitivity</code> alike) writes down every part that "
    "is done. Killed, the same command with the same journal goes on where it ended; the journal of another "
    "boat or plan is refused. <code>--workers N</code> sets how many cores work. <code>--scheduler "
    "tcp://HOST:8786</code> runs it on a Dask cluster (install <code>stringerlab[cluster]</code>); a "
    "worker that is lost has its part done by another.",
)
