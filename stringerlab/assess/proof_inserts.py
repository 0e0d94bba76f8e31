"""Computations behind the published values of bolts and blocks: bearing, and a pull off a face's middle."""

from collections.abc import Callable

from stringerlab.methods.mechanics import insert_forms as forms


def bearing(force: float, diameter: float, thickness: float) -> float:
    """Bearing stress [MPa] of one bolt or pin under a force [N] in a plate [mm]."""
    return float(forms.bolt_bearing(V_ft=force, n_bt=1, d_bt=diameter, t_br=thickness))


def face_edge(force: float, offset: float, length: float, width: float) -> float:
    """Stress [MPa] at the edge that a force [N] this far off the middle lifts, of a face length × width [mm].

    The force pulls where it is above 0; the moment it makes lifts the edge that is asked about.
    """
    moment = abs(force) * offset
    return float(forms.block_peel(T_b=force, M_ft=moment, l_bk=length, w_bk=width, f_v=0.0))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "inserts.bearing": bearing,
    "inserts.face_edge": face_edge,
}
