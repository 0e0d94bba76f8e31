"""What scatter of the lay-up and of the speed does to every finding: chances, intervals, what drives them."""

import dataclasses
from collections.abc import Iterator, Sequence

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.methods import Method, available, method_named
from stringerlab.methods.records import Aspect, FindingKind
from stringerlab.project import Project
from stringerlab.project.wishes import Scattered, ScatterPlan
from stringerlab.sizing.records import Chance, Driver, Scattering, Watch
from stringerlab.sizing.running import Pack, Ran, Running, digest_of, pulse, run
from stringerlab.sizing.running.pulse import pulse_felt
from stringerlab.sizing.scatter.asked import words_of
from stringerlab.sizing.scatter.chances import chance
from stringerlab.sizing.scatter.held import really
from stringerlab.sizing.scatter.listed import few
from stringerlab.sizing.scatter.model import Key, Model, made_ready, model_of
from stringerlab.sizing.scatter.places import parts
from stringerlab.sizing.scatter.work import NAMED, PERCENTS, Task, pack_of, sampled, tasks_of
from stringerlab.workings import Array

HELD = 8
"""Samples held against the program's own way."""
_DRIVES = 0.05
"""Correlations nearer to 0 are not told."""
_DRIVERS = 8


def scatter(
    project: Project,
    plan: ScatterPlan | None = None,
    *,
    running: Running | None = None,
    watch: Watch | None = None,
    method: Method | str | None = None,
) -> Scattering:
    """Return the chance that every finding is short, with its interval, and what drives it.

    Parameters
    ----------
    project
        The document.
    plan
        What scatters and how often it is sampled; the project's own by default.
    running
        Where it runs, and the journal.
    watch
        Told the part done; ends the run by raising.
    method
        A method or its id; the project's own by default.

    Raises
    ------
    StringerlabError
        With everything that is wrong with the plan; with what forbids craft or method.
    Cancelled
        When the watch raises it.
    """
    tell = watch or _unwatched
    plan = plan or project.wishes.scatter
    running = running or Running()
    chosen = method if isinstance(method, Method) else method_named(method or project.method)
    own = chosen.id in available() and method_named(chosen.id) is chosen
    with pulse_felt(lambda part: tell(0.05 * part, "Making laminates and sections ready")):
        pulse()
        model = model_of(project, plan, chosen.id) if own else made_ready(project, plan, chosen)
        nominal = {key: float(use[0]) for key, use in model.judged({}, 1)}
    with pulse_felt(lambda part: tell(0.05 + 0.05 * part, "Holding samples against the program's own way")):
        compared = _compared(model, plan)
    ran = _run(model, project, plan, running, lambda done, words: tell(0.1 + 0.9 * done, words), own=own)
    samples = sum(int(pack["count"]) for pack in ran.packs)
    chances, any_short = _chances(model, nominal, ran.packs)
    unknown = sum(np.asarray(pack["unknown"], float) for pack in ran.packs)
    return Scattering(
        plan=plan,
        inputs=words_of(project, plan),
        samples=samples,
        chances=tuple(sorted(chances, key=lambda one: (-one.short, -one.nominal))),
        any_short=any_short,
        left_out=(*model.left_out, *_left_out(model, nominal)),
        notes=(
            *_notes(model, plan, ran.packs, samples),
            *_unknown(model, nominal, np.asarray(unknown), samples),
            *compared,
            *ran.notes,
        ),
    )


def _run(
    model: Model, project: Project, plan: ScatterPlan, running: Running, watch: Watch, *, own: bool
) -> Ran:
    tasks = tasks_of(project, plan, model.method, parts(plan.samples))
    if own:
        digest = digest_of("scatter", project, plan, model.method.id)
        return run(sampled, tasks, running, watch, digest=digest, what="Sampling scatter")
    # a method that no other process could find by its id stays in this one
    digest = digest_of("scatter", project, plan, model.method.id, model.method.name, model.method.edition)
    alone = dataclasses.replace(running, workers=1, scheduler="")

    def here(task: Task) -> Pack:
        return pack_of(model, plan.seed, task.parts)

    return run(here, tasks, alone, watch, digest=digest, what="Sampling scatter")


def _chances(
    model: Model, nominal: dict[Key, float], packs: Sequence[Pack]
) -> tuple[list[Chance], tuple[float, float, float]]:
    names = {one.id: one.name for one in model.resolved.subjects}
    replicates = np.concatenate([np.asarray(pack["replicates"]) for pack in packs])
    number = len(np.unique(replicates))
    counts = np.bincount(replicates, np.concatenate([np.asarray(pack["counts"]) for pack in packs]), number)
    short = np.concatenate([np.asarray(pack["short"], float) for pack in packs])
    anywhere = np.bincount(replicates, np.concatenate([np.asarray(pack["any"]) for pack in packs]), number)
    weights = np.array([float(pack["count"]) for pack in packs])
    total = weights.sum()
    unknown = np.sum([np.asarray(pack["unknown"]) for pack in packs], axis=0)
    sums = np.sum([np.asarray(pack["sum"]) for pack in packs], axis=0)
    percentiles = _mean([np.asarray(pack["percentiles"]) for pack in packs], weights)
    correlations = _mean([np.asarray(pack["correlations"]) for pack in packs], weights)
    beads = {one.subject for one in model.glued}
    found: list[Chance] = []
    for place, ((subject, aspect), use) in enumerate(nominal.items()):
        if not np.isfinite(use):
            continue
        p, low, high = chance(np.bincount(replicates, short[:, place], number), counts)
        below = percentiles[place].tolist()
        bead = aspect is Aspect.BOND and subject in beads
        five, half, most = (below[named] for named in NAMED)
        found.append(
            Chance(
                subject=subject,
                name=names.get(subject, subject),
                aspect=aspect.value,
                nominal=use,
                short=p,
                low=low,
                high=high,
                mean=float(sums[place] / max(total - unknown[place], 1.0)),
                percentiles=(five, half, most),
                drivers=_drivers(model, correlations[place]),
                curve=tuple(zip(PERCENTS, below, strict=True)),
                kind=(FindingKind.MECHANICS if bead else FindingKind.RULE).value,
            )
        )
    return found, chance(anywhere, counts)


def _mean(values: Sequence[Array], weights: Array) -> Array:
    return np.asarray(np.tensordot(weights / weights.sum(), np.stack(values), axes=1), np.float64)


def _drivers(model: Model, correlations: Array) -> tuple[Driver, ...]:
    found = sorted(zip(correlations.tolist(), model.moving, strict=True), key=lambda one: -abs(one[0]))
    return tuple(
        Driver(name=of.name, correlation=value) for value, of in found[:_DRIVERS] if abs(value) >= _DRIVES
    )


def _compared(model: Model, plan: ScatterPlan) -> tuple[str, ...]:
    """Return how far a handful of samples lie from the same ones worked out the long way."""
    rng = np.random.default_rng([plan.seed, HELD])
    by = model.factors_at(rng.random((HELD, len(model.moving))))
    ours = dict(model.judged(by, HELD))
    furthest, at, refused, apart, spans = 0.0, "", 0, 0, 0
    names = {one.id: one.name for one in model.resolved.subjects}
    for sample in range(HELD):
        pulse(sample / HELD)
        try:
            theirs, parted = really(model, by, sample)
        except StringerlabError:
            refused += 1
            continue
        apart += len(parted)
        spans += len(model.spans)
        for key, use in theirs.items():
            off = abs(use - float(ours[key][sample]))
            if np.isfinite(off) and off > furthest:
                furthest, at = off, f" ({names.get(key[0], key[0])}, {key[1]})"
    said = [
        f"{HELD - refused} samples worked out the long way, every ply estimated anew and every section built "
        f"of its ply polygons, differ by at most {furthest:.1e} in utilisation{at}"
    ]
    if refused:
        said.append(f"{refused} of {HELD} samples cannot be drawn as they are: a laminate folds in a bend")
    if apart:
        said.append(
            f"{apart} of {spans} spans of those were not held against it: laminates drawn on one another "
            "changed by more than the drawing allows; each is taken to lie on the other as drawn"
        )
    return tuple(said)


def _left_out(model: Model, nominal: dict[Key, float]) -> Iterator[str]:
    names = {one.id: one.name for one in model.resolved.subjects}
    by_aspect: dict[Aspect, list[str]] = {}
    open_bonds = {one.subject for one in model.glued}
    for (subject, aspect), use in nominal.items():
        if not np.isfinite(use) and not (aspect is Aspect.BOND and subject in open_bonds):
            by_aspect.setdefault(aspect, []).append(names.get(subject, subject))
    for aspect, subjects in by_aspect.items():
        if aspect is Aspect.BOND:
            yield (
                f"bond of {few(subjects)}: laminated in place or without a number; "
                "of bonds only beads in shear are sampled"
            )
        else:
            yield f"{aspect} of {few(subjects)}: not judged without scatter either"
    yield (
        "all other mechanics (ply failure, buckling, crippling, peel, ends of bonds, inserts) and the grid: "
        "each sample would take solvers of its own"
    )


def _notes(model: Model, plan: ScatterPlan, packs: Sequence[Pack], samples: int) -> Iterator[str]:
    lifted, folded, beyond = np.sum([np.asarray(pack["strayed"]) for pack in packs], axis=0).astype(int)
    yield (
        f"{samples} samples of {len(model.moving)} inputs by Sobol's sequence, scrambled anew 16 times with "
        f"seed {plan.seed}; intervals are the wider of that by those 16 and that by counting, at 95 %"
    )
    yield (
        "each input scatters on its own, a choice: in a shop thickness and glass content go together; the "
        "plies of one laminate scatter together, cores and gel coats not at all"
    )
    yield (
        "a thicker laminate keeps its glass content, moduli and strengths, as if more of the same were laid, "
        "while its dry fibre counts as without scatter; what a glass content makes of thickness, moduli and "
        "strengths is the program's own estimate"
    )
    yield (
        "short is short of the method: its design stresses, and what it takes off values that nobody tested "
        "or measured, stay as they are, so that no chance here is one of failure"
    )
    if model.project.as_built is not None:
        yield "the boat is sampled as designed: nothing that was measured of her as built is taken"
    yield "percentiles and rank correlations are means over tasks of up to 4096 samples, 1024 of each ranked"
    if model.glued:
        yield "beads scatter in width and with the speed; the laminates they join count as without scatter"
    error = max((one.error for one in model.cloths.values()), default=0.0)
    if any(one.what is Scattered.GLASS for one in model.moving):
        yield f"estimates between the glass contents worked out are within {error:.1e} of each"
    form = max((one.error for one in model.forms.values()), default=0.0)
    if form > 1e-9:
        yield f"sizes of drawn sections over their thickness are within {form:.1e} of each"
    if lifted:
        yield (
            f"in {lifted} samples a laminate would grow into the shell: the section then stands higher by it"
        )
    if folded:
        yield f"in {folded} samples a laminate folds in a bend of its drawing: it is counted as if it did not"
    if beyond:
        yield f"in {beyond} samples a glass content lies beyond its estimate: that of the nearest counts"


def _unknown(model: Model, nominal: dict[Key, float], unknown: Array, samples: int) -> Iterator[str]:
    names = {one.id: one.name for one in model.resolved.subjects}
    for ((subject, aspect), use), lacks in zip(nominal.items(), unknown.tolist(), strict=True):
        if np.isfinite(use) and lacks:
            yield (
                f"{names.get(subject, subject)}, {aspect}: {lacks:.0f} of {samples} samples have no number "
                "and count as not short"
            )


def _unwatched(part: float, words: str) -> None:
    del part, words
