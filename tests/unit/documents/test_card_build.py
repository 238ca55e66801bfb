"""What stands on a card."""

import pytest
from builders_assessment import (
    agent_make,
    assessment_make,
    assessment_unread,
    estimate_make,
    findings_with_stop,
    formula_make,
)

from setwell.documents.card import DEFERRAL, Card, card_build
from setwell.domain.formula import Goal
from setwell.domain.pantry import Kitchen
from setwell.engine.assessment import (
    Assessment,
    BatchSize,
    DietResult,
    Figure,
    StepReading,
    Texture,
    Verdict,
)


def built(assessment: Assessment | None = None) -> Card:
    return card_build(
        assessment or assessment_make(),
        version_label="version 3",
        kitchen=Kitchen(name="North bench"),
    )


def test_head_names_kitchen_version_hash_and_yield():
    card = built()
    assert card.kitchen_name == "North bench"
    assert card.version_label == "version 3"
    assert card.content_hash.startswith(card.short_hash)
    assert len(card.short_hash) == 10
    assert card.yield_line == (
        "10 portions of 90.8 g (3.2 oz), 10 molds of 90 mL, "
        "927 g (2 lb 0.7 oz) finished, 908 g (2 lb) usable"
    )
    assert card.goal == "to spoon"
    assert card.serving_temperature == "6 °C (43 °F)"


def test_lines_stand_under_their_headings_as_typed():
    phases = built().phases
    assert [phase.heading for phase in phases] == ["Base", "Finish"]
    first = phases[0].lines[0]
    assert (first.text, first.weight, first.us) == ("600 g oat drink", "600 g", "1 lb 5.2 oz")
    assert first.name == "oat drink"
    assert phases[0].lines[1].us == "1 cup"
    assert phases[0].lines[1].text == f"1 cup {phases[0].lines[1].name}"


def test_only_agents_show_their_percent():
    lines = [line for phase in built().phases for line in phase.lines]
    assert [line.percent for line in lines if line.percent] == ["0.43 %", "0.22 %"]
    assert all(line.is_agent for line in lines if line.percent)


def test_an_unread_line_is_printed_and_marked():
    line = built(assessment_unread()).phases[0].lines[2]
    assert (line.text, line.weight, line.is_read) == ("some sugr", "not read", False)


def test_steps_show_every_temperature_in_both_scales():
    steps = built().steps
    assert [step.temperature for step in steps] == [
        "",
        "85 °C (185 °F)",
        "75 °C (167 °F)",
        "4 °C (39 °F)",
    ]


def test_a_sentence_that_was_read_as_two_steps_stays_in_one_piece():
    typed = "Cool to 35 °C, then stir in the sake.\nPour\nchill."
    read = (
        StepReading(1, "Cool to 35 °C,", "cool", "cool · 35 °C (95 °F)", ""),
        StepReading(2, "then stir in the sake.", "mix", "mix", ""),
        StepReading(3, "Pour", "pour", "pour", ""),
        StepReading(4, "chill.", "chill", "chill · 4 °C", ""),
    )
    card = built(assessment_make(formula=formula_make(steps=typed), steps=read))
    assert [(step.number, step.text, step.temperature) for step in card.steps] == [
        (1, "Cool to 35 °C, then stir in the sake.", "35 °C (95 °F)"),
        (2, "Pour", ""),
        (3, "chill.", "4 °C (39 °F)"),
    ]


def test_gelatin_need_not_heat_the_whole_batch():
    points = built(assessment_make(agents=(agent_make(key="gelatin"),))).critical_points
    assert points[0].endswith("keep it at 55 °C (131 °F) or warmer until all of it is dissolved "
                              "and clear.")  # fmt: skip


def test_critical_points_come_in_the_order_of_work():
    points = built().critical_points
    assert points[0].startswith(
        "Kappa carrageenan: heat the whole batch to at least 85 °C (185 °F)."
    )
    assert "let it cool to just above 71 °C (160 °F)" in points[1]
    assert points[2].startswith("Pour above 71 °C (160 °F)")


def test_acid_waits_for_60_c_where_the_batch_still_pours_then():
    late = agent_make(set_temperature_c=estimate_make(38.0, "°C", 34.0, 42.0), practice_set_c=None)
    points = built(assessment_make(agents=(late,))).critical_points
    assert "at or below 60 °C (140 °F) but above 42 °C (108 °F), and pour at once." in points[1]


def test_acid_waits_for_60_c_where_nothing_sets():
    thick = agent_make(set_temperature_c=None, practice_set_c=None, sets=Verdict.NO)
    points = built(assessment_make(agents=(thick,))).critical_points
    assert points[1].endswith("and stir in the acid parts at or below 60 °C (140 °F).")


@pytest.mark.parametrize(
    ("key", "needed"), [("kappa_carrageenan", "85 °C (185 °F)"), ("iota_carrageenan", "85 °C")]
)
def test_hydration_is_the_figure_that_the_findings_use(key, needed):
    points = built(assessment_make(agents=(agent_make(key=key),))).critical_points
    assert f"heat the whole batch to at least {needed}" in points[0]


def test_an_agent_that_hydrates_cold_needs_no_heat():
    points = built(assessment_make(agents=(agent_make(key="xanthan"),))).critical_points
    assert not any("heat" in point or "Acid" in point for point in points)


def test_nothing_is_said_about_acid_when_the_batch_is_mild():
    mild = assessment_make(solution=(Figure("ph", "pH", estimate_make(6.6, "", 6.2, 7.0)),))
    assert not any("Acid" in point for point in built(mild).critical_points)


def test_acid_is_judged_by_the_lower_end_of_its_range():
    close = assessment_make(solution=(Figure("ph", "pH", estimate_make(4.5, "", 4.2, 4.8)),))
    assert any(point.startswith("Acid after cooling") for point in built(close).critical_points)


def test_a_thickener_has_nothing_to_pour_above():
    thick = agent_make(
        sets=Verdict.NO, set_temperature_c=None, practice_set_c=None, key="xanthan", name="xanthan"
    )
    texture = Texture("Thickens to a creamy sauce.", Verdict.NO, None, "", (), 6.0)
    card = built(assessment_make(agents=(thick,), texture=texture))
    assert card.critical_points == ()
    assert card.success_signs[0] == "Thickens to a creamy sauce."


def test_success_signs_use_the_cooler_side_of_each_range():
    signs = built().success_signs
    assert "Kappa carrageenan is set once the core is below 40 °C (104 °F)." in signs
    assert "It should hold its shape up to about 54 °C (129 °F)." in signs


def test_key_numbers_carry_value_range_and_grade():
    numbers = {number.key: number for number in built().key_numbers}
    assert set(numbers) == {
        "set:kappa_carrageenan",
        "practice_set:kappa_carrageenan",
        "melt:kappa_carrageenan",
        "ph",
        "brix",
        "energy",
    }
    assert numbers["ph"].value == "4.6"
    assert numbers["ph"].range == "4.2–5.1"
    assert numbers["energy"].value == "89 kcal"
    assert numbers["energy"].label == "Energy per portion"
    assert {number.grade for number in numbers.values()} == {"estimated"}


def test_energy_is_per_100_g_when_there_are_no_portions():
    card = built(assessment_make(batch=BatchSize(927.0, 927.0, 908.5, None, None, None)))
    energy = next(number for number in card.key_numbers if number.key == "energy")
    assert (energy.label, energy.value) == ("Energy per 100 g", "98 kcal")


def test_allergens_say_where_they_are_and_how_sure_that_is():
    assert built().allergens == ("oats (oat drink)", "gluten: check the label (oat drink)")


def test_a_claimed_diet_that_does_not_fit_is_printed_as_such():
    broken = DietResult("vegan", Verdict.NO, claimed=True, lines=(2,), reason="milk")
    unclaimed = DietResult("no alcohol", Verdict.NO, claimed=False, lines=(), reason="")
    card = built(assessment_make(diets=(broken, unclaimed)))
    assert card.diets == ("vegan: claimed, but does not fit",)


def test_open_points_are_stops_then_warnings_and_no_notes():
    card = built(assessment_make(findings=findings_with_stop()))
    assert [point.severity for point in card.open_points] == ["stop", "warn"]
    assert card.must_stop
    assert not built().must_stop


def test_cautions_end_with_the_deferral():
    card = built()
    assert [caution.title for caution in card.cautions] == ["Cool quickly"]
    assert card.deferral == DEFERRAL
    assert "does not certify" in card.deferral


def test_remark_names_the_weakest_grade():
    assert built().remark == (
        "Computed, to be proven on the bench. Weakest figure used: estimated "
        "(by analogy, rule of thumb or common practice)."
    )


def test_no_evidence_at_all_counts_as_unverified():
    assert built(assessment_make(evidence=())).grade == "unverified"


def test_an_unspecified_goal_leaves_no_trace():
    card = built(
        assessment_make(formula=formula_make(goal=Goal.UNSPECIFIED, serving_temperature_c=None))
    )
    assert (card.goal, card.serving_temperature) == ("", "")
