"""From an assessment to the numbers and drawings of its texture."""

import re
from dataclasses import replace

import pytest

from setwell.documents.flow_chart import flow_chart_svg
from setwell.documents.temperature_strip import temperature_strip_svg
from setwell.documents.texture_map import texture_map_svg
from setwell.documents.texture_numbers import (
    height_left,
    pot_told,
    readings_told,
    requirement_told,
    texture_numbers,
    word_meanings,
)
from setwell.documents.texture_sheet import map_regions, texture_point, texture_sheet
from setwell.documents.thick_drinks import (
    SWALLOWING_CAUTION,
    thick_drink_evidence,
    thick_drink_ranges,
)
from setwell.domain.formula import formula_make
from setwell.engine.assess import assess
from setwell.engine.assessment import Assessment, Verdict
from setwell.engine.texture_results import FlowPoint, MapPoint, Requirement, ZoneShare
from setwell.provenance import Estimate

STEPS = "Mix powder and sugar\nHeat to 90 °C and hold 5 min\nChill to 4 °C"
GEL = "700 g whole milk\n60 g sugar\n5 g kappa carrageenan"
# Not the end of a carrageenan.
NOT_A_NUMBER = re.compile(r"\b[MLHVv]?(nan|inf)\b")
DRINK = "500 g water\n20 g sugar\n2 g xanthan gum"


def assessed(ingredients: str, steps: str = STEPS) -> Assessment:
    return assess(formula_make(title="Trial", ingredients=ingredients, steps=steps))


@pytest.fixture(scope="module")
def gel() -> Assessment:
    found = assessed(GEL)
    assert found.texture.sets is Verdict.YES
    return found


@pytest.fixture(scope="module")
def drink() -> Assessment:
    found = assessed(DRINK)
    assert found.texture.sets is Verdict.NO
    return found


def keys(assessment: Assessment) -> list[str]:
    return [number.key for number in texture_numbers(assessment)]


def test_a_gel_tells_how_it_breaks_sets_melts_and_looks(gel):
    found = keys(gel)
    wanted = ("stiffness", "stress", "strain", "first_set", "melts", "mouth", "clarity", "weeps")
    assert [key for key in wanted if key not in found] == []
    assert "thickness" not in found


def test_practice_and_the_other_law_stand_beside_the_setting_temperature(gel):
    numbers = {number.key: number for number in texture_numbers(gel)}
    practice = numbers["practice:kappa_carrageenan"]
    assert practice.estimate is not None
    assert len(practice.remark) > 40
    other = numbers["other_law:kappa_carrageenan"]
    assert other.estimate is not None
    assert "square root" in other.remark
    order = list(numbers)
    assert order.index("first_set") < order.index("practice:kappa_carrageenan")


def test_a_drink_tells_its_thickness_and_nothing_of_a_gel(drink):
    found = keys(drink)
    assert "thickness" in found
    assert not {"stiffness", "stress", "strain", "first_set", "melts", "mouth"} & set(found)


def test_what_may_not_set_tells_both_sides(drink):
    both = replace(drink, texture=replace(drink.texture, sets=Verdict.CANNOT_TELL))
    number = next(one for one in texture_numbers(both) if one.key == "thickness")
    assert "if it stays liquid" in number.remark


def test_no_agent_has_no_numbers_and_no_drawing():
    found = assessed("500 g water\n20 g sugar")
    sheet = texture_sheet(found)
    assert texture_numbers(found) == ()
    assert (sheet.map, sheet.strip, sheet.flow) == (None, None, None)


def test_heights_turn_with_the_strain():
    assert height_left(Estimate(0.0, "", 0.0, 0.0, "m")) == "100 % of its height"
    assert height_left(Estimate(7.0, "", 5.0, 9.0, "m")) == (
        "under 1 % of its height (under 1 to under 1 %)"
    )


def test_words_come_with_what_they_mean(gel, drink):
    assert [word for word, _ in word_meanings(gel.texture)] == list(gel.texture.regions)
    assert [word for word, _ in word_meanings(drink.texture)] == [drink.texture.flow_word]
    assert all(meaning for _, meaning in word_meanings(gel.texture))


def test_what_most_likely_does_not_set_neither_weeps_nor_freezes(gel):
    none = replace(gel.texture.modulus_kpa, value=0.0, low=0.0)
    unsure = replace(
        gel.texture,
        sets=Verdict.CANNOT_TELL,
        modulus_kpa=none,
        melt_c=None,
        melts_in_mouth=Verdict.CANNOT_TELL,
    )
    numbers = {one.key: one for one in texture_numbers(replace(gel, texture=unsure))}
    assert not {"weeps", "freezing"} & set(numbers)
    assert numbers["mouth"].words == "cannot tell"


def test_a_melting_point_near_the_mouth_says_why_it_cannot_tell(gel):
    near = replace(gel.texture, melts_in_mouth=Verdict.CANNOT_TELL)
    numbers = {one.key: one for one in texture_numbers(replace(gel, texture=near))}
    assert "close to the warmth of a mouthful" in numbers["mouth"].words


def test_two_gels_name_who_sets_first_and_tell_a_reason_once():
    found = assessed("700 g whole milk\n60 g sugar\n4 g kappa carrageenan\n6 g gelatin")
    numbers = {one.key: one for one in texture_numbers(found)}
    assert numbers["first_set"].remark.startswith("Kappa carrageenan, ")
    assert numbers["second_set"].remark.startswith("Gelatin, ")
    both = assessed("700 g whole milk\n60 g sugar\n4 g kappa carrageenan\n4 g iota carrageenan")
    remarks = [one.remark for one in texture_numbers(both) if one.key.startswith("practice:")]
    assert len(remarks) == 2
    assert remarks[0]
    assert remarks[1] == ""


def test_own_measurements_are_counted_by_agent(gel):
    assert "None of your own measurements" in readings_told(gel)
    agent = gel.agents[0]
    measured = replace(agent, gel=replace(agent.gel, readings=3))
    assert readings_told(replace(gel, agents=(measured,))) == (
        "Own measurements behind these numbers: Kappa carrageenan 3."
    )


def test_a_pot_of_one_temperature_needs_no_word():
    assert pot_told(()) == ""
    assert pot_told(tuple(ZoneShare(zone, 0.97) for zone in ("bottom", "middle", "top"))) == ""
    lagging = (ZoneShare("bottom", 0.9), ZoneShare("middle", 0.6), ZoneShare("top", 0.004))
    assert pot_told(lagging).startswith("The top lags: under 1 % dissolves there, 90 % at the")


def test_a_need_without_a_number_tells_only_the_need():
    need = Requirement("raw enzyme fruit", "none", "", Verdict.NO)
    assert requirement_told(need) == "needs none"


def test_the_regions_of_the_map_cover_every_point_of_it():
    regions = map_regions()
    points = [(e, s) for e in (0.1, 0.55, 0.9, 3.0, 9.0) for s in (0.01, 2.0, 8.0, 20.0, 900.0)]
    assert [one for one in points if not any(r.holds(*one) for r in regions)] == []


def test_a_gel_is_one_star_on_the_map(gel):
    chart = texture_sheet(gel).map
    assert chart is not None
    point = gel.texture.map_point
    assert [(one.kind, one.strain, one.stress) for one in chart.points] == [
        ("this", point.strain, point.stress)
    ]
    assert chart.points[0].log_sd_stress > 0.0
    assert texture_map_svg(chart).startswith("<svg")


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_a_place_that_cannot_be_drawn_is_left_out(bad):
    assert texture_point(None, label="a", kind="this") is None
    assert texture_point(MapPoint(bad, 5.0, 0.1, 0.1, 0.0), label="a", kind="this") is None
    assert texture_point(MapPoint(0.5, bad, 0.1, 0.1, 0.0), label="a", kind="this") is None


def test_doubt_without_a_number_draws_no_line():
    nan = float("nan")
    point = texture_point(MapPoint(0.5, 5.0, nan, -1.0, nan), label="a", kind="version")
    assert point is not None
    assert (point.log_sd_strain, point.log_sd_stress, point.correlation) == (0.0, 0.0, 0.0)


def test_the_strip_has_the_temperatures_of_the_agent_and_of_serving(gel):
    strip = texture_sheet(gel).strip
    assert strip is not None
    assert strip.serving == gel.texture.serving_c
    assert [bar.kind for bar in strip.rows[0].bars] == ["hydrates", "sets", "melts", "practice"]
    assert "served" in temperature_strip_svg(strip)


def test_a_powder_hydrates_where_the_whole_batch_has_to_be(gel, drink):
    strip = texture_sheet(gel).strip
    # Trade fact: kappa must reach 85 °C through the whole batch.
    assert (strip.rows[0].bars[0].kind, strip.rows[0].bars[0].value) == ("hydrates", 85.0)
    cold = texture_sheet(drink).strip
    assert cold.rows[0].bars[0].value < 60.0


def test_an_agent_that_does_not_set_has_no_setting_bar(gel):
    thin = replace(gel, agents=(replace(gel.agents[0], sets=Verdict.NO),))
    strip = texture_sheet(thin).strip
    assert strip is not None
    assert [bar.kind for bar in strip.rows[0].bars] == ["hydrates"]


def test_a_range_without_an_end_is_drawn_without_it(gel):
    open_ended = replace(gel.agents[0].melt_temperature_c, high=float("inf"))
    sheet = texture_sheet(replace(gel, agents=(
        replace(gel.agents[0], melt_temperature_c=open_ended),
    )))  # fmt: skip
    bar = next(one for one in sheet.strip.rows[0].bars if one.kind == "melts")
    assert bar.high is None


def test_only_what_flows_has_a_flow_curve(gel, drink):
    assert texture_sheet(gel).flow is None
    flow = texture_sheet(drink).flow
    assert flow is not None
    assert len(flow.landmarks) >= 5
    assert flow.curves[0].viscosity == tuple(point.value for point in drink.texture.flow)
    assert f"{drink.texture.serving_c:.0f} °C" in flow.y_label
    assert "water" in flow_chart_svg(flow)


def test_a_curve_of_which_nothing_can_be_drawn_is_left_out(drink):
    empty = tuple(FlowPoint(rate, 0.0, 0.0, 0.0) for rate in (0.1, 1.0, 10.0))
    found = replace(drink, texture=replace(drink.texture, flow=empty))
    assert texture_sheet(found).flow is None


@pytest.mark.parametrize(
    "ingredients",
    [
        "",
        "60 g kappa carrageenan",
        "60 g sugar\n40 g kappa carrageenan",
        "100 g water\n40 g konjac",
        "100 g water\nsome of it\n2 g gelatin",
        "200 g pineapple juice\n4 g gelatin",
        "500 g water\n3 g xanthan gum\n3 g locust bean gum\n2 g agar\n5 g corn starch",
        "100 g oil\n2 g gellan gum",
    ],
)
def test_odd_formulas_are_told_and_drawn_without_a_fault(ingredients):
    found = assessed(ingredients, steps="")
    sheet = texture_sheet(found)
    for number in texture_numbers(found):
        assert number.label
        assert number.estimate is not None or number.words
    if sheet.map:
        assert not NOT_A_NUMBER.search(texture_map_svg(sheet.map))
    if sheet.strip:
        assert not NOT_A_NUMBER.search(temperature_strip_svg(sheet.strip))
    if sheet.flow:
        assert not NOT_A_NUMBER.search(flow_chart_svg(sheet.flow))
    assert found.texture.sentence


def test_only_the_old_viscosity_ranges_are_named_and_none_of_the_syringe_levels():
    ranges = thick_drink_ranges()
    assert [one.name for one in ranges] == ["thin", "nectar-like", "honey-like", "spoon-thick"]
    assert all("mPa·s" in one.viscosity for one in ranges)
    assert ranges[-1].viscosity == "above 1750 mPa·s"
    assert {one.source for one in thick_drink_evidence()} == {"ndd_2002"}
    assert SWALLOWING_CAUTION.startswith("Not a swallowing test")
    assert "IDDSI" in SWALLOWING_CAUTION
