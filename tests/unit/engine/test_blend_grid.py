"""A blend over its ratios and doses: one batch, no gaps, and the same numbers as one formula."""

import numpy as np
import pytest

from setwell.domain.formula import formula_make
from setwell.domain.pantry import Lot, Pantry
from setwell.engine import blend_grid as grids
from setwell.engine.assess import assess
from setwell.engine.blend_formula import BlendAsk, blend_draft, grid_rows
from setwell.engine.blend_grid import blend_grid, blend_kinds
from setwell.engine.catalog import catalog_build
from setwell.engine.plan import plan_build
from setwell.errors import InputError, OutOfRangeError, UnknownNameError
from setwell.tables.agents import agent_rows

CATALOG = catalog_build()
TWO = ("kappa carrageenan", "locust bean gum")
CREAM = formula_make(
    title="Lime cream",
    ingredients=(
        "Base:\n400 g whole milk\n200 g heavy cream\n10 % sugar\n5 g agar\n\n"
        "Finish:\n10 g lime juice"
    ),
    steps="Boil",
    evaporation_pct=10,
)


def grid_of(agents=TWO, parts=(60.0, 40.0), dose=0.6, **asked):
    draft = blend_draft(BlendAsk(agents, parts, dose, **asked), catalog=CATALOG)
    return blend_grid(draft, catalog=CATALOG)


def numbers_of(point):
    spans = (point.modulus_kpa, point.stress_kpa, point.strain, point.thickness_mpa_s)
    return [n for span in spans if span is not None for n in (span.value, span.low, span.high)]


def test_two_agents_make_21_ratios_and_three_make_66():
    assert [p.shares for p in grid_of().ratios] == [
        pytest.approx((1 - n / 20, n / 20)) for n in range(21)
    ]
    three = grid_of((*TWO, "konjac"), (1.0, 1.0, 1.0)).ratios
    assert len({p.shares for p in three}) == 66
    assert all(sum(p.shares) == pytest.approx(1.0) for p in three)


def test_all_ratios_and_doses_are_one_batch(monkeypatch):
    calls = []
    computed = grids.batch_assess

    def counted(plan, masses, **options):
        calls.append(masses.shape)
        return computed(plan, masses, **options)

    monkeypatch.setattr(grids, "batch_assess", counted)
    grid = grid_of((*TWO, "konjac"), (50.0, 30.0, 20.0))
    assert calls == [(66 + len(grid.doses) + 1, 4)]


def test_doses_are_percent_of_the_finished_batch_also_after_steam():
    draft = blend_draft(BlendAsk(TWO, (75.0, 25.0), 0.8, formula=CREAM), catalog=CATALOG)
    plan = plan_build(draft.grid_formula, catalog=CATALOG, parts={})
    masses = grid_rows(draft, plan, np.array([[0.6, 0.2], [0.0, 0.0]]))
    finished = masses.sum(axis=1) * 0.9
    assert 100 * masses[0, :2] / finished[0] == pytest.approx([0.6, 0.2])
    assert masses[1, :2].tolist() == [0.0, 0.0]


@pytest.mark.parametrize("base", ["water", "whole milk", "orange juice"])
def test_the_middle_of_the_grid_is_what_the_formula_alone_gives(base):
    grid = grid_of(base=base)
    alone = assess(grid.formula, catalog=CATALOG).texture
    now = grid.now
    assert now.sets is alone.sets
    if alone.modulus_kpa is None:
        assert now.modulus_kpa is None
    else:
        # The lines are rounded to what a scale shows.
        assert now.modulus_kpa.value == pytest.approx(alone.modulus_kpa.value, rel=0.02)
        assert now.strain.value == pytest.approx(alone.fracture_strain.value, rel=0.02)


@pytest.mark.parametrize("key", sorted(agent_rows()))
def test_every_agent_with_a_partner_has_numbers_at_all_ratios_without_a_warning(key):
    partner = "iota_carrageenan" if key == "kappa_carrageenan" else "kappa_carrageenan"
    names = tuple(agent_rows()[one].name for one in (key, partner))
    with np.errstate(all="raise", under="ignore"):
        grid = grid_of(names, dose=1.0, base="whole milk", calcium_lactate_pct=0.2)
    assert [agent.key for agent in grid.agents] == [key, partner]
    known = {kind.key for kind in blend_kinds()}
    for point in (*grid.ratios, *grid.doses):
        assert point.kind in known
        assert np.isfinite(numbers_of(point)).all()


def test_a_pure_end_is_what_its_agent_alone_gives():
    end = grid_of(base="whole milk").ratios[0]
    alone = assess(
        formula_make(
            title="Alone", ingredients="994 g whole milk\n6 g kappa carrageenan",
            steps=grid_of(base="whole milk").formula.steps, serving_temperature_c=4,
        ),
        catalog=CATALOG,
    ).texture  # fmt: skip
    assert end.modulus_kpa.value == pytest.approx(alone.modulus_kpa.value, rel=0.05)


def test_the_best_ratios_are_the_highest_of_the_grid():
    grid = grid_of(base="whole milk")
    best = {one.what: one.shares for one in grid.best}
    stiffest = max(grid.ratios, key=lambda p: p.modulus_kpa.value if p.modulus_kpa else 0.0)
    assert best["stiffest"] == stiffest.shares
    # This pair was published for the energy to break, another for the stress.
    assert set(best) == {"stiffest", "most work to break"}
    other = grid_of(("agar", "locust bean gum"), base="water", dose=1.0)
    assert {one.what for one in other.best} == {"stiffest", "hardest to break"}


def test_thickeners_are_marked_where_they_are_thickest():
    grid = grid_of(("xanthan gum", "guar gum"), (1.0, 1.0), base="water")
    assert [one.what for one in grid.best] == ["thickest"]
    assert {point.kind for point in grid.ratios} == {"liquid"}
    assert all(point.modulus_kpa is None for point in grid.ratios)


def test_without_a_dose_nothing_sets_and_it_is_said():
    grid = grid_of(dose=0.0, base="whole milk")
    assert {point.kind for point in grid.ratios} == {"liquid"}
    assert grid.best == ()
    assert "nothing sets" in grid.warnings[0]
    # Other doses are shown all the same, to find one.
    assert any(point.kind != "liquid" for point in grid.doses)
    assert "carrageenan" not in grid.formula.ingredients


def test_a_dose_far_outside_of_any_use_is_computed_and_warned_of():
    (warning,) = grid_of(dose=40.0).warnings
    assert "far outside of any use" in warning
    assert grid_of(dose=0.6).warnings == ()
    assert max(point.dose_pct for point in grid_of(dose=40.0).doses) <= 60.0


def test_parts_that_do_not_make_100_are_normalized_and_said():
    grid = grid_of(parts=(2.0, 1.0))
    assert grid.shares == pytest.approx((2 / 3, 1 / 3))
    assert "add up to 3, not 100" in grid.remarks[0]
    assert grid_of().remarks == ()


def test_a_formula_gives_its_lines_without_its_agents():
    grid = grid_of(formula=CREAM, potassium_chloride_pct=0.1)
    lines = grid.formula.ingredients.splitlines()
    assert "5 g agar" not in lines
    assert lines[-1] == "10 g lime juice"
    assert "Finish:" in lines
    # Percent lines come in grams, so that they stay what they were.
    assert next(line for line in lines if line.endswith("sugar")).split()[1] == "g"
    assert lines.index("Base:") > max(n for n, line in enumerate(lines) if "carrageenan" in line)
    assert grid.formula.evaporation_pct == 10
    assert "without its agents" in grid.remarks[0]


def test_names_with_a_comma_stay_the_agent_that_was_meant():
    grid = grid_of(("Gellan gum, high acyl", "Gellan gum, low acyl"))
    assert [agent.key for agent in grid.agents] == ["gellan_HA", "gellan_LA"]
    read = assess(grid.formula, catalog=CATALOG)
    assert {agent.key for agent in read.agents} == {"gellan_HA", "gellan_LA"}


def test_the_lot_in_use_counts():
    lot = Lot(agent="Kappa carrageenan", lot_code="K-7", strength_factor=0.5, in_use=True)
    weak = catalog_build(Pantry(lots=(lot,)))
    draft = blend_draft(BlendAsk(TWO, (60.0, 40.0), 0.6, "whole milk"), catalog=weak)
    grid = blend_grid(draft, catalog=weak)
    assert grid.agents[0].lot == "K-7"
    assert grid.now.modulus_kpa.value < grid_of(base="whole milk").now.modulus_kpa.value


def test_steps_follow_the_agents_the_heat_and_the_serving():
    steps = grid_of(("gelatin", "agar"), heat_c=None, serving_c=50.0).formula.steps
    assert steps.startswith("Bloom the gelatin")
    assert "Heat" not in steps
    assert steps.endswith("Cool to 50 °C")
    assert grid_of(heat_c=88.0, hold_min=3.0).formula.steps.splitlines()[1] == (
        "Heat to 88 °C, stirring all the time, and hold 3 min"
    )


@pytest.mark.parametrize(
    ("asked", "field", "kind"),
    [
        ({"agents": ("kappa", "sand")}, "agent_2", UnknownNameError),
        ({"agents": ("kappa", "whole milk")}, "agent_2", InputError),
        ({"agents": ("kappa", "")}, "agent_2", InputError),
        ({"agents": ("kappa", "kappa carrageenan")}, "agent_2", InputError),
        ({"agents": ("kappa",), "parts": (1.0,)}, "agent_2", InputError),
        ({"parts": (1.0,)}, "part_1", InputError),
        ({"parts": (0.0, 0.0)}, "part_1", InputError),
        ({"parts": (-1.0, 2.0)}, "part_1", OutOfRangeError),
        ({"parts": (float("nan"), 2.0)}, "part_1", OutOfRangeError),
        ({"dose": 60.5}, "dose", OutOfRangeError),
        ({"dose": -1.0}, "dose", OutOfRangeError),
        ({"dose": float("nan")}, "dose", OutOfRangeError),
        ({"base": "sunflower oil"}, "base", InputError),
        ({"base": "moon dust"}, "base", UnknownNameError),
        ({"base": "agar"}, "base", InputError),
        ({"base": ""}, "base", InputError),
        ({"potassium_chloride_pct": 9.0}, "potassium_chloride", OutOfRangeError),
        ({"calcium_lactate_pct": -1.0}, "calcium_lactate", OutOfRangeError),
        ({"stirring": "wildly"}, "stirring", InputError),
        (
            {"formula": formula_make(title="Bare", ingredients="5 g agar")},
            "formula", InputError,
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_tried_is_told_with_its_field(asked, field, kind):
    with pytest.raises(kind) as told:
        grid_of(**asked)
    assert told.value.field == field
    assert told.value.message


def test_the_nearest_names_of_an_unknown_agent_are_agents():
    with pytest.raises(UnknownNameError) as told:
        grid_of(("kappa", "locust ben gum"))
    assert "Locust bean gum" in told.value.nearest
    assert "Nearest: " in told.value.hint
