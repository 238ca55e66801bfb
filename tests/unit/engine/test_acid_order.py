import numpy as np
import pytest
from builders_engine import formula_of

from setwell.engine.acid_order import acid_order
from setwell.engine.assess import bench_build
from setwell.engine.chemistry_results import AcidOrder
from setwell.provenance import Grade

KAPPA = ("400 g water", "60 g sugar", "5 g kappa carrageenan", "20 g lemon juice")
EARLY = (
    "Mix the powder with the sugar, whisk in with the lemon juice\nHeat to 85 °C, hold 10 min\n"
    "Cool to 60 °C\nPour\nChill"
)
LATE = (
    "Mix the powder with the sugar and whisk in\nHeat to 85 °C, hold 10 min\nCool to 60 °C\n"
    "Stir in the lemon juice\nChill"
)


def order_of(*lines: str, steps: str = EARLY) -> AcidOrder | None:
    return acid_order(bench_build(formula_of(*lines, steps=steps)))


def kappa_of(*lines: str, steps: str = EARLY):
    (agent,) = order_of(*lines, steps=steps).agents
    return agent


def test_without_acid_there_is_no_order_to_choose():
    assert order_of("400 g milk", "4 g kappa carrageenan") is None


def test_without_an_agent_there_is_nothing_to_lose():
    assert order_of("400 g water", "20 g lemon juice") is None


def test_an_agent_without_a_law_is_left_out():
    assert order_of("400 g water", "20 g lemon juice", "2 g xanthan") is None


def test_a_batch_of_acid_alone_has_no_late_order():
    assert order_of("400 g lemon juice", "4 g kappa carrageenan") is None


def test_a_batch_that_stays_below_the_late_temperature_has_no_order():
    assert order_of(*KAPPA, steps="Warm to 50 °C, hold 10 min") is None


def test_late_acid_keeps_more_at_every_hold():
    agent = kappa_of(*KAPPA)
    for early, late in zip(agent.early.value[1:], agent.late.value[1:], strict=True):
        assert early < late


def test_a_longer_hold_with_the_acid_in_keeps_less():
    agent = kappa_of(*KAPPA)
    assert (np.diff(agent.early.value) < 0).all()
    # Without acid the hold costs next to nothing.
    assert agent.late.value[0] - agent.late.value[-1] < 0.02


def test_the_range_holds_the_value():
    agent = kappa_of(*KAPPA)
    for curve in (agent.early, agent.late):
        low, value, high = (np.array(part) for part in (curve.low, curve.value, curve.high))
        assert (low <= value).all()
        assert (value <= high).all()
        assert (low >= 0).all()
        assert (high <= 1).all()


def test_more_acid_costs_more():
    weak = kappa_of("400 g water", "5 g kappa carrageenan", "0.15 g citric acid")
    strong = kappa_of("400 g water", "5 g kappa carrageenan", "1 g citric acid")
    assert strong.at(10.0).early.value < weak.at(10.0).early.value


def test_the_curve_meets_what_the_steps_leave():
    # The steps bring the acid in cold, so the way up comes on top of the curve.
    agent = kappa_of(*KAPPA)
    assert agent.own_minutes == 10.0
    assert agent.own.value == pytest.approx(agent.at(10.0).early.value, abs=5.0)


def test_late_steps_keep_what_the_late_curve_says():
    agent = kappa_of(*KAPPA, steps=LATE)
    assert agent.own_acid_c == 60.0
    assert agent.own.value == pytest.approx(agent.at(10.0).late.value, abs=1.0)


def test_the_sentence_names_both_temperatures_and_both_shares():
    agent = kappa_of(*KAPPA)
    row = agent.at(10.0)
    assert agent.sentence.startswith("Added at 60 °C (140 °F) instead of 85 °C (185 °F)")
    assert "a hold of 10 min" in agent.sentence
    assert f"{row.late.value:.0f} % (" in agent.sentence
    assert f"instead of {row.early.value:.0f} % (" in agent.sentence


def test_where_the_order_hardly_matters_it_says_so():
    agent = kappa_of("400 g milk", "5 g kappa carrageenan", "4 g lemon juice")
    assert agent.sentence.startswith("The order hardly matters here")


def test_a_heat_that_nobody_wrote_is_marked():
    agent = kappa_of(*KAPPA, steps="Whisk in the powder\nHeat it all through")
    assert not agent.is_peak_told
    assert agent.peak_c == 85.0


def test_an_acid_whose_moment_nobody_wrote_has_no_result_of_its_own():
    lines = ("Base:", *KAPPA[:3], "Acid:", KAPPA[3])
    agent = kappa_of(*lines, steps="Whisk in the kappa\nHeat to 85 °C, hold 10 min\nChill")
    assert agent.own is None


def test_each_agent_has_its_own_curve():
    order = order_of(*KAPPA, "5 g agar", steps="Boil 5 min")
    by_key = {agent.key: agent for agent in order.agents}
    assert set(by_key) == {"kappa_carrageenan", "agar"}
    assert by_key["agar"].at(5.0).early.value > by_key["kappa_carrageenan"].at(5.0).early.value


def test_recalled_figures_stay_unverified():
    agent = kappa_of(*KAPPA)
    assert all(row.early.grade is Grade.UNVERIFIED for row in agent.rows)


def test_the_table_names_the_hold_times():
    assert [row.minutes for row in kappa_of(*KAPPA).rows] == [0, 2, 5, 10, 20, 30]


def test_the_acids_are_named():
    assert order_of(*KAPPA, "1 g citric acid").acids == (
        "Lemon juice, raw",
        "Citric acid, anhydrous",
    )


def test_the_table_of_the_guide_follows_the_law():
    from pathlib import Path

    from setwell.engine.gelling.acid import loss_laws
    from setwell.science.gels.degradation import loss_time
    from setwell.units import duration_print

    page = Path(__file__).parents[3] / "docs" / "explanation" / "acid-and-heat.md"
    rows = [line for line in page.read_text(encoding="utf-8").splitlines() if " °C (" in line]
    rows = [line.split("|")[1:-1] for line in rows if line.startswith("|")]
    law = loss_laws("kappa_carrageenan")[0]
    assert len(rows) == 3
    for head, *cells in rows:
        celsius = float(head.split()[0])
        for ph, cell in zip((5.0, 4.0, 3.0), cells, strict=True):
            minutes = float(loss_time(celsius + 273.15, ph, law=law)) / 60.0
            rounded = round(minutes / 60.0) * 60.0 if minutes > 60.0 else minutes
            assert duration_print(rounded).replace(".0 ", " ") == cell.strip()
