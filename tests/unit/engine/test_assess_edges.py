"""The edges: nothing, too much, only problems, and impossible numbers for many candidates."""

import pytest
from builders_engine import HOT, assess_of, codes, formula_of

from setwell.engine.agent_results import agent_results
from setwell.engine.assess import assess
from setwell.engine.assessment import Verdict
from setwell.engine.rules.book import findings, rule_masks
from setwell.engine.sweep import assess_many
from setwell.errors import InputError

CUP = formula_of("500 g whole milk", "50 g sugar", "2 g kappa carrageenan", steps=HOT, goal="slice")


def test_an_empty_formula_is_assessed():
    found = assess_of()
    assert (found.lines, found.agents, found.findings) == ((), (), ())
    assert found.batch.finished_g == 0
    assert found.batch.volume_ml is None
    assert found.texture.sets is Verdict.NO
    assert found.figure("brix").estimate.value == 0


def test_blank_lines_are_nothing():
    assert assess_of("", "   ", "").lines == ()


def test_a_formula_of_problems_only_keeps_every_line():
    lines = ("3 feathers", "2 tsp agar", "sugar, 400%", "0 g dust", "???")
    found = assess_of(*lines, steps=HOT)
    assert [line.text.strip() for line in found.lines] == list(lines)
    assert all(line.problem and line.grams is None for line in found.lines)
    assert not found.is_complete
    assert "unread_lines" in codes(found)


def test_five_hundred_lines_are_assessed():
    found = assess_of(*(f"{n + 1} g whole milk" for n in range(500)))
    assert len(found.lines) == 500
    assert found.batch.finished_g == pytest.approx(500 * 501 / 2)


def test_too_many_lines_are_refused_with_a_plain_sentence():
    with pytest.raises(InputError, match="501 ingredient lines; at most 500"):
        assess_of(*(["1 g salt"] * 501))


def test_too_many_steps_are_refused_with_a_plain_sentence():
    with pytest.raises(InputError, match="at most 100"):
        assess(formula_of("1 g salt", steps="Stir\n" * 101))


def test_steps_never_lose_a_word():
    found = assess_of("100 g water", steps="Dance around it\nHeat to 90 °C for 2 min")
    assert [step.text for step in found.steps] == ["Dance around it", "Heat to 90 °C for 2 min"]
    assert "90 °C (194 °F)" in found.steps[1].reading


def test_evaporation_of_almost_everything_never_goes_below_zero():
    found = assess_of("100 g whole milk", evaporation_pct=90)
    assert found.nutrient("water_g").per_batch.value == 0
    assert found.figure("solids").estimate.value <= 100


@pytest.mark.parametrize(
    ("masses", "message"),
    [
        ([[1.0, 2.0]], r"shape \(1, 2\); this formula needs \(n, 3\)"),
        ([1.0, 2.0, 3.0], r"shape \(3,\)"),
        ([[1.0, -2.0, 3.0]], "negative or not finite"),
        ([[1.0, float("nan"), 3.0]], "negative or not finite"),
        ([[1.0, float("inf"), 3.0]], "negative or not finite"),
    ],
)
def test_masses_that_make_no_sense_are_refused(masses, message):
    with pytest.raises(InputError, match=message):
        assess_many(CUP, masses)


@pytest.mark.parametrize("steam", [[-0.1], [1.0], [1.5]])
def test_steam_that_makes_no_sense_is_refused(steam):
    with pytest.raises(InputError, match="Evaporation is a share"):
        assess_many(CUP, [[500, 50, 2]], evaporation=steam)


def test_steam_that_is_no_number_is_refused():
    with pytest.raises(InputError, match="Evaporation is a share"):
        assess_many(CUP, [[500, 50, 2]], evaporation=[float("nan")])


def test_steam_of_another_length_is_refused():
    with pytest.raises(InputError, match="one for each"):
        assess_many(CUP, [[500, 50, 2]] * 3, evaporation=[0.1, 0.2])


def test_every_candidate_is_told_in_words():
    bench = assess_many(CUP, [[500, 50, 0.01], [500, 50, 3], [500, 50, 30]])
    told = [{finding.code for finding in findings(bench, row)} for row in range(3)]
    assert ["does_not_set" in row for row in told] == [True, False, False]
    assert ["dose_high" in row for row in told] == [False, False, True]
    assert [agent_results(bench, row)[0].sets for row in range(3)] == [
        Verdict.NO, Verdict.YES, Verdict.YES,
    ]  # fmt: skip
    assert all(len(mask) == 3 for mask in rule_masks(bench).values())


def test_one_share_of_steam_stands_for_all():
    one = assess_many(CUP, [[500, 50, 2]] * 3, evaporation=0.1).state.composition.finished_g
    assert one.tolist() == pytest.approx([0.9 * 552] * 3)


def test_a_candidate_of_nothing_is_no_number_trap():
    bench = assess_many(CUP, [[0, 0, 0], [500, 50, 2]])
    assert bench.state.composition.finished_g.tolist() == [0, 552]
    assert bench.state.texture.sets.tolist() == [-1, 1]


@pytest.mark.parametrize("dry", ["30 g sugar", "500 g sunflower oil"])
def test_agents_without_water_are_told_as_such(dry):
    found = assess_of(dry, "2 g kappa carrageenan", "1 g locust bean gum", steps="Boil\nChill")
    assert found.texture.viscosity_mpa_s is None
    assert "Hardly any water" in found.texture.sentence


def test_the_thickness_of_a_heavy_syrup_is_marked_as_a_guess():
    # The syrup equation was drawn for 20 to 65 % (genotelle_1978).
    light, heavy = (
        assess_of("100 g water", f"{sugar} g sugar", "0.3 g xanthan", steps="Boil")
        for sugar in (100, 300)
    )
    assert light.texture.viscosity_mpa_s.flags == ()
    assert heavy.texture.viscosity_mpa_s.flags == ("outside the range of the model",)


def test_a_hot_gel_says_why_it_is_liquid():
    cold = "Disperse in hot water\nChill 12 h at 4 °C\nHeat to 75 °C"
    served_cold = assess_of("500 g water", "8 g methylcellulose", steps=cold)
    never_cooled = assess_of(
        "500 g water", "8 g methylcellulose", steps="Heat to 75 °C", serving_temperature_c=70
    )
    assert "Gels only while hot" in served_cold.texture.sentence
    assert "Does not gel as written" in never_cooled.texture.sentence


def test_a_step_without_meaning_here_is_kept_and_says_so():
    strained, boiled = assess_of("500 g water", steps="Strain\nBoil 1 min").steps
    assert (strained.text, strained.reading) == ("Strain", "kept as written")
    assert boiled.reading.startswith("boil")
