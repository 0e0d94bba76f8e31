"""A craft, panels and spans as rows, for the checks by method."""

import numpy as np
import pytest

from stringerlab.methods import CraftRow, PanelRows, Plies, SandwichRows, SpanRows
from stringerlab.workings import Known

KNOT = 1852 / 3600
READ = np.array([Known.READ.rank], np.int8)


def one(value: float) -> np.ndarray:
    return np.array([value], float)


@pytest.fixture
def craft() -> CraftRow:
    """6 m on the waterline, 2 m over the chines, 20°, 2000 kg, 20 kn, category C."""
    return CraftRow(
        category="C",
        LWL=6000.0,
        BC=2000.0,
        beta_04=np.radians(20.0),
        m_LDC=2000.0,
        V=20 * KNOT,
        waterline_aft=0.0,
    )


@pytest.fixture
def panel() -> PanelRows:
    """400 × 800 mm, 3 plies: mat, roving, mat."""
    return PanelRows(
        b=one(400),
        l=one(800),
        x=one(1800),
        deadrise=one(np.radians(20)),
        camber=one(0),
        t=one(6),
        dry_mass=one(3600),
        sigma_uf=one(160),
        sigma_uf_marks=READ,
        plies=Plies(
            t=np.array([[2.0, 1.0, 3.0]]),
            E=np.array([[6400.0, 13240.0, 6400.0]]),
            tension=np.array([[85.0, 183.0, 85.0]]),
            compression=np.array([[117.0, 144.0, 117.0]]),
            interlaminar=np.array([[17.0, 14.0, 17.0]]),
            marks=READ,
            names=(("ply 1: mat", "ply 2: roving", "ply 3: mat"),),
        ),
    )


@pytest.fixture
def sandwich() -> SandwichRows:
    """400 × 800 mm, skins of 3 and 2 mm on 20 mm of core."""
    return SandwichRows(
        b=one(400),
        l=one(800),
        x=one(1800),
        deadrise=one(np.radians(20)),
        camber=one(0),
        t_o=one(3),
        t_i=one(2),
        t_c=one(20),
        E_o=one(10000),
        E_i=one(12000),
        dry_mass_o=one(1500),
        dry_mass_i=one(1000),
        sigma_ut_o=one(120),
        sigma_uc_o=one(130),
        sigma_ut_i=one(150),
        sigma_uc_i=one(140),
        E_c=one(80),
        G_c=one(30),
        tau_c=one(1.0),
        ductile=np.array([False]),
        skin_marks=READ,
        core_marks=READ,
    )


@pytest.fixture
def span() -> SpanRows:
    """1000 mm at 500 mm spacing, two fibres: crown in compression governs."""
    return SpanRows(
        lu=one(1000),
        s=one(500),
        x=one(1800),
        deadrise=one(np.radians(20)),
        camber=one(0),
        moment_factor=one(1),
        shear_factor=one(1),
        deflection_factor=one(1),
        end_factor=one(1),
        middle_factor=one(0.5),
        attached=np.array([True]),
        EI=one(2e10),
        fibre_E=np.array([[10000.0, 8000.0, np.nan]]),
        fibre_z=np.array([[80.0, -30.0, np.nan]]),
        fibre_tension=np.array([[100.0, 40.0, np.nan]]),
        fibre_compression=np.array([[60.0, 90.0, np.nan]]),
        fibre_marks=READ,
        fibre_names=(("crown ply 1", "shell ply 1"),),
        web_area=one(600),
        web_tau=one(60),
        web_marks=READ,
        web_depth=one(90),
        web_thickness=one(4),
        crown_width=one(60),
        crown_thickness=one(5),
        free_edge=np.array([False]),
    )
