"""The method of a proposal, judged by the engine's own reading of its steps."""

from functools import cache
from itertools import combinations

import pytest

from setwell.domain.brief import brief_make
from setwell.domain.steps import StepKind, steps_parse
from setwell.engine.assess import assess
from setwell.engine.assessment import Severity, Verdict
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.method import method_for
from setwell.tables.agents import agent_rows

CATALOG = catalog_build()
BASES = {
    "sugar water": "900 g water\n100 g sugar",
    "milk": "1000 g whole milk",
    "juice": "950 g orange juice\n50 g sugar",
}
SOUR = "900 g water\n80 g sugar\n20 g lemon juice"
# What a method can do something about: heat, lumps, blooming, acid in time, pouring in time.
AVOIDABLE = frozenset({
    "too_cool", "heat_unknown", "heat_marginal", "clumps", "not_bloomed", "boiled",
    "bloomed_wrongly", "acid_hot", "poured_too_cold",
})  # fmt: skip
# Juice that is the base itself cannot be kept out of the heat.
ACID_BASE = {("juice", key, "acid_hot") for key in agent_rows()}
# Calcium of milk and juice keeps alginate from dissolving, whatever is done with it.
CALCIUM_BASE = {("milk", "sodium_alginate"), ("juice", "sodium_alginate")}


def agents_of(*keys):
    return tuple(agent_named(CATALOG.materials[f"agent:{key}"], CATALOG) for key in keys)


def drafted(keys, lines, helpers=(), doses=None, **more):
    brief = brief_make(title="Test", base=lines, **more)
    base = base_read(brief, catalog=CATALOG)
    draft = ProposalDraft(base, brief, agents_of(*keys), tuple(helpers))
    usual = doses or [agent_rows()[key].figure("dose").value for key in keys]
    return draft.formula([*usual, *(0.15 for _ in helpers)])


def steps_for(keys, lines=BASES["sugar water"], helpers=(), pour_c=None, **more):
    brief = brief_make(title="Test", base=lines, **more)
    base = base_read(brief, catalog=CATALOG)
    return method_for(base, brief, agents_of(*keys), tuple(helpers), pour_c).splitlines()


@cache
def found(key, base, *, has_blender=True):
    return assess(drafted([key], BASES[base], limits={"has_blender": has_blender}))


@pytest.mark.parametrize("has_blender", [True, False], ids=["blender", "whisk"])
@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("key", sorted(agent_rows()))
def test_every_agent_dissolves_by_its_method(key, base, has_blender):
    result = found(key, base, has_blender=has_blender)
    wrong = [
        finding.code
        for finding in result.findings
        if finding.severity is not Severity.NOTE
        and finding.code in AVOIDABLE
        and (base, key, finding.code) not in ACID_BASE
    ]
    assert wrong == []
    assert all(step.problem == "" for step in result.steps)
    if (base, key) not in CALCIUM_BASE:
        assert result.agents[0].hydrates is Verdict.YES


def test_alginate_in_milk_is_the_known_case_that_no_method_mends():
    result = found("sodium_alginate", "milk")
    assert result.agents[0].hydrates is Verdict.CANNOT_TELL
    assert "calcium_first" in {finding.code for finding in result.findings}


@pytest.mark.parametrize("most", [45, 60, 72, 85, 94, 100])
def test_no_step_gets_hotter_than_the_limit(most):
    keys = ("gelatin", "agar", "starch_corn", "methylcellulose_A", "pectin_LM", "gellan_HA",
            "xanthan", "starch_ocs_osa")  # fmt: skip
    for pair in [*combinations(keys, 2), *combinations(keys, 3)]:
        texts = steps_for(pair, SOUR, serving_c=90, limits={"max_temperature_c": most})
        degrees = [step.temperature_c for step in steps_parse("\n".join(texts))]
        assert max(one for one in degrees if one is not None) <= most + 0.5, texts


@pytest.mark.parametrize(
    "pair",
    list(combinations(
        ("gelatin", "agar", "kappa_carrageenan", "gellan_HA", "pectin_HM_slow", "starch_corn",
         "xanthan", "konjac", "locust_bean_gum", "methylcellulose_A", "kappa_LBG"), 2)),
    ids="+".join,
)  # fmt: skip
def test_two_agents_dissolve_together(pair):
    result = assess(drafted(pair, SOUR))
    bad = {f.code for f in result.findings if f.severity is not Severity.NOTE} & AVOIDABLE
    assert [agent.hydrates for agent in result.agents] == [Verdict.YES, Verdict.YES]
    # Acid at 70 °C is early for what sets hot, and late for what sets cold.
    assert bad <= {"poured_too_cold"}
    if "gellan_HA" not in pair:
        assert bad == set()


def test_three_agents_each_go_in_their_own_way():
    steps = steps_for(("gelatin", "starch_corn", "kappa_carrageenan"), BASES["milk"])
    assert steps[0].startswith("Disperse the kappa carrageenan")
    assert "slurry" in steps[1]
    assert steps[2].startswith("Heat to 90 °C")
    assert steps[3:5] == [
        "Cool to 60 °C (140 °F)",
        "Bloom the gelatin in about five times its weight of base kept back cold for 10 min",
    ]
    assert steps[-1] == "Chill to 4 °C (39 °F) for 12 h"


def test_bloomed_gelatin_never_meets_more_than_72_degrees():
    result = assess(drafted(["gelatin", "gellan_HA"], BASES["sugar water"]))
    assert result.agents[0].hydrates is Verdict.YES
    steps = steps_parse(drafted(["gelatin", "gellan_HA"], BASES["sugar water"]).steps)
    bloom = next(n for n, step in enumerate(steps) if step.kind is StepKind.BLOOM)
    assert steps[bloom - 1].temperature_c <= 72
    assert all((step.temperature_c or 0) <= 72 for step in steps[bloom:])


def test_methylcellulose_is_dissolved_cold_and_set_by_heat_when_served_hot():
    hot = assess(drafted(["methylcellulose_A"], BASES["sugar water"], doses=[2.0], serving_c=65))
    cold = assess(drafted(["methylcellulose_A"], BASES["sugar water"], doses=[2.0]))
    assert hot.agents[0].hydrates is cold.agents[0].hydrates is Verdict.YES
    assert hot.agents[0].sets is Verdict.YES
    assert cold.texture.sets is not Verdict.YES
    assert hot.texture.sets is Verdict.YES


def test_a_gel_that_sets_cold_is_set_before_it_is_served_hot():
    steps = steps_for(("agar",), serving_c=60)
    assert steps[-2:] == ["Chill to 4 °C (39 °F) for 4 h", "Heat gently to 60 °C (140 °F)"]
    result = assess(drafted(["agar"], BASES["sugar water"], doses=[1.0], serving_c=60))
    assert result.texture.sets is Verdict.YES


def test_a_gel_that_sets_above_serving_is_only_cooled():
    steps = steps_for(("agar",), serving_c=30, pour_c=45.0)
    assert steps[-2:] == ["Pour into molds while above 45 °C (113 °F)", "Cool to 30 °C (86 °F)"]


@pytest.mark.parametrize("helper", ["potassium chloride", "calcium lactate"])
@pytest.mark.parametrize("key", ["kappa_carrageenan", "iota_carrageenan", "agar", "kappa_LBG"])
def test_salts_that_make_a_gel_set_sooner_keep_the_pot_warmer(key, helper):
    result = assess(drafted([key], SOUR, (helper,)))
    assert "poured_too_cold" not in {finding.code for finding in result.findings}
    assert "acid_hot" not in {finding.code for finding in result.findings}


def test_acid_goes_in_late_unless_it_has_to_be_hot():
    late = steps_for(("agar",), SOUR)
    at = late.index("Stir in the lemon juice")
    assert late[at - 1] == "Cool to 60 °C (140 °F)"
    hot = steps_for(("agar",), SOUR, limits={"is_acid_hot": True})
    assert hot[0] == "Stir in the lemon juice"


def test_an_acid_without_an_acid_name_still_reads_as_acid():
    steps = steps_parse("\n".join(steps_for(("agar",), "950 g water\n50 g raspberries")))
    sour = [step for step in steps if step.is_acid_addition]
    assert [step.text for step in sour] == ["Stir in the acid: raspberries"]


def test_pectin_is_boiled_and_takes_its_acid_and_calcium_last():
    steps = steps_for(("pectin_LM",), SOUR, ("calcium lactate",))
    assert "dry-mixed with five times its weight of the sugar" in steps[0]
    assert steps[1].startswith("Bring to a boil")
    assert steps[2] == "Stir in the lemon juice"
    assert steps[3].startswith("Stir in the calcium lactate last")


def test_citrate_goes_in_before_the_powder_and_calcium_after_it():
    steps = steps_for(("gellan_LA",), BASES["milk"], ("calcium lactate", "trisodium citrate"))
    order = [next(n for n, step in enumerate(steps) if word in step)
             for word in ("citrate", "gellan", "lactate", "Pour")]  # fmt: skip
    assert order == sorted(order)


def test_alginate_names_the_bath_for_drops():
    steps = steps_for(("sodium_alginate",), helpers=("trisodium citrate", "calcium lactate"))
    assert any("bath of 1 % calcium lactate" in step for step in steps)


def test_without_a_blender_nothing_is_blended():
    for key in agent_rows():
        for lines in BASES.values():
            steps = steps_parse("\n".join(
                steps_for((key,), lines, limits={"has_blender": False})))  # fmt: skip
            assert all(step.stirring != "blender" for step in steps), key


def test_konjac_gets_hot_only_beside_xanthan():
    assert not any("Heat" in step for step in steps_for(("konjac",)))
    assert any("Heat to 85 °C" in step for step in steps_for(("konjac", "xanthan")))


def test_what_has_to_unmold_is_unmolded():
    assert steps_for(("agar",), plating="unmolds")[-1] == "Unmold"
    assert "Pour into cups at once" in steps_for(("agar",), plating="spoons")


CUSTARD = "700 g milk\n100 g egg yolk\n100 g sugar\n100 g heavy cream"


@pytest.mark.parametrize(
    "keys",
    [("gelatin",), ("xanthan",), ("kappa_carrageenan",), ("methylcellulose_A",),
     ("methylcellulose_A", "gelatin"), ("gelatin", "xanthan"), ("agar",), ("starch_corn",)],
    ids="+".join,
)  # fmt: skip
def test_raw_egg_in_the_base_is_always_cooked(keys):
    result = assess(drafted(keys, CUSTARD))
    assert "raw_egg" not in {caution.code for caution in result.cautions}
    assert all(agent.hydrates is Verdict.YES for agent in result.agents)
    assert "boiled" not in {finding.code for finding in result.findings}


def test_egg_that_may_not_get_hot_stays_a_caution():
    result = assess(drafted(("gelatin",), CUSTARD, limits={"max_temperature_c": 55}))
    assert "raw_egg" in {caution.code for caution in result.cautions}


def test_pasteurized_egg_needs_no_heat():
    lines = CUSTARD.replace("egg yolk", "egg yolk, pasteurized")
    assert "Heat" not in "".join(steps_for(("xanthan",), lines))


def test_every_pair_and_its_helpers_read_without_a_problem():
    brief = brief_make(title="Test", base=SOUR, serving_c=60)
    base = base_read(brief, catalog=CATALOG)
    salts = ("potassium chloride", "calcium lactate")
    for pair in combinations(agents_of(*sorted(agent_rows())), 2):
        texts = method_for(base, brief, pair, salts, None).splitlines()
        steps = steps_parse("\n".join(texts))
        assert [step.text for step in steps] == texts
        assert [step.problem for step in steps if step.problem] == []
        assert sum(step.kind is StepKind.POUR for step in steps) == 1
