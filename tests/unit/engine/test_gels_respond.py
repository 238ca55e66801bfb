"""Each agent answers heat, acid, ions, sugar and dose the way a cook would expect."""

import pytest
from builders_engine import HOT, assess_of

from setwell.engine.assessment import AgentResult, Verdict

WARM = "Bloom the gelatin\nWarm to 60 °C, stirring\nChill at 4 °C"
WATER = "500 g distilled water"


def agent(*lines: str, steps: str = HOT, **fields: object) -> AgentResult:
    return assess_of(*lines, steps=steps, **fields).agents[0]


def test_potassium_makes_kappa_set_warmer_and_firmer():
    plain = agent(WATER, "4 g kappa carrageenan")
    salted = agent(WATER, "4 g kappa carrageenan", "1 g potassium chloride")
    assert salted.set_temperature_c.value > plain.set_temperature_c.value + 3
    assert salted.melt_temperature_c.value > plain.melt_temperature_c.value
    assert salted.modulus_kpa.value > plain.modulus_kpa.value


def test_sodium_counts_far_less_than_potassium_for_kappa():
    potassium = agent(WATER, "4 g kappa carrageenan", "2 g potassium chloride")
    sodium = agent(WATER, "4 g kappa carrageenan", "2 g salt")
    assert sodium.set_temperature_c.value < potassium.set_temperature_c.value - 5


def test_milk_makes_kappa_firmer_and_gels_at_less():
    water = agent("500 g water", "1 g kappa carrageenan")
    milk = agent("500 g whole milk", "1 g kappa carrageenan")
    assert water.sets is Verdict.CANNOT_TELL
    assert milk.sets is Verdict.YES
    assert milk.modulus_kpa.value > 3 * water.modulus_kpa.value


def test_melting_lies_above_setting():
    for lines in (
        (WATER, "4 g kappa carrageenan"),
        ("500 g whole milk", "2 g kappa carrageenan"),
        ("500 g whole milk", "3 g iota carrageenan"),
        (WATER, "5 g agar"),
        (WATER, "15 g gelatin"),
    ):
        found = agent(*lines)
        assert found.melt_temperature_c.value >= found.set_temperature_c.value


def test_calcium_makes_iota_set_warmer():
    plain = agent("500 g whole milk", "3 g iota carrageenan")
    limed = agent("500 g whole milk", "3 g iota carrageenan", "3 g calcium lactate")
    assert limed.set_temperature_c.value > plain.set_temperature_c.value


def test_agar_boiled_is_whole_and_warmed_is_not():
    boiled = agent(WATER, "5 g agar", steps="Boil 2 min, stirring\nChill")
    warmed = agent(WATER, "5 g agar", steps="Heat to 70 °C, stirring\nChill")
    assert boiled.hydrated_fraction.value > 0.97
    assert (boiled.hydrates, boiled.sets) == (Verdict.YES, Verdict.YES)
    assert warmed.hydrates is Verdict.NO
    assert warmed.sets is Verdict.NO


def test_an_agent_added_after_the_boil_sees_only_what_follows():
    late = agent(
        WATER, "5 g agar", steps="Boil the water\nCool to 60 °C\nStir in the agar\nHeat to 70 °C"
    )
    assert late.hydrates is Verdict.NO


def test_no_steps_leave_heat_open():
    found = agent("500 g whole milk", "3 g kappa carrageenan", steps="")
    assert found.hydrates is Verdict.CANNOT_TELL
    assert found.hydrated_fraction is None
    assert found.sets is not Verdict.YES


@pytest.mark.parametrize("name", ["kappa carrageenan", "agar", "iota carrageenan"])
def test_late_acid_costs_less_than_hot_acid(name):
    lines = ("450 g water", "40 g lemon juice", f"6 g {name}")
    hot = agent(*lines, steps="Add the lemon juice\nBoil 2 min\nChill")
    late = agent(*lines, steps="Boil 2 min\nCool to 55 °C\nAdd the lemon juice\nChill")
    none = agent("490 g water", f"6 g {name}", steps="Boil 2 min\nChill")
    assert stiffness(hot) < stiffness(late) < stiffness(none)


def stiffness(found):
    return 0.0 if found.modulus_kpa is None else found.modulus_kpa.value


def test_boiled_gelatin_is_weaker():
    gentle = agent(WATER, "15 g gelatin", steps=WARM)
    boiled = agent(WATER, "15 g gelatin", steps="Bloom the gelatin\nBoil 5 min\nChill at 4 °C")
    assert boiled.modulus_kpa.value < gentle.modulus_kpa.value


def test_gelatin_without_a_fridge_does_not_set():
    found = agent(WATER, "15 g gelatin", steps="Bloom the gelatin\nWarm to 60 °C\nCool to 30 °C")
    assert found.sets is Verdict.NO


def test_raw_fruit_enzyme_keeps_gelatin_liquid_and_heat_tames_it():
    raw = agent("200 g pineapple", WATER, "15 g gelatin",
                steps=WARM)  # fmt: skip
    canned = agent("200 g canned pineapple", WATER, "15 g gelatin", steps=WARM)
    assert raw.sets is Verdict.NO
    assert canned.sets is not Verdict.NO


def test_sodium_thins_lambda():
    plain = agent(WATER, "2 g lambda carrageenan")
    salted = agent(WATER, "2 g lambda carrageenan", "3 g salt")
    assert salted.viscosity_mpa_s.value < plain.viscosity_mpa_s.value
    assert plain.sets is Verdict.NO
    assert plain.modulus_kpa is None


def test_lambda_is_never_thinner_than_water():
    found = agent(WATER, "0.05 g lambda carrageenan").viscosity_mpa_s
    assert found.low >= 1.0


def test_a_thick_sauce_is_told_without_an_exponent():
    said = assess_of("500 g whole milk", "10 g lambda carrageenan", steps=HOT).texture.sentence
    assert "mPa·s" in said
    assert "e+" not in said


@pytest.mark.parametrize("name", ["xanthan", "guar gum"])
def test_a_thickener_alone_never_sets(name):
    assert agent(WATER, f"2 g {name}").sets is Verdict.NO


def test_two_gels_without_a_law_add_up_and_say_so():
    found = assess_of("500 g whole milk", "1.5 g kappa carrageenan", "3 g agar", steps=HOT)
    alone = [a.modulus_kpa.value for a in found.agents]
    assert found.texture.modulus_kpa.value == pytest.approx(sum(alone))
    assert found.texture.words
    assert found.texture.sets is Verdict.YES
    assert [note.is_known for note in found.texture.notes] == [False, True]
    assert "simply added" in found.texture.notes[0].text


def test_every_agent_result_says_why():
    found = assess_of("500 g water", "5 g agar", "2 g xanthan", "8 g gelatin", steps=HOT)
    for result in found.agents:
        assert result.set_reason.endswith(".")
        assert result.hydration_reason.endswith(".")
        assert result.dose_verdict
        assert result.evidence
