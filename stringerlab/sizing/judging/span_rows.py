"""The spans of one section, of very many designs: plating put to it, judged by the method's own formulas."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, nan, radians

import numpy as np

from stringerlab.layout import End, Span
from stringerlab.methods import CraftRow, EndFactors, Method, PlatingRows, PressureRows, SpanRows, end_factors
from stringerlab.methods.mechanics.beams import greatest_deflection
from stringerlab.project.wishes import Holds
from stringerlab.sizing.judging.bare import Bare, Source, Whole
from stringerlab.sizing.judging.demands import Asked
from stringerlab.sizing.judging.lookups import Index, Lookup
from stringerlab.sizing.judging.stacks import Stacks
from stringerlab.sizing.judging.tally import Tally
from stringerlab.sizing.judging.varied import Sizes
from stringerlab.sizing.records import Genes
from stringerlab.workings import Array


@dataclass(frozen=True, slots=True, eq=False)
class SpanPart:
    """A span as it is judged and built."""

    span: Span
    sizes: Sizes
    """Its own numbers that change: lu, s."""
    platings: Lookup | None
    """Number of the plating under it among the platings; None: it is not judged."""
    built: float | None
    """How long it is built with its mirror image [mm]; None: lu × count."""

    @property
    def columns(self) -> set[int]:
        """Of genes it depends on, but for its section's."""
        under = () if self.platings is None else self.platings.of.columns
        return {*self.sizes.columns, *under}


@dataclass(frozen=True, slots=True, eq=False)
class _Done:
    """Sections with so much of a plating under each, as they are needed again by another span."""

    plating: Index
    width: Array
    whole: Whole


class SpanCell:
    """All spans of one section in one setting of the boat.

    Parameters
    ----------
    source
        The section.
    section
        Its id.
    parts
        Its spans; none at all: the section must be sound, and is nowhere.
    method, craft, asked
        Who judges what, of which craft.
    platings
        Laminates under spans.
    """

    def __init__(
        self,
        source: Source,
        section: str,
        parts: Sequence[SpanPart],
        method: Method,
        craft: CraftRow,
        asked: Asked,
        platings: Stacks,
    ) -> None:
        self.source, self.section, self.parts = source, section, tuple(parts)
        self.method, self.craft, self.asked, self.platings = method, craft, asked, platings
        own = set(source.columns).union(*(part.columns for part in parts))
        self.columns = tuple(sorted(own))
        self._ends = [end_factors([part.span.ends]) for part in parts]

    def tally(self, genes: Genes) -> Tally:
        """Return what its spans come to, of every design."""
        n = len(genes)
        tally = Tally.of(n, len(self.asked.demands))
        bare = self.source.bare(genes)
        tally.sound &= bare.sound
        with np.errstate(all="ignore"):
            heights = [
                place
                for place in self.asked.of_section(self.section)
                if self.parts or self.section in self.asked.demands[place].of
            ]
            self.asked.put_ratios(tally, heights, bare.height)
            if heights:
                self.asked.standing.hear((self.section, Holds.HEIGHT), bare.height)
            lookups = [part.platings for part in self.parts if part.platings is not None]
            platings = {one: one(genes) for one in dict.fromkeys(lookups)}
            done: list[_Done] = []
            for part, ends in zip(self.parts, self._ends, strict=True):
                self._put(tally, genes, bare, part, ends, platings, done)
        return tally

    def _put(
        self,
        tally: Tally,
        genes: Genes,
        bare: Bare,
        part: SpanPart,
        ends: EndFactors,
        platings: Mapping[Lookup, Index],
        done: list[_Done],
    ) -> None:
        span, n = part.span, len(genes)
        lu, s, sound = part.sizes.of(genes, "lu"), part.sizes.of(genes, "s"), part.sizes.sound(genes)
        tally.sound &= sound
        length = lu * span.count if part.built is None else part.built
        tally.mass += bare.mass * length
        tally.cost += bare.cost * length
        tally.hours += bare.hours * length
        if part.platings is None:
            return
        high, long = room_asked(span)
        if high > -inf:
            tally.sound &= bare.height > high
        if long > -inf:
            tally.sound &= lu >= long
        plating = platings[part.platings]
        whole = self._whole(bare, plating, lu, s, done)
        tally.sound &= self.platings.per_stack("sound").take(plating) > 0
        full = np.ones(n)
        rows = SpanRows(
            lu=full * lu,
            s=full * s,
            x=full * span.x,
            deadrise=full * radians(span.deadrise),
            camber=full * span.camber,
            surface=span.surface,
            height=full * _number(span.height),
            head=full * _number(span.head),
            moment_factor=full * ends.moment,
            shear_factor=full * ends.shear,
            deflection_factor=full * ends.deflection,
            end_factor=full * ends.end,
            middle_factor=full * ends.middle,
            attached=np.full(n, span.attached),
            EI=whole.EI,
            fibre_E=whole.E.T,
            fibre_z=whole.z.T,
            fibre_tension=whole.tension.T,
            fibre_compression=whole.compression.T,
            fibre_marks=np.zeros(n, np.int8),
            fibre_names=(),
            web_area=bare.web_area,
            web_tau=bare.web_tau,
            web_marks=np.zeros(n, np.int8),
            web_depth=bare.web_depth,
            web_thickness=bare.web_thickness,
            crown_width=bare.crown_width,
            crown_thickness=bare.crown_thickness,
            free_edge=bare.free_edge,
            dies=np.full(n, dies(span)),
            duties=(span.duty,) * n,
        )
        self.asked.put(tally, span, self.method.judge_spans(self.craft, rows))
        places = self.asked.reads(Holds.DEFLECTION, span)
        if places and self.method.pressure is not None:
            self._put_deflection(tally, span, rows, places)

    def _put_deflection(self, tally: Tally, span: Span, rows: SpanRows, places: Sequence[int]) -> None:
        assert self.method.pressure is not None
        P = self.method.pressure(
            self.craft,
            PressureRows(
                of_spans=True,
                surface=rows.surface,
                width=rows.s,
                length=rows.lu,
                x=rows.x,
                deadrise=rows.deadrise,
                height=np.asarray(rows.height),
                head=np.asarray(rows.head),
            ),
        )
        w = greatest_deflection(f_w=rows.deflection_factor, P=P, s=rows.s, l_u=rows.lu, EI=rows.EI)
        part = np.nan_to_num(w / rows.lu, nan=0.0, posinf=np.inf)
        self.asked.standing.hear((span.id, Holds.DEFLECTION), part)
        self.asked.put_ratios(tally, places, part)

    def _whole(self, bare: Bare, plating: Index, lu: Array, s: Array, done: "list[_Done]") -> Whole:
        """Return sections with the plating that counts under them; of equal ones what is done already."""
        n, held = len(plating), self.platings
        same = plating[:1] if n and (plating == plating[0]).all() else plating
        per: dict[str, Array] = {
            name: held.per_stack(name).take(same) for name in ("skin", "sandwich", "E_G", "EA", "ES", "EI")
        }
        full = np.ones(n)
        width = self.method.plating(
            PlatingRows(
                s=full * s,
                lu=full * lu,
                base_width=bare.base_width,
                t=full * per["skin"],
                sandwich=np.broadcast_to(per["sandwich"] > 0, n),
                E_G=full * per["E_G"],
            )
        )
        for known in done:
            if known.plating is plating and np.array_equal(known.width, width, equal_nan=True):
                return known.whole
        EA_p, ES_p = width * per["EA"], width * per["ES"]
        EA = bare.EA + EA_p
        z_na = (bare.EA * bare.z_na + ES_p) / EA
        away = bare.z_na - z_na
        EI = bare.EI + bare.EA * away * away + width * per["EI"] - z_na * (2 * ES_p - z_na * EA_p)
        whole = _with_fibres(bare, z_na, EI, lambda name: held.per_ply(name).take(same, axis=1))
        if bare.exact is not None:
            whole = self._exact(bare.exact, plating, width, whole)
        done.append(_Done(plating, np.asarray(width), whole))
        return whole

    def _exact(self, exact: Index, plating: Index, width: Array, whole: Whole) -> Whole:
        """Return sections, those that are not level drawn with their plating: each combination once."""
        width = np.broadcast_to(width, len(plating))
        rows = np.flatnonzero(exact >= 0)
        keys = list(zip(exact[rows].tolist(), plating[rows].tolist(), width[rows].tolist(), strict=True))
        drawn = {key: self.source.exactly(*key) for key in dict.fromkeys(keys)}
        most = max(len(whole.E), *(len(one.E) for one in drawn.values()))
        EI = whole.EI.copy()
        E, z, tension, compression = (
            np.vstack([values, np.full((most - len(values), len(plating)), nan)])
            for values in (whole.E, whole.z, whole.tension, whole.compression)
        )
        by_key: dict[tuple[int, int, float], list[int]] = {}
        for row, key in zip(rows.tolist(), keys, strict=True):
            by_key.setdefault(key, []).append(row)
        for key, some in by_key.items():
            one, count = drawn[key], len(drawn[key].E)
            EI[some] = one.EI
            for held, values in (
                (E, one.E),
                (z, one.z),
                (tension, one.tension),
                (compression, one.compression),
            ):
                held[:, some] = nan
                held[:count, some] = values[:, None]
        return Whole(EI=EI, E=E, z=z, tension=tension, compression=compression)


def _with_fibres(bare: Bare, z_na: Array, EI: Array, of: Callable[[str], Array]) -> Whole:
    """Return sections with the fibres of their plating, by their furthest heights from the neutral axis."""
    n = len(z_na)
    above = bool((z_na >= 0).all())
    E, tension, compression = (
        of(f"sort_{name}" if above else name) for name in ("E", "tension", "compression")
    )
    top, bottom = bare.z_top - z_na, bare.z_bottom - z_na
    z = np.empty((len(top) + len(E), n))
    own, under = z[: len(top)], z[len(top) :]
    np.copyto(own, np.where(top >= -bottom, top, bottom))
    if above:
        np.subtract(of("sort_bottom"), z_na, out=under)
    else:
        top, bottom = of("z_top") - z_na, of("z_bottom") - z_na
        np.copyto(under, np.where(top >= -bottom, top, bottom))

    def both(own: Array, under: Array) -> Array:
        return np.concatenate([own, np.broadcast_to(under, (len(under), n))])

    return Whole(
        EI=EI,
        E=both(bare.E, np.where(E > 0, E, nan)),
        z=z,
        tension=both(bare.tension, tension),
        compression=both(bare.compression, compression),
    )


def room_asked(span: Span) -> tuple[float, float]:
    """Return what a span's openings, landings and crossings ask: more height than the first, this length."""
    high = [hole.bottom + hole.height for hole in span.openings]
    high += [one.height for one in span.landings if one.height is not None and one.taper]
    long = [hole.x + hole.width / 2 for hole in span.openings]
    long += [crossing.x for crossing in span.crossings]
    if tapers := sum(one.taper for one in span.landings):
        long.append(tapers)
    return max(high, default=-inf), max(long, default=-inf)


def dies(span: Span) -> bool:
    """Whether an end that is not held may die on bare skin: it does not say that a support carries it."""
    return any(
        end is not End.HELD and not landing.on.supports
        for end, landing in zip(span.ends, span.landings, strict=True)
    )


def _number(value: float | None) -> float:
    return nan if value is None else value


__all__ = ["SpanCell", "SpanPart"]
