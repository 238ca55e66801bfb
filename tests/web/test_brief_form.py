"""Writing a brief with scripts off: nothing typed is lost, problems stand at their fields."""

import re
from html import unescape

import pytest

from setwell.domain.brief import Brief, Helper, brief_make
from setwell.services.briefs import brief_get, brief_save, brief_update, briefs_list

pytestmark = pytest.mark.django_db

BASE = "500 g plum juice\n50 g sugar"


def posted(**fields):
    return {
        "title": "Plum slice", "base_kind": "lines", "base": BASE, "texture__word": "short",
        "clarity": "any", "serving_c": "4", "mouth": "any", "plating": "any", "market": "any",
        "limits__max_temperature_c": "100", "limits__has_blender": "on", "agents_most": "3",
        "portion_g": "100", "helpers": [one.value for one in Helper], **fields,
    }  # fmt: skip


def text_of(answer):
    return unescape(answer.content.decode())


def problem_at(page, field):
    start = page.index(f'id="problem-{field}"')
    return page[start : page.index("</div>", start)]


def saved_of(bench, **fields):
    answer = bench.post("/briefs/new/", posted(save="1", **fields))
    assert answer.status_code == 302, text_of(answer)
    return brief_get(brief_id=int(answer["Location"].split("/")[2])).brief


def test_the_menu_leads_to_briefs_and_the_empty_list_says_what_to_do(bench):
    page = text_of(bench.get("/briefs/"))
    assert '<a href="/briefs/" aria-current="page">Briefs</a>' in page
    assert "Write the first one" in page


def test_a_brief_is_saved_as_typed(bench):
    brief = saved_of(
        bench, texture__modulus_low="1,5", texture__modulus_high="4", holds_c="", diets=["vegan"],
        without_allergens=["milk", "tree_nut"], limits__set_within_h="2", shelf=["Agar"],
        without="pectin\n\n gelatin ", helpers=["calcium lactate"], agents_most="2",
        cost_most="0.25", is_frozen="on", keeps_afloat="on", texture__sets="yes", market="eu",
    )  # fmt: skip
    assert brief == brief_make(
        title="Plum slice", base=BASE,
        texture={"word": "short", "modulus_low": 1.5, "modulus_high": 4.0, "sets": True},
        diets=("vegan",), without_allergens=("milk", "tree_nut"), limits={"set_within_h": 2.0},
        shelf=("Agar",), without=("pectin", "gelatin"), helpers=("calcium lactate",),
        agents_most=2, cost_most=0.25, is_frozen=True, keeps_afloat=True, market="eu",
    )  # fmt: skip


def test_a_brief_opens_as_it_was_saved_and_saving_it_again_changes_nothing(bench):
    brief = Brief.model_validate(
        {
            "title": "Plum slice", "composition": {"name": "plum", "sugar_g": 12.5, "ph": 3.4},
            "texture": {"word": "elastic", "like": "Gone formula", "sets": False,
                        "strain_low": 0.9},
            "clarity": "cloudy", "serving_c": 55.5, "holds_c": 60, "diets": ["no gluten"],
            "without_allergens": ["lupin"], "market": "us", "shelf": ["Agar", "Moon gum"],
            "without": ["pectin"], "helpers": [], "agents_most": 1, "portion_g": 80,
            "cost_most": 0, "keeps_afloat": True, "note": "Two\nlines",
            "limits": {"max_temperature_c": 85, "has_blender": False, "is_acid_hot": True},
        }
    )  # fmt: skip
    number = brief_save(brief=brief).id
    page = bench.get(f"/briefs/{number}/").content.decode()
    again = bench.post(f"/briefs/{number}/", {**fields_of(page), "save": "1"})
    assert again.status_code == 302, text_of(again)
    assert brief_get(brief_id=number).number == 1
    assert brief_get(brief_id=number).brief == brief


def fields_of(page):
    """Return what a browser would send of the form on a page."""
    form = page[
        page.index('id="brief-form"') : page.index("</form>", page.index('id="brief-form"'))
    ]
    sent: dict[str, object] = {}
    for tag in re.findall(r"<input [^>]*>", form):
        name, kind = re.search(r'name="([^"]+)"', tag), re.search(r'type="(\w+)"', tag)
        value = re.search(r'value="([^"]*)"', tag)
        if name is None or kind is None:
            continue
        told = unescape(value[1]) if value else "on"
        if kind[1] in {"checkbox", "radio"}:
            if " checked" in tag:
                sent.setdefault(name[1], []).append(told)
        elif value:
            sent[name[1]] = told
    for name, text in re.findall(r'<textarea name="([^"]+)"[^>]*>(.*?)</textarea>', form, re.S):
        sent[name] = unescape(text).removeprefix("\n")
    for name, options in re.findall(r'<select name="([^"]+)"[^>]*>(.*?)</select>', form, re.S):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        sent[name] = unescape(chosen[1]) if chosen else ""
    return sent


def test_the_form_says_that_particles_afloat_are_judged_by_a_list(bench):
    page = text_of(bench.get("/briefs/new/"))
    box = page[page.index('name="keeps_afloat"') - 60 :]
    assert 'aria-describedby="id_keeps_afloat_helptext"' in box[:400]
    assert "By listed practice, not computed." in box[:600]
    assert "no law here tells" not in page


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("texture__modulus_low", "-2", "write a number above 0"),
        ("texture__modulus_low", "1e999", "write a number above 0"),
        ("texture__thickness_high", "thick", "is not a number"),
        ("texture__like_number", "1.5", "not a whole number"),
        ("serving_c", "hot", "is not a number"),
        ("serving_c", "300", "write a number from -5 to 120"),
        ("holds_c", "nan", "write a number from"),
        ("limits__max_temperature_c", "-40", "write a number from"),
        ("limits__set_within_h", "0", "write a number above 0"),
        ("cost_most", "-0.1", "write a number from 0"),
        ("portion_g", "1e9", "write a number above 0"),
        ("portion_g", "9" * 400, "write a number above 0"),
        ("title", "x" * 121, "at most 120"),
        ("title", "a\x00b", "Null characters"),
        ("base", "a\x00b", "Null characters"),
        ("base", "1 g salt\n" * 3000, "at most 20,000"),
        ("without", "x" * 121, "121 characters; at most 120"),
        ("without", "agar\n" * 61, "At most 60 names fit here, not 61"),
        ("without", "x" * 10_001, "at most 10000"),
        ("clarity", "milky", "milky"),
        ("agents_most", "4", "4"),
        ("diets", ["paleo"], "paleo"),
        ("helpers", ["borax"], "borax"),
        ("note", "n" * 2_001, "at most 2000"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_nothing_is_lost(bench, field, typed, said):
    for way in ("save", "show"):
        answer = bench.post("/briefs/new/", posted(**{field: typed, way: "1"}))
        assert answer.status_code == 200
        page = text_of(answer)
        assert said in problem_at(page, field)
        assert "Nothing you typed was lost" in page
        if isinstance(typed, str) and len(typed) < 50 and "\x00" not in typed:
            assert typed in page
        assert field == "base" or BASE in page.replace("\r", "")
    assert briefs_list() == ()


@pytest.mark.parametrize("what", ["modulus", "stress", "strain", "thickness"])
def test_a_range_that_ends_before_it_starts_is_said_at_its_end(bench, what):
    fields = {f"texture__{what}_low": "5", f"texture__{what}_high": "2"}
    page = text_of(bench.post("/briefs/new/", posted(save="1", **fields)))
    assert "below where it starts" in problem_at(page, f"texture__{what}_high")


def test_a_brief_without_a_name_shows_but_does_not_save(bench):
    page = text_of(bench.post("/briefs/new/", posted(title=" ", save="1")))
    assert "Give the brief a name" in problem_at(page, "title")
    page = text_of(bench.post("/briefs/new/", posted(title="", show="1")))
    assert "Give the brief a name" not in page
    assert briefs_list() == ()


def test_only_the_chosen_way_to_tell_the_base_counts(bench):
    brief = saved_of(
        bench, base_kind="composition", composition__name="", composition__sugar_g="10",
        base_formula="Gone", base=BASE,
    )  # fmt: skip
    assert (brief.base, brief.base_formula) == ("", "")
    assert brief.composition is not None
    assert (brief.composition.name, brief.composition.sugar_g) == ("base", 10.0)


def test_what_stands_in_the_other_ways_is_said_when_it_is_not_saved(bench):
    answer = bench.post("/briefs/new/", posted(save="1", base_formula="Plum cup"), follow=True)
    assert "What stands under “A saved formula, without its agents” is not the base" in text_of(
        answer
    )


def test_a_mistake_in_a_way_that_is_not_chosen_does_not_stop(bench):
    assert saved_of(bench, composition__sugar_g="lots").base == BASE


@pytest.mark.parametrize("kind", ["", "moon"])
def test_an_unknown_way_to_tell_the_base_is_kitchen_lines_or_said(bench, kind):
    answer = bench.post("/briefs/new/", posted(save="1", base_kind=kind))
    if kind:
        assert kind in problem_at(text_of(answer), "base_kind")
    else:
        assert answer.status_code == 302


def test_two_tabs_both_save_and_the_later_one_is_told(bench):
    number = brief_save(brief=brief_make(title="Plum slice", base=BASE)).id
    brief_update(brief_id=number, brief=brief_make(title="Plum slice", base=BASE, serving_c=9))
    fields = posted(save="1", brief_id=str(number), base_number="1")
    page = text_of(bench.post(f"/briefs/{number}/", fields, follow=True))
    assert "Saved as version 3." in page
    assert "Somebody saved version 2 in between" in page


def test_an_earlier_version_opens_and_says_so(bench):
    number = brief_save(brief=brief_make(title="Plum slice", base=BASE)).id
    brief_update(brief_id=number, brief=brief_make(title="Pear slice", base=BASE))
    page = text_of(bench.get(f"/briefs/{number}/versions/"))
    assert f'href="/briefs/{number}/?version=1"' in page
    page = text_of(bench.get(f"/briefs/{number}/?version=1"))
    assert "This is version 1" in page
    assert 'value="Plum slice"' in page


@pytest.mark.parametrize("path", ["99/", "99/versions/", "99/put-away/", "99/export.json"])
def test_a_brief_that_is_not_there_is_a_page_that_says_so(bench, path):
    answer = bench.get(f"/briefs/{path}")
    assert answer.status_code == 404
    assert "There is no brief 99" in text_of(answer)


def test_a_brief_is_put_away_and_taken_back(bench):
    number = brief_save(brief=brief_make(title="Plum slice", base=BASE)).id
    assert "Put “<bdi>Plum slice</bdi>” away?" in text_of(bench.get(f"/briefs/{number}/put-away/"))
    bench.post(f"/briefs/{number}/put-away/")
    assert "Plum slice" not in text_of(bench.get("/briefs/")).split("</ul>")[-1]
    assert "Plum slice" in text_of(bench.get("/briefs/", {"archived": "1"}))
    bench.post(f"/briefs/{number}/put-away/")
    assert [one.id for one in briefs_list()] == [number]


def test_a_brief_goes_out_and_comes_in_once(bench):
    number = brief_save(brief=brief_make(title="Plum slice", base=BASE)).id
    out = bench.get(f"/briefs/{number}/export.json")
    assert out["Content-Disposition"] == 'attachment; filename="plum-slice-brief.json"'
    answer = bench.post("/briefs/import/", {"text": out.content.decode()}, follow=True)
    assert "here already" in text_of(answer)
    assert len(briefs_list()) == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "There is nothing to read"),
        ("{", "not valid JSON"),
        ("a\x00b", "Null characters"),
        ('{"format": "setwell-brief", "title": "a", "texture": {"sets": "maybe"}}', "texture.sets"),
        ("x" * 300_000, "at most 200,000"),
    ],
)
def test_what_is_no_brief_is_said_where_it_was_pasted(bench, text, said):
    answer = bench.post("/briefs/import/", {"text": text})
    assert answer.status_code == 200
    assert said in text_of(answer)
    assert briefs_list() == ()


def test_a_formula_starts_a_brief_from_its_base_or_like_itself(bench, saved):
    number = saved(title="Milk & honey / blocks").formula_id
    page = text_of(bench.get(f"/formulas/{number}/"))
    links = re.findall(r'href="(/briefs/new/[^"]+)"', page)
    first, second = (text_of(bench.get(link)) for link in links)
    assert '<option value="Milk & honey / blocks" selected>' in first.split("texture__like")[0]
    assert re.search(r'value="formula"[^>]* checked', first)
    assert '<option value="Milk & honey / blocks" selected>' in second.split("texture__like", 1)[1]


def test_a_temperature_is_told_in_fahrenheit_beside_it(bench):
    page = text_of(bench.post("/briefs/new/", posted(serving_c="55,5", show="1")))
    assert "55.5 °C (131.9 °F)" in page


@pytest.mark.parametrize("junk", ["version=9" * 3, "version=²", "serving_c=%00", "shelf=%00"])
def test_odd_addresses_are_no_fault(bench, junk):
    number = brief_save(brief=brief_make(title="Plum slice", base=BASE)).id
    assert bench.get(f"/briefs/{number}/?{junk}").status_code in {200, 404}
    assert bench.get(f"/briefs/new/?{junk}").status_code == 200


def test_the_shelf_shows_the_agents_that_a_word_finds_and_those_that_are_ticked(bench):
    fields = posted(find="gellan", shelf=["Agar"])
    for page in (
        text_of(bench.post("/briefs/shelf/", fields)),
        text_of(bench.post("/briefs/new/", {**fields, "show": "1"})),
    ):
        boxes = page[page.index('id="shelf-boxes"') :].split("</fieldset>")[0]
        assert re.search(r'value="Agar"[^>]* checked', boxes)
        assert "Gellan gum, low acyl" in boxes
        assert "Xanthan" not in boxes


def test_a_search_on_the_shelf_is_no_part_of_the_brief(bench):
    assert saved_of(bench, find="gellan", shelf=["Agar", "Xanthan gum"]).shelf == (
        "Agar", "Xanthan gum",
    )  # fmt: skip


def test_a_brief_without_a_texture_is_told_so_at_the_word(bench):
    fields = posted(base="500 g apple juice", texture__word="", show="1")
    page = text_of(bench.post("/briefs/new/", fields))
    assert "does not say what texture is wanted" in problem_at(page, "texture__word")


def test_a_base_that_cannot_be_read_is_told_at_its_lines(bench):
    page = text_of(bench.post("/briefs/new/", posted(base="3 blobs of moon dust", show="1")))
    assert "moon dust" in problem_at(page, "base")
    assert "Nothing you typed was lost" in page


def test_a_new_brief_is_searched_once_it_says_a_texture(bench):
    assert 'hx-trigger="input' in text_of(bench.get("/briefs/new/"))
    assert 'hx-trigger="input' in text_of(bench.get("/briefs/new/?base_formula=Plum"))
    assert 'hx-trigger="load' in text_of(bench.get("/briefs/new/?texture__word=short"))
    assert 'hx-trigger="input' in text_of(bench.get("/briefs/new/?texture__word=short&holds_c=x"))


def test_the_script_gets_problems_and_fahrenheit_alone(bench):
    fields = posted(serving_c="hot", holds_c="60")
    page = text_of(bench.part("/briefs/check/", fields))
    assert "“hot” is not a number" in problem_at(page, "serving_c")
    assert 'id="id_holds_c_helptext" hx-swap-oob="true">60 °C (140 °F)<' in page
    assert "<form" not in page
