"""Blends with what this kitchen has."""

from dataclasses import replace

import pytest

from setwell.domain.formula import formula_make
from setwell.domain.pantry import Lot, OwnAgent, OwnFood
from setwell.domain.texture_reading import TextureReading
from setwell.engine import blend_grid as grids
from setwell.errors import InputError
from setwell.services import blend_charts, pantry
from setwell.services.assessment import formula_assess
from setwell.services.blend_explorer import (
    BlendAsk,
    BlendPoint,
    Span,
    agent_choices,
    base_names,
    blend_explore,
    blend_kinds,
)
from setwell.services.formulas import formula_create, formula_save
from setwell.services.results import Verdict
from setwell.services.texture_readings import texture_reading_record
from setwell.tables.agents import agent_rows

pytestmark = pytest.mark.django_db

TWO = BlendAsk(("kappa carrageenan", "locust bean gum"), (60.0, 40.0), 0.6, "whole milk")
THREE = BlendAsk(("kappa", "iota", "konjac"), (50.0, 30.0, 20.0), 0.8, "whole milk")
CREAM = "400 g whole milk\n200 g heavy cream\n5 g kappa carrageenan"


def chart_of(answer, key):
    return next(chart for chart in answer.charts if chart.key == key)


def test_two_agents_have_a_band_a_path_and_doses():
    answer = blend_explore(ask=TWO)
    assert [chart.key for chart in answer.charts] == ["ratio", "path", "doses"]
    assert all(chart.svg.startswith("<svg") for chart in answer.charts)
    band = chart_of(answer, "ratio")
    assert len(band.table.rows) == 21
    assert "Stiffness" in band.svg
    assert "this formula 60:40" in band.svg


def test_three_agents_have_a_triangle_with_the_blend_marked():
    answer = blend_explore(ask=THREE)
    assert [chart.key for chart in answer.charts] == ["triangle", "doses"]
    triangle = chart_of(answer, "triangle")
    assert len(triangle.table.rows) == 66
    assert 'class="point point-this"' in triangle.svg
    assert "50 % Kappa carrageenan, 30 % Iota carrageenan, 20 % Konjac gum" in triangle.svg


def test_charts_use_the_grid_that_was_computed(monkeypatch):
    calls = []
    computed = grids.batch_assess
    monkeypatch.setattr(
        grids, "batch_assess", lambda *given, **named: calls.append(1) or computed(*given, **named)
    )
    answer = blend_explore(ask=THREE)
    assert calls == [1]
    assert len(answer.charts) == 2


def test_every_table_has_as_many_cells_as_heads():
    for ask in (TWO, THREE):
        for chart in blend_explore(ask=ask).charts:
            assert {len(row) for row in chart.table.rows} == {len(chart.table.header)}


def test_the_map_letters_are_those_of_the_table():
    path = chart_of(blend_explore(ask=TWO), "path")
    letters = [row[1] for row in path.table.rows if row[1] != "–"]
    assert letters == [chr(ord("a") + n) for n in range(len(letters))]
    assert path.table.rows[0][:2] == ("60:40", "a")


def test_tables_go_by_what_changes():
    answer = blend_explore(ask=TWO)
    ratios, doses = chart_of(answer, "ratio").table, chart_of(answer, "doses").table
    assert ratios.header[0] == "Kappa carrageenan : Locust bean gum"
    assert [row[0] for row in ratios.rows][::10] == ["100:0", "50:50", "0:100"]
    assert {row[-1] for row in ratios.rows} == {"", "stiffest", "most work to break"}
    assert doses.header[0] == "Dose, %"
    assert doses.rows[0][0] == "0.6"
    pure = blend_explore(ask=replace(TWO, parts=(0.0, 100.0)))
    assert chart_of(pure, "path").table.rows[0][0] == "0:100"


def test_without_a_gel_there_is_no_map_and_it_is_said():
    answer = blend_explore(ask=BlendAsk(("xanthan gum", "guar gum"), (1.0, 1.0), 0.5, "water"))
    assert chart_of(answer, "path").svg == ""
    assert "nothing to place" in chart_of(answer, "path").says
    assert "Thickness when stirred" in chart_of(answer, "ratio").svg


def test_the_blend_is_told_as_the_formula_editor_will_tell_it():
    answer = blend_explore(ask=TWO)
    told = formula_assess(formula=answer.formula)
    assert told.texture.sentence == answer.texture.sentence
    assert all(line.problem == "" for line in told.lines)


def test_only_what_stops_or_warns_is_told():
    sour = blend_explore(ask=BlendAsk(("kappa", "gelatin"), (1.0, 1.0), 1.0, "lemon juice"))
    assert {one.severity.value for one in sour.findings} <= {"stop", "warn"}
    assert any("acid" in one.title.casefold() for one in sour.findings)


def test_konjac_brings_its_caution():
    assert "konjac" in {one.code for one in blend_explore(ask=THREE).cautions}
    assert "konjac" not in {one.code for one in blend_explore(ask=TWO).cautions}


def test_a_saved_formula_is_a_base_in_any_of_its_versions():
    first = formula_make(title="Cream", ingredients=CREAM)
    saved = formula_create(formula=first)
    second = first.revised(ingredients=f"{CREAM}\n50 g sugar")
    formula_save(formula_id=saved.formula_id, formula=second, base_number=1)
    newest = blend_explore(ask=TWO, formula_id=saved.formula_id)
    before = blend_explore(ask=TWO, formula_id=saved.formula_id, number=1)
    assert "50 g sugar" in newest.formula.ingredients
    assert "sugar" not in before.formula.ingredients
    assert "5 g kappa carrageenan" not in newest.formula.ingredients.splitlines()


@pytest.mark.parametrize("number", [None, 7])
def test_a_formula_that_is_not_there_is_told_at_its_field(number):
    saved = formula_create(formula=formula_make(title="Cream", ingredients=CREAM))
    wanted = saved.formula_id if number else saved.formula_id + 99
    with pytest.raises(InputError) as told:
        blend_explore(ask=TWO, formula_id=wanted, number=number)
    assert told.value.field == "formula"


def test_own_agents_lots_and_foods_can_be_chosen():
    own = OwnAgent(name="House Kappa", based_on="kappa carrageenan", strength_factor=0.5)
    pantry.agent_save(id=None, document=own)
    lot = Lot(agent="Agar", lot_code="A-3", strength_factor=1.1, in_use=True)
    pantry.lot_save(id=None, document=lot)
    pantry.food_save(id=None, document=OwnFood(name="House stock"))
    groups = dict(agent_choices())
    assert [one.name for one in groups["This kitchen's own"]] == ["House Kappa"]
    lots = {one.name: one.lot for ones in groups.values() for one in ones}
    assert lots["Agar"] == "A-3"
    assert "House stock" in base_names()
    weak = blend_explore(
        ask=BlendAsk(("House Kappa", "locust bean gum"), (60.0, 40.0), 0.6, "whole milk")
    )
    assert weak.grid.now.modulus_kpa.value < blend_explore(ask=TWO).grid.now.modulus_kpa.value


@pytest.mark.parametrize("parts", [(60.0, 40.0), (0.0, 100.0)])
def test_own_measurements_move_the_whole_grid_and_are_counted(parts):
    ask = replace(TWO, parts=parts)
    before = blend_explore(ask=ask)
    stiff = blend_explore(ask=replace(TWO, parts=(100.0, 0.0)))
    saved = formula_create(formula=stiff.formula)
    # Twice what the tables expect under a plunger of 12.7 mm, 4 mm deep.
    usual = 8 * 1000 * stiff.grid.now.modulus_kpa.value * 6.35e-3 * 4e-3 / 9.80665 * 1000
    reading = TextureReading(kind="firmness_press", value=2 * usual, depth_mm=4)
    texture_reading_record(formula_id=saved.formula_id, number=1, document=reading)
    after = blend_explore(ask=ask)
    assert (before.readings, after.readings) == (0, 1)
    pure = (before.grid.ratios[0].modulus_kpa, after.grid.ratios[0].modulus_kpa)
    assert pure[1].value > 1.2 * pure[0].value
    assert pure[1].high / pure[1].low < pure[0].high / pure[0].low


def test_all_table_agents_are_offered_once():
    offered = [one.name for _, ones in agent_choices() for one in ones]
    assert sorted(offered) == sorted(row.name for row in agent_rows().values())


def test_usual_bases_are_foods_with_water():
    for base in base_names():
        ask = BlendAsk(("agar", "guar gum"), (1.0, 1.0), 1.0, base)
        assert blend_explore(ask=ask, has_charts=False).charts == ()


def test_every_kind_has_a_pattern_of_its_own():
    kinds = blend_kinds()
    assert len({kind.name for kind in kinds}) == len(kinds) == 8


@pytest.mark.parametrize(
    ("value", "said"), [(0.02, "<1"), (1.23, "1.2"), (99.4, "99"), (456.0, "456"), (9292.0, "9k")]
)
def test_labels_in_the_triangle_are_short(value, said):
    stiff = Span(value, 0.0, value)
    point = BlendPoint((1.0, 0.0, 0.0), 1.0, Verdict.YES, "tender", stiff, None, None, None)
    assert blend_charts.stiffness_label(point) == said
