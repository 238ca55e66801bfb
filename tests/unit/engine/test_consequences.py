import pytest
from builders_engine import HOT, formula_of

from setwell.domain.pantry import Kitchen, Pantry, WaterHardness
from setwell.engine.acid_order import acid_order
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.chemistry_results import Consequence, Tone
from setwell.engine.consequences import consequences, ph_doubt
from setwell.engine.material import Span

ACID_HOT = "Whisk the powder with the lemon juice into the water\nHeat to 85 °C, hold 10 min"


def told(*lines: str, steps: str = HOT, **more) -> dict[str, Consequence]:
    bench = bench_build(formula_of(*lines, steps=steps), **more)
    return {item.title: item for item in consequences(bench, acid_order(bench))}


def of_water(hardness: WaterHardness, *lines: str) -> dict[str, Consequence]:
    pantry = Pantry(kitchen=Kitchen(water_hardness=hardness))
    return told(*lines, catalog=catalog_build(pantry))


def test_an_empty_formula_has_no_consequences():
    assert told("") == {}


def test_every_consequence_has_evidence():
    found = told("400 g milk", "3 g kappa carrageenan", "1 g iota carrageenan", "30 g vodka")
    assert len(found) >= 5
    assert all(item.evidence for item in found.values())


def test_a_ph_inside_the_window_is_good_and_names_the_window():
    item = told("400 g milk", "3 g kappa carrageenan")["pH and the agents"]
    assert item.tone is Tone.GOOD
    assert "Kappa carrageenan (4 to 10)" in item.text


def test_agents_that_fit_share_one_sentence():
    lines = ("400 g milk", "3 g kappa carrageenan", "1 g iota carrageenan", "1 g agar")
    text = told(*lines)["pH and the agents"].text
    assert "Kappa carrageenan (4 to 10), Iota carrageenan (4 to 10) and Agar (2.5 to 10)" in text


def test_a_ph_below_the_window_is_to_watch():
    found = told("400 g water", "4 g kappa carrageenan", "30 g lemon juice")
    item = found["Kappa carrageenan: acid limits it"]
    assert item.tone is Tone.WATCH
    assert "below 4" in item.text
    assert "pH and the agents" not in found


def test_a_measured_ph_counts():
    found = told(
        "400 g water", "4 g kappa carrageenan", "30 g lemon juice",
        measured_ph=Span(5.5, 5.45, 5.55),
    )  # fmt: skip
    assert found["pH and the agents"].text.startswith("pH 5.5")


def test_a_range_across_the_edge_is_a_note():
    found = told(
        "400 g water", "4 g kappa carrageenan", "30 g lemon juice", measured_ph=Span(4.1, 3.9, 4.3)
    )
    assert found["Kappa carrageenan: close to the edge"].tone is Tone.NOTE


@pytest.mark.parametrize(
    ("span", "tone", "said"),
    [
        (Span(6.5, 6.3, 6.7), Tone.GOOD, "stays 1.3 above 5.2"),
        (Span(5.4, 5.1, 5.7), Tone.WATCH, "may reach 5.2"),
        (Span(4.9, 4.8, 5.0), Tone.WATCH, "close to pH 4.6"),
        (Span(4.2, 4.1, 4.3), Tone.WATCH, "below pH 4.6"),
    ],
)
def test_milk_protein_is_held_against_the_ph(span, tone, said):
    item = told("400 g milk", "3 g kappa carrageenan", measured_ph=span)
    assert item["Milk protein and the acid"].tone is tone
    assert said in item["Milk protein and the acid"].text


def test_without_milk_protein_nothing_curdles():
    assert "Milk protein and the acid" not in told("400 g oat milk", "3 g kappa carrageenan")


def test_acid_in_the_hot_batch_is_to_watch_and_late_acid_is_good():
    lines = ("400 g water", "4 g kappa carrageenan", "30 g lemon juice")
    title = "Kappa carrageenan: when the acid goes in"
    assert told(*lines, steps=ACID_HOT)[title].tone is Tone.WATCH
    late = "Whisk in the kappa\nHeat to 85 °C, hold 10 min\nCool to 60 °C\nStir in the lemon juice"
    item = told(*lines, steps=late)[title]
    assert item.tone is Tone.GOOD
    assert item.text.endswith("Your steps add it late.")


def test_kappa_is_held_against_potassium():
    item = told("400 g water", "3 g kappa carrageenan")["Kappa carrageenan and potassium"]
    assert "220 (100 to 400)" in item.text
    assert item.tone is Tone.NOTE
    salted = told("400 g water", "3 g kappa carrageenan", "6 g potassium chloride")
    assert salted["Kappa carrageenan and potassium"].tone is Tone.GOOD


def test_citrate_is_named_as_what_holds_the_calcium():
    lines = ("400 g water", "3 g low acyl gellan", "0.5 g calcium lactate")
    title = "Gellan gum, low acyl and calcium"
    assert "citrate" not in told(*lines)[title].text
    assert "is held by citrate" in told(*lines, "5 g sodium citrate")[title].text


def test_the_milk_is_named_as_what_holds_its_calcium():
    item = told("400 g milk", "2 g iota carrageenan")["Iota carrageenan and calcium"]
    assert "the salts of the milk" in item.text


def test_alginate_in_calcium_is_to_watch():
    title = "Sodium alginate and calcium"
    plain = told("400 g distilled water", "3 g sodium alginate")
    assert plain[title].tone is Tone.GOOD
    assert (
        told("400 g water", "3 g sodium alginate", "2 g calcium lactate")[title].tone is Tone.WATCH
    )


def test_pectin_counts_calcium_by_its_own_weight():
    title = "Low-methoxyl pectin and calcium"
    few = told("400 g water", "1 g LM pectin", "0.6 g calcium lactate")[title].text
    many = told("400 g water", "2 g LM pectin", "0.6 g calcium lactate")[title].text
    assert "mg for each gram" in few
    assert int(few.split("That is ")[1].split(" mg")[0]) > int(
        many.split("That is ")[1].split(" mg")[0]
    )


def test_hard_water_is_told_where_calcium_matters():
    lines = ("400 g water", "2 g sodium alginate")
    assert "Hard or soft water" in of_water(WaterHardness.HARD, *lines)
    assert "Hard or soft water" not in told("400 g water", "2 g kappa carrageenan")


def test_harder_water_has_more_free_calcium_in_the_sentence():
    title = "Sodium alginate and calcium"
    soft = of_water(WaterHardness.SOFT, "400 g water", "2 g sodium alginate")[title].text
    hard = of_water(WaterHardness.VERY_HARD, "400 g water", "2 g sodium alginate")[title].text
    assert float(soft.split()[0]) < float(hard.split()[0])


@pytest.mark.parametrize(
    "lines", [("400 g milk",), ("400 g lemon juice",), ("100 g water", "300 g sugar")]
)
def test_keeping_is_never_called_safe_nor_a_shelf_life(lines):
    item = told(*lines)["Keeping"]
    assert item.tone is Tone.NOTE
    assert item.text.endswith("This is no shelf life.")
    assert "hold cold or hot" in item.text or "frees nothing from the cold" in item.text


def test_keeping_takes_the_unsafe_end_of_the_ranges():
    bench = bench_build(formula_of("400 g milk"), measured_ph=Span(4.0, 3.5, 4.9))
    (item,) = [i for i in consequences(bench) if i.title == "Keeping"]
    assert "pH up to 4.9" in item.text
    assert "hold cold or hot" in item.text


def test_freezing_a_weeping_gel_is_to_watch():
    lines = ("400 g milk", "3 g kappa carrageenan")
    assert told(*lines)["In the freezer"].tone is Tone.NOTE
    frozen = told(*lines, steps=f"{HOT}\nFreeze overnight")["In the freezer"]
    assert frozen.tone is Tone.WATCH
    assert "weeps after thawing" in frozen.text


def test_agar_is_held_against_boiling_in_the_mountains():
    assert (
        "for each 300 m (1,000 ft)"
        in told("400 g water", "3 g agar")["Boiling in the mountains"].text
    )
    assert "Boiling in the mountains" not in told("400 g water", "8 g gelatin")


def test_alcohol_is_told_with_what_it_does():
    assert "Alcohol" not in told("400 g milk", "3 g kappa carrageenan")
    weak = told("400 g milk", "3 g kappa carrageenan", "30 g vodka")["Alcohol"]
    strong = told("200 g milk", "3 g kappa carrageenan", "200 g vodka")["Alcohol"]
    assert (weak.tone, strong.tone) == (Tone.NOTE, Tone.WATCH)


def test_the_doubt_in_the_ph_names_the_ingredients_behind_it():
    found = ph_doubt(bench_build(formula_of("400 g water", "100 g passion fruit juice")))
    assert found[0][0].startswith("Passion fruit juice")
    assert 0.5 < found[0][1] <= 1.0


def test_no_more_than_three_doubts_are_named_and_they_fall():
    lines = ("100 g milk", "100 g apple juice", "50 g miso", "50 g pineapple", "50 g oat milk")
    shares = [share for _, share in ph_doubt(bench_build(formula_of(*lines)))]
    assert 1 <= len(shares) <= 3
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) <= 1.0 + 1e-9


def test_without_water_there_is_no_ph_to_doubt():
    assert ph_doubt(bench_build(formula_of("100 g sugar"))) == ()
    assert "pH and the agents" not in told("100 g sugar", "3 g kappa carrageenan")
