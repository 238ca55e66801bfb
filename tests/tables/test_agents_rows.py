"""Loaded texture agents: what is there, and how a figure is asked for."""

import pytest

from setwell.errors import MissingDataError
from setwell.provenance import Grade
from setwell.tables.agents import agent_aliases, agent_rows, gelatin_grades

AGENTS = agent_rows()
every_agent = pytest.mark.parametrize("key", AGENTS)


def test_there_are_37_agents_and_three_of_them_are_blends():
    assert len(AGENTS) == 37
    assert {key for key, row in AGENTS.items() if row.is_blend} == {
        "xanthan_LBG",
        "kappa_LBG",
        "kappa_konjac",
    }


@every_agent
def test_every_agent_has_dose_hydration_ph_and_handling(key):
    row = AGENTS[key]
    for name in ("dose", "hydration_temperature", "hydration_hold", "ph_window", "cold_soluble"):
        assert row.figure(name).unit
    assert {"texture", "clarity", "dispersion", "ions_needed"} <= set(row.texts)
    assert row.regulation


@every_agent
def test_typical_doses_lie_inside_the_overall_dose(key):
    row = AGENTS[key]
    overall = row.figure("dose")
    for use in row.properties.get("dose_typical", ()):
        if (key, use.conditions) == ("konjac", "alkali gel"):
            continue  # noodle dose, quoted above the usual span
        if (key, use.conditions) == ("kappa_carrageenan", "dairy suspension"):
            assert overall.low <= use.value
            continue
        if (key, use.conditions) in {
            ("kappa_carrageenan", "prevents wheying in dairy"),
            ("iota_carrageenan", "suspension"),
            ("kappa_konjac", "milk pudding"),
        }:
            continue  # suspends, or sets milk, below the dose that sets water
        assert overall.low <= use.low <= use.high <= overall.high, use


@every_agent
def test_gelling_agents_have_a_setting_temperature_and_thickeners_have_none(key):
    row = AGENTS[key]
    gels = "gel" in row.kind or row.kind == "blend"
    alone = {"konjac", "starch_tapioca"}  # alkali gel; soft paste gel without a recorded range
    assert ("setting_temperature" in row.properties) == (gels and key not in alone)


@every_agent
def test_composition_adds_up_to_the_powder(key):
    parts = AGENTS[key].composition
    names = ("water_g", "protein_g", "fat_g", "carbohydrate_g", "ash_g")
    assert sum(parts[name].value for name in names) == pytest.approx(100, abs=1.0)
    assert parts["fiber_g"].value <= parts["carbohydrate_g"].value + 1e-9
    assert parts["water_g"].unit == "g/100 g"
    assert parts["sodium_mg"].unit == "mg/100 g"


@pytest.mark.parametrize(
    ("key", "charge"),
    [("kappa_carrageenan", 2.449), ("iota_carrageenan", 3.919), ("sodium_alginate", 5.048)],
)
def test_cations_of_the_powder_balance_its_charge(key, charge):
    parts = AGENTS[key].composition
    equivalents = (
        parts["sodium_mg"].value / 22.990
        + parts["potassium_mg"].value / 39.098
        + 2 * parts["calcium_mg"].value / 40.078
        + 2 * parts["magnesium_mg"].value / 24.305
    ) / 100
    dry = 1 - parts["water_g"].value / 100
    assert equivalents == pytest.approx(charge * dry, rel=0.10)


def test_only_animal_agents_are_not_vegan():
    assert {key for key, row in AGENTS.items() if row.vegan == "no"} == {
        "gelatin",
        "gelatin_fish_cold",
    }
    assert AGENTS["gelatin_fish_cold"].allergen == "fish"
    assert AGENTS["starch_wheat"].allergen == "wheat"
    assert AGENTS["xanthan"].vegan == "check"


def test_a_figure_is_found_by_its_conditions():
    kappa = AGENTS["kappa_carrageenan"]
    assert kappa.figure("dose_typical", "milk gel").value == 0.2
    assert kappa.figure("critical_concentration", "milk").citation.grade is Grade.UNVERIFIED
    assert kappa.figure("whole_batch_temperature").value == 85


def test_an_ambiguous_figure_names_the_conditions_on_record():
    with pytest.raises(MissingDataError, match=r"no dose_typical .*milk gel; .*water gel"):
        AGENTS["kappa_carrageenan"].figure("dose_typical")


def test_an_unknown_figure_names_the_properties_on_record():
    with pytest.raises(MissingDataError, match=r"Xanthan gum has no setting_temperature .*dose"):
        AGENTS["xanthan"].figure("setting_temperature")


def test_loaded_tables_cannot_be_changed():
    with pytest.raises(TypeError):
        AGENTS["new"] = AGENTS["agar"]
    with pytest.raises(TypeError):
        AGENTS["agar"].properties["dose"] = ()


@pytest.mark.parametrize(
    ("name", "key", "is_assumed"),
    [
        ("k-carrageenan", "kappa_carrageenan", False),
        ("agar-agar powder", "agar", False),
        ("silver gelatin", "gelatin", True),
        ("gelatine", "gelatin", True),
        ("gellan", "gellan_LA", True),
        ("pectin", "pectin_HM_slow", True),
        ("carob gum", "locust_bean_gum", False),
        ("cornflour", "starch_corn", True),
        ("methylcellulose", "methylcellulose_A", True),
    ],
)
def test_kitchen_names_lead_to_an_agent(name, key, is_assumed):
    alias = agent_aliases()[name]
    assert alias.key == key
    assert bool(alias.assumption) is is_assumed


@pytest.mark.parametrize("name", ["carrageenan", "seaweed", "gum", "starch", "e407", "stabilizer"])
def test_a_name_that_fits_several_agents_is_left_out(name):
    assert name not in agent_aliases()


def test_every_agent_can_be_written_by_its_own_names():
    names = agent_aliases()
    assert len(names) >= 150
    for key, row in AGENTS.items():
        assert names[row.name.lower()].key == key
        assert names[row.short_name.lower()].key == key


def test_sheets_of_a_stronger_grade_weigh_less():
    grades = sorted(gelatin_grades().values(), key=lambda grade: grade.bloom)
    masses = [grade.sheet_mass for grade in grades]
    assert masses == sorted(masses, reverse=True)
    assert [grade.name for grade in grades] == ["titanium", "bronze", "silver", "gold", "platinum"]
