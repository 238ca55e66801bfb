"""The texture on the bench, on a version, and all versions on one map."""

import re

import pytest

from setwell.domain.formula import formula_make
from setwell.domain.texture_reading import TextureReading
from setwell.services import formulas
from setwell.services.texture_readings import texture_reading_record, texture_reading_set_aside

pytestmark = pytest.mark.django_db

PREVIEW = "/formulas/preview/"
GEL = "700 g whole milk\n60 g sugar\n5 g kappa carrageenan"
DRINK = "500 g water\n20 g sugar\n2 g xanthan gum"
STEPS = "Mix powder and sugar\nHeat to 90 °C and hold 5 min\nPour into molds\nChill to 4 °C"


def part(page: str, title: str) -> str:
    start = page.index(f'aria-labelledby="{title}"')
    return page[start : page.index("</section>", start)]


@pytest.fixture
def computed(bench, sheet):
    def compute(**fields) -> str:
        posted = {**sheet(ingredients=GEL, steps=STEPS), **fields}
        return bench.part(PREVIEW, posted).content.decode()

    return compute


@pytest.fixture
def versions(saved):
    def save(count: int) -> int:
        found = saved(ingredients=GEL, steps=STEPS)
        for more in range(1, count):
            lines = GEL.replace("5 g kappa", f"{5 + more / 5:.1f} g kappa")
            found = formulas.formula_save(
                formula_id=found.formula_id,
                formula=formula_make(title="Milk blocks", ingredients=lines, steps=STEPS),
                base_number=found.number,
                note=f"try {more}",
            )
        return found.formula_id

    return save


def test_numbers_stand_with_range_unit_and_grade(computed):
    numbers = part(computed(), "texture-title")
    stress = numbers[numbers.index("Stress at break") :][:400]
    assert re.search(r"\d kPa", stress)
    assert re.search(r"\d to [\d,.]+ kPa", stress)
    assert 'class="grade' in stress
    assert "pressed to " in numbers.lower()
    assert "% of its height" in numbers
    assert 'data-keep="texture"' in numbers


def test_the_practice_value_stands_beside_the_law_with_its_reason(computed):
    numbers = part(computed(), "texture-title")
    law, practice = numbers.index("<dt>Sets at</dt>"), numbers.index("Kitchens see it set at")
    assert law < practice < numbers.index("other published law")
    assert "in rich bases" in numbers[practice:]


def test_the_answer_comes_first_then_what_to_change_and_drawings_last(computed):
    page = computed(ingredients=f"{GEL}\n20 g lemon juice")
    places = [
        page.index(f'aria-labelledby="{title}"')
        for title in ("verdict-title", "findings-title", "texture-title", "texture-drawn-title")
    ]
    assert places == sorted(places)
    assert '<svg class="texture-chart' not in page[: places[2]]


def test_a_stop_is_named_in_the_verdict_with_a_way_to_it(computed):
    page = computed(ingredients="500 g water\n4 g gelatin\n200 g fresh pineapple")
    verdict = part(page, "verdict-title")
    if 'class="finding stop"' not in page:
        pytest.fail("Raw pineapple no longer stops a gelatin gel.")
    assert '<a href="#findings">' in verdict


def test_no_tick_stands_beside_a_stop(computed):
    lines = f"{GEL}\n1 glug of cream"
    whole, broken = (part(computed(ingredients=text), "verdict-title") for text in (GEL, lines))
    assert "Sets from" in whole
    assert "Sets from" in broken
    assert "icon-good" in whole
    assert "icon-good" not in broken
    assert "not counted" in broken


def test_every_jump_leads_to_a_part_of_the_page(computed):
    page = computed()
    jumps = page[page.index('class="jumps"') :]
    targets = re.findall(r'href="#([^"]+)"', jumps[: jumps.index("</nav>")])
    assert len(targets) >= 7
    assert all(f'id="{target}"' in page for target in targets)


def test_a_gel_is_drawn_on_the_map_with_its_temperatures(computed):
    drawn = part(computed(), "texture-drawn-title")
    assert 'class="texture-chart texture-map"' in drawn
    assert 'class="texture-chart temperature-strip"' in drawn
    assert "flow-chart" not in drawn
    for region in ("brittle", "short", "elastic", "tender", "rubbery", "spreadable"):
        assert region in drawn
    ids = re.findall(r'\sid="([^"]+)"', drawn)
    assert len(ids) == len(set(ids))
    assert drawn.count("The same as a table") == 2


def test_a_drink_is_drawn_as_a_flow_curve_between_known_liquids(computed):
    drawn = part(computed(ingredients=DRINK), "texture-drawn-title")
    assert 'class="texture-chart flow-chart"' in drawn
    assert "texture-map" not in drawn
    assert "whipping" in drawn


def test_swallowing_is_named_only_folded_and_under_its_caution(computed):
    page = computed(ingredients=DRINK)
    folded = page[page.index('data-keep="thick-drinks"') :]
    folded = folded[: folded.index("</ul>")]
    assert "<details" in page[: page.index('data-keep="thick-drinks"')][-60:]
    assert " open" not in folded[:40]
    caution = folded.index("Not a swallowing test: the served food must be tested by a trained")
    assert caution < folded.index("nectar-like")
    assert "is not placed in them" in folded
    for level in ("slightly thick", "mildly thick", "moderately thick", "extremely thick"):
        assert level not in page
    assert "thick-drinks" not in computed()


def agent_part(page: str, key: str) -> str:
    agent = page[page.index(f'id="agent-{key}"') :]
    return agent[: agent.index("</article>")]


def test_agents_tell_needs_break_and_own_readings(computed):
    agent = agent_part(computed(), "kappa_carrageenan")
    assert "Needs pH 4 or more; found pH" in agent
    assert "breaks when pressed to" in agent
    assert "Own measurements" in agent
    assert "none yet" in agent


def test_agents_tell_how_much_dissolves_in_each_zone_of_the_pot(computed):
    quick = "Whisk the alginate in\nStir 1 min\nChill to 4 °C"
    page = computed(ingredients="700 g water\n5 g sodium alginate", steps=quick)
    agent = agent_part(page, "sodium_alginate")
    share = r"[\d.]+ %"
    assert re.search(rf"bottom {share}, middle {share}, top {share}", agent)


@pytest.mark.parametrize(
    ("ingredients", "steps"),
    [
        ("100 g water", ""),
        ("100 g water\nsome of it\n2 g gelatin", STEPS),
        ("60 g sugar\n40 g kappa carrageenan", STEPS),
        ("100 g oil\n5 g agar", ""),
        ("500 g water\n4 g gelatin\n200 g fresh pineapple", STEPS),
        ("100 g milk\n0.02 g gellan gum", STEPS),
    ],
)
def test_odd_formulas_show_a_sentence_and_no_fault(computed, ingredients, steps):
    page = computed(ingredients=ingredients, steps=steps)
    assert "fault on our side" not in page
    assert part(page, "verdict-title")


def test_no_agent_has_no_texture_section(computed):
    page = computed(ingredients="100 g water\n20 g sugar")
    assert "texture-title" not in page
    assert "texture-drawn-title" not in page


def test_a_name_with_markup_stays_text(bench, versions):
    number = versions(1)
    formulas.formula_save(
        formula_id=number,
        formula=formula_make(title="<b>Block</b>", ingredients=GEL, steps=STEPS),
        base_number=1,
    )
    assert "<b>Block" not in bench.get(f"/formulas/{number}/texture/").content.decode()


def test_every_version_has_a_letter_numbers_and_a_link(bench, versions):
    number = versions(3)
    page = bench.get(f"/formulas/{number}/texture/").content.decode()
    assert page.count('class="doubt doubt-') == 3
    assert page.count("point point-version") == 2 + 1  # the legend has one
    assert page.count("point point-this") == 1 + 1
    listed = part(page, "versions-title")
    for version, name in ((1, "a"), (2, "b"), (3, "c")):
        assert f'href="/formulas/{number}/versions/{version}/"' in listed
        assert f'<span class="mark-letter">{name}</span>' in listed
    assert listed.count("Stress at break") == 3
    assert listed.count("Sets ") >= 3
    assert "try 2" in listed


def test_measured_stresses_stand_beside_unless_set_aside(bench, versions):
    number = versions(2)
    reading = TextureReading(kind="penetration", value=200.0, plunger_mm=12.7)
    kept = texture_reading_record(formula_id=number, number=1, document=reading)
    page = bench.get(f"/formulas/{number}/texture/").content.decode()
    assert "Measured at your bench" in page
    assert "200 g on a plunger of 12.7 mm" in page
    assert "point point-trial" in page
    texture_reading_set_aside(id=kept, reason="the scale was not level")
    page = bench.get(f"/formulas/{number}/texture/").content.decode()
    assert "Measured at your bench" not in page
    assert "point point-trial" not in page


def test_versions_that_do_not_gel_are_listed_without_a_place(bench, saved):
    found = saved(ingredients=DRINK, steps=STEPS)
    page = bench.get(f"/formulas/{found.formula_id}/texture/").content.decode()
    assert "there is nothing to put on the map" in page
    assert "not on the map" in page
    assert "Thickens and does not set" in page
    assert '<svg class="texture-chart' not in page


def test_twenty_versions_keep_one_outline(bench, versions):
    number = versions(20)
    page = bench.get(f"/formulas/{number}/texture/").content.decode()
    assert page.count('class="doubt doubt-') == 1
    assert '<span class="mark-letter">t</span>' in page


def test_bench_and_version_lead_to_the_map(bench, versions):
    number = versions(1)
    for address in (f"/formulas/{number}/", f"/formulas/{number}/versions/1/"):
        page = bench.get(address).content.decode()
        assert f'href="/formulas/{number}/texture/"' in page
        assert "css/texture_chart" in page


def test_a_formula_that_is_not_there_is_said(bench):
    bench.raise_request_exception = False
    assert bench.get("/formulas/999999/texture/").status_code == 404
