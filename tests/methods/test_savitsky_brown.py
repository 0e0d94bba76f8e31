"""Savitsky and Brown's accelerations: by hand, their ranges, and what the class forms are against them."""

import math

import pytest

from stringerlab.methods import savitsky_brown
from stringerlab.methods.class_guide_planing import pressures as guide
from stringerlab.methods.class_limits import pressures as limits
from stringerlab.workings import workings
from stringerlab.workings.shown import outside_notes

M, KNOT = 1000.0, 1852 / 3600


def example(**changed: float) -> list[str]:
    """The paper's example as quoted; what is said of its ranges."""
    given = {
        "m_LDC": 827_369 / 9.80665,
        "L_WL": 24.384 * M,
        "B_C": 7.315 * M,
        "beta": math.radians(15),
        "H_s": 1.4021 * M,
        "V": 13.07,
        "theta_r": math.radians(2.880351),
    }
    with workings() as recording:
        savitsky_brown.mean_accelerations(**(given | changed))
    return list(outside_notes(recording.steps, 0))


def test_mean_acceleration_by_hand() -> None:
    # h/b 0.4, τ 4, β 20, V/√L 3, L/b 4, C_Δ 0.5:
    # 0.0104 · 0.484 · 1 (5/3 − 2/3) 9 · 4/0.5
    assert savitsky_brown.mean_acceleration.clause(0.4, 4, 20, 3, 4, 0.5) == pytest.approx(0.3624192)


def test_bow_acceleration_by_hand() -> None:
    # 0.3 (1 + 3.8 (4 − 2.25)/3) = 0.3 · 3.2166667
    assert savitsky_brown.bow_acceleration.clause(0.3, 4, 3) == pytest.approx(0.965)


def test_beam_loading_is_displaced_volume_over_beam_cubed() -> None:
    # 40 ft on 10 ft, 100 long tons to the cube of 0.01 L: 6.4 long tons of 1016.0469 kg in 1025.9 kg/m³
    D_L = savitsky_brown.displacement_length.clause(6.4 * 1016.0469088, 40)
    assert pytest.approx(100) == D_L
    C_Delta = savitsky_brown.beam_loading.clause(D_L, 4, 1025.9)
    assert C_Delta == pytest.approx(6.4 * 1016.0469088 / 1025.9 / (3.048**3))


def test_example_warns_of_its_trim_and_wave_height_only() -> None:
    notes = example()
    assert sorted(note.split(" = ")[0] for note in notes) == ["h_b", "θ_r"]
    assert all("is outside" in note for note in notes)


@pytest.mark.parametrize(
    ("changed", "symbol"),
    [
        ({"m_LDC": 30_000.0}, "D_L"),
        ({"B_C": 4.0 * M}, "l_b"),
        ({"V": 40 * KNOT * 3}, "v_l"),
        ({"beta": math.radians(35)}, "β"),
    ],
)
def test_what_lies_outside_is_said(changed: dict[str, float], symbol: str) -> None:
    assert any(note.startswith(f"{symbol} = ") for note in example(**changed))


def test_rarer_accelerations_are_greater() -> None:
    assert savitsky_brown.highest_average.clause(1.0, 1) == 1
    assert savitsky_brown.highest_average.clause(0.5, 10) == pytest.approx(0.5 * 3.302585)
    assert savitsky_brown.highest_average.clause(0.5, 100) == pytest.approx(0.5 * 5.605170)


def boat_mean(H_s: float) -> float:
    found = savitsky_brown.mean_accelerations(
        m_LDC=6000,
        L_WL=9 * M,
        B_C=2.5 * M,
        beta=math.radians(18),
        H_s=H_s * M,
        V=30 * KNOT,
        theta_r=math.radians(4),
    )
    return float(found.n_cg)


@pytest.mark.parametrize("H_s", [0.5, 1.0, 1.75])
def test_class_guide_is_about_3_46_times_the_mean(H_s: float) -> None:
    n_cg = guide.acceleration.clause(H_s, 2.5, 4, 18, 30, 6000)
    assert n_cg / boat_mean(H_s) == pytest.approx(3.46, rel=0.005)


@pytest.mark.parametrize("H_s", [0.5, 1.0, 1.75])
def test_form_of_limiting_fractions_takes_about_the_highest_hundredth(H_s: float) -> None:
    a_v = limits.acceleration.clause(
        4,
        limits.loading_parameter.clause(9, 2.5, 6000),
        H_s,
        2.5,
        18,
        limits.speed_length_ratio.clause(30, 9),
    )
    hundredth = savitsky_brown.highest_average.clause(boat_mean(H_s), 100)
    assert a_v == pytest.approx(hundredth, rel=0.015)
