"""Which agents a brief lets in, why others fall out, and which never meet."""

import pytest
from builders_engine import formula_of

from setwell.domain.brief import Brief, brief_make
from setwell.domain.formula import MoldPlan
from setwell.domain.pantry import Lot, OwnAgent, Pantry
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.shelf import Shelf, never_together, shelf_of
from setwell.errors import InputError, UnknownNameError
from setwell.tables.agents import agent_rows


def brief_of(**fields: object) -> Brief:
    return brief_make(title="Cup", **{"base": "1000 g water", **fields})


def shelf(pantry: Pantry | None = None, **fields: object) -> Shelf:
    brief = brief_of(**fields)
    return shelf_of(brief, base_read(brief, catalog=catalog_build(pantry)))


def keys(found: Shelf) -> set[str]:
    return {agent.key for agent in found.agents}


def why(found: Shelf) -> dict[str, str]:
    return {one.agents[0]: one.why for one in found.fell_out}


def test_an_empty_shelf_is_every_agent_once():
    found = shelf()
    assert keys(found) == set(agent_rows())
    assert len(found.agents) == len(agent_rows())
    assert not found.fell_out


def test_named_agents_are_the_only_ones():
    found = shelf(shelf=("agar", "gelatine leaf"))
    assert keys(found) == {"agar", "gelatin"}
    assert any("“gelatine leaf” is taken as Gelatin" in one for one in found.remarks)


def test_vegan_leaves_gelatin_out_and_asks_about_xanthan():
    found = shelf(diets=("vegan",))
    assert why(found) == {"gelatin": "not vegan", "gelatin_fish_cold": "not vegan"}
    assert "xanthan" in keys(found)
    assert any(one.startswith("Xanthan gum: ask the supplier") for one in found.remarks)


def test_an_allergen_leaves_its_agents_out_and_asks_about_doubtful_ones():
    found = shelf(without_allergens=("Fish", "wheat"))
    assert why(found) == {"gelatin_fish_cold": "contains fish", "starch_wheat": "contains wheat"}
    assert any("Pregelatinized starch" in one and "wheat" in one for one in found.remarks)


@pytest.mark.parametrize("name", ["gluten", "Gluten"])
def test_keeping_gluten_out_keeps_wheat_out(name):
    assert "starch_wheat" in why(shelf(without_allergens=(name,)))


def test_an_unknown_allergen_is_told_with_those_known():
    with pytest.raises(UnknownNameError) as told:
        shelf(without_allergens=("fis",))
    assert told.value.field == "without_allergens"
    assert "tree nut" in told.value.hint


@pytest.mark.parametrize(
    ("most", "out", "stays"),
    [(85.0, {"agar"}, "locust_bean_gum"), (60.0, {"agar", "locust_bean_gum"}, "gelatin"),
     (20.0, {"gelatin", "kappa_carrageenan"}, "xanthan")],
)  # fmt: skip
def test_the_highest_temperature_leaves_out_what_never_dissolves_below(most, out, stays):
    found = shelf(limits={"max_temperature_c": most})
    assert out <= set(why(found))
    assert stays in keys(found)


def test_agar_is_told_to_need_a_boil():
    told = why(shelf(limits={"max_temperature_c": 85.0}))
    assert told["agar"] == "needs a boil, and 85 °C (185 °F) is the most"


def test_citrate_lets_low_acyl_gellan_dissolve_in_the_cold():
    cold = {"max_temperature_c": 20.0}
    assert "gellan_LA" in keys(shelf(limits=cold))
    assert "gellan_LA" in why(shelf(limits=cold, helpers=("calcium lactate",)))


def test_a_name_left_out_takes_its_family_and_its_mixes_along():
    out = set(why(shelf(without=("kappa carrageenan", "gelatine", "pectin"))))
    assert {"kappa_carrageenan", "kappa_LBG", "kappa_konjac", "gelatin", "gelatin_fish_cold",
            "pectin_LM", "pectin_HM_slow"} <= out  # fmt: skip
    assert "iota_carrageenan" not in out


def test_an_agent_on_the_shelf_and_left_out_is_a_contradiction():
    with pytest.raises(InputError) as told:
        shelf(shelf=("agar", "gelatin"), without=("agar",))
    assert told.value.field == "without"


@pytest.mark.parametrize("field", ["shelf", "without"])
def test_an_unknown_agent_is_told_at_its_field_with_the_nearest(field):
    with pytest.raises(UnknownNameError) as told:
        shelf(**{field: ("ager",)})
    assert told.value.field == field
    assert "Agar" in told.value.nearest


def test_a_food_on_the_shelf_is_refused():
    with pytest.raises(InputError, match="not a texture agent") as told:
        shelf(shelf=("whole milk",))
    assert told.value.field == "shelf"


def test_nothing_left_says_why_and_what_to_change():
    with pytest.raises(InputError) as told:
        shelf(shelf=("gelatin", "agar"), diets=("vegan",), limits={"max_temperature_c": 60.0})
    assert told.value.field == "shelf"
    assert "Gelatin: not vegan" in told.value.message
    assert "Agar: needs a boil" in told.value.message
    assert "the diet" in told.value.hint
    assert "the highest temperature" in told.value.hint


def test_the_union_caps_konjac_and_bars_it_from_bites():
    found = shelf(market="eu")
    assert dict(found.most_pct) == {"konjac": 1.0, "kappa_konjac": pytest.approx(2.5)}
    bites = shelf(market="eu", portion_g=20.0)
    assert {"konjac", "kappa_konjac"} <= set(why(bites))
    assert "konjac" in keys(shelf(market="us", portion_g=20.0))


def test_small_molds_of_a_saved_formula_are_bites():
    brief = brief_of(base_formula="Cup", base="", market="eu")
    origin = formula_of("1000 g water", molds=MoldPlan(count=10, volume_ml=20))
    found = shelf_of(brief, base_read(brief, catalog=catalog_build(), origin=origin))
    assert "konjac" in why(found)


def test_what_the_united_states_leave_open_is_a_remark():
    found = shelf(market="us", shelf=("tara gum", "agar"))
    assert keys(found) == {"tara", "agar"}
    assert any("Tara gum in the US" in one for one in found.remarks)


def test_the_own_product_stands_for_its_table_agent():
    pantry = Pantry(
        agents=(OwnAgent(name="Sea set", based_on="agar", strength_factor=1.2),),
        lots=(Lot(agent="gelatin", lot_code="G7", in_use=True),),
    )
    found = shelf(pantry)
    names = {agent.key: agent.line_name for agent in found.agents}
    assert names["agar"] == "Sea set"
    assert len(found.agents) == len(agent_rows())
    assert {agent.lot for agent in found.agents if agent.key == "gelatin"} == {"G7"}
    assert "Sea set stands for Agar as well: both are agar." in found.remarks


def test_helpers_stay_where_an_agent_answers_to_them():
    assert shelf(shelf=("kappa carrageenan",)).helpers == (
        "potassium chloride", "trisodium citrate",
    )  # fmt: skip
    assert shelf(shelf=("gelatin", "guar gum")).helpers == ()
    assert shelf(helpers=("calcium lactate",)).helpers == ("calcium lactate",)


def test_a_base_that_breaks_the_brief_is_told():
    found = shelf(base="500 g whole milk\n50 g rum", diets=("vegan", "no alcohol"),
                  without_allergens=("dairy",))  # fmt: skip
    told = " ".join(found.remarks)
    assert "does not fit “vegan”" in told
    assert "does not fit “no alcohol”" in told
    assert "holds milk" in told


@pytest.mark.parametrize(
    "pair",
    [("starch_corn", "starch_potato"), ("kappa_carrageenan", "processed_eucheuma"),
     ("pectin_LM", "pectin_LMA"), ("pectin_HM_rapid", "pectin_HM_slow"),
     ("hpmc_E", "methylcellulose_A"), ("kappa_LBG", "locust_bean_gum"),
     ("kappa_LBG", "processed_eucheuma"), ("kappa_LBG", "xanthan_LBG"),
     ("gelatin", "gelatin_fish_cold")],
)  # fmt: skip
def test_two_of_a_kind_and_a_mix_with_its_part_never_meet(pair):
    assert frozenset(pair) in never_together(tuple(sorted(agent_rows())))
    assert frozenset(pair) in shelf().apart


@pytest.mark.parametrize(
    "pair",
    [("kappa_carrageenan", "iota_carrageenan"), ("xanthan", "locust_bean_gum"),
     ("gellan_HA", "gellan_LA"), ("pectin_HM_slow", "pectin_LM"), ("gelatin", "agar"),
     ("kappa_LBG", "konjac")],
)  # fmt: skip
def test_common_pairs_may_meet(pair):
    assert frozenset(pair) not in shelf().apart
