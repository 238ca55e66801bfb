"""What meets a brief, with scripts off and as the page's own script asks."""

import re
from dataclasses import replace
from html import unescape

import pytest

from setwell.domain.brief import Market
from setwell.engine.proposals.labels import label_of
from setwell.engine.proposals.results import AgentDose, Chance, WishAnswer
from setwell.engine.verdict import Verdict
from setwell.errors import InputError
from setwell.services import formulas, proposals
from setwell.services.briefs import brief_import_json, briefs_list
from setwell.web.brief.asked import AskedBrief
from tests.builders_proposals import brief_of, proposal_of, proposals_of, three_gels

pytestmark = pytest.mark.django_db
HERE = "/briefs/proposals/"
SCRIPT = {"hx-request": "true", "hx-target": "proposals"}


@pytest.fixture(autouse=True)
def engine(monkeypatch):
    """A made-up short list whose textures are computed; the search itself is tested elsewhere."""
    asked = []

    def propose(brief, *, is_first=False, **known):
        asked.append((brief, is_first, known))
        found = three_gels(brief, known["catalog"])
        return proposals_of(brief, *(found[1:] if is_first else found), is_complete=not is_first)

    monkeypatch.setattr(proposals, "propose", propose)
    # Kept answers would outlive the database of one test.
    proposals._FIRST.clear()
    proposals._WHOLE.clear()
    return asked


def text_of(brief):
    return AskedBrief(brief).text


def page_of(bench, brief=None, **more):
    return unescape(raw_page(bench, brief, **more))


def raw_page(bench, brief=None, **more):
    answer = bench.get(HERE, {"brief": text_of(brief or brief_of()), **more})
    assert answer.status_code == 200
    return answer.content.decode()


def hidden(page, action):
    form = page[page.index(f'action="{action}"') :]
    form = form[: form.index("</form>")]
    found = re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', form)
    return {name: unescape(value) for name, value in found}


def test_without_scripts_the_whole_answer_stands_on_a_page_of_its_own(bench):
    page = page_of(bench)
    assert "<h1>Proposals for Elderflower jelly</h1>" in page
    assert "Nothing meets all of it; nearest first" in page
    assert "2,184,240 candidates judged" in page
    assert "hx-trigger" not in page[page.index("searching") :]


def test_a_card_tells_that_particles_afloat_are_listed_practice_and_to_prove_it(bench, monkeypatch):
    found = (
        "listed practice, not computed: 0.01 to 0.03 % kappa (compiled: a page of its maker); "
        "let one cup stand for a day first"
    )

    def propose(brief, **known):
        first, *others = three_gels(brief, known["catalog"])
        wish = WishAnswer("afloat", "keeps fine particles afloat", found, Verdict.YES, 0.0)
        return proposals_of(brief, replace(first, wishes=(wish,)), *others)

    monkeypatch.setattr(proposals, "propose", propose)
    page = page_of(bench, brief_of(keeps_afloat=True))
    one, two = page.index('id="proposal-1"'), page.index('id="proposal-2"')
    face = page[one : page.index("<details", one)].replace("\xa0", " ")
    assert f"<strong>Afloat:</strong> {found}" in face
    assert "Afloat:" not in page[two:]


def test_a_card_tells_doses_wishes_cost_chance_and_what_is_given_up(bench):
    page = page_of(bench)
    card = page[page.index('id="proposal-1"') : page.index('id="proposal-2"')]
    assert "3 g per kg</strong> kappa carrageenan" in card.replace("\xa0", " ")
    assert "1 g per kg</strong> potassium chloride" in card.replace("\xa0", " ")
    for said in ("<strong>Met:</strong> elastic", "<strong>May miss:</strong> clear",
                 "Right in home kitchens: 7 of 10",
                 "at least 0.21", "<strong>Missed:</strong> holds at 60 °C (140 °F)",
                 "Given up:</strong> more brittle than asked", "Boil for 2 min",
                 "adds: agar (E 406)", "g water", "none is better in every way"):  # fmt: skip
        assert said in card.replace("\xa0", " "), said


def test_a_chance_that_may_be_anything_is_not_told_as_a_number(bench, monkeypatch):
    def propose(brief, *, catalog, **known):
        one = proposal_of(brief, {"agar": 0.4}, holds=("yes",), catalog=catalog)
        two = proposal_of(brief, {"gellan_LA": 0.1}, holds=("yes",), catalog=catalog)
        return proposals_of(brief, replace(one, chance=Chance("home", 0.99, 0.0, 1.0, 256)),
                            replace(two, chance=Chance("home", 0.0, 0.0, 0.0, 256)))  # fmt: skip

    monkeypatch.setattr(proposals, "propose", propose)
    page = page_of(bench)
    first, second = page.split('id="proposal-2"')
    said = "Right in home kitchens: cannot tell, make one cup first"
    assert said in first
    assert "(nearly none to nearly all)" in first
    assert "Right in home kitchens: nearly none</span>" in second


def test_the_heading_tells_how_many_miss_a_wish(bench, monkeypatch):
    def propose(brief, *, catalog, **known):
        met = proposal_of(brief, {"agar": 0.4}, holds=("yes", "cannot tell"), catalog=catalog)
        return proposals_of(brief, met, proposal_of(brief, {"gellan_LA": 0.1}, catalog=catalog))

    monkeypatch.setattr(proposals, "propose", propose)
    assert "2 proposals, best first; 1 of them misses a wish" in page_of(bench)


def test_that_the_label_is_a_draft_is_said_once_on_a_card(bench, monkeypatch):
    kappa = AgentDose("kappa_carrageenan", "Kappa carrageenan", "kappa carrageenan", 0.3)
    label = label_of((kappa,), (), Market.US, sets=True)

    def propose(brief, *, catalog, **known):
        one = proposal_of(brief, {"kappa_carrageenan": 0.3}, catalog=catalog)
        return proposals_of(brief, replace(one, label=label))

    monkeypatch.setattr(proposals, "propose", propose)
    page = page_of(bench)
    card, more = page[page.index('id="proposal-1"') :].split("Numbers, label, lines", 1)
    assert "Label, a draft:</strong> US: carrageenan</p>" in card
    assert label[-1] in more


def test_what_one_press_has_tried_is_told_over_the_form(bench):
    way = raw_page(bench, brief_of(holds_c=60.0))
    fields = hidden(way[way.index("Nearest ways out") :], "/briefs/new/")
    page = unescape(bench.post("/briefs/new/", {**fields, "show": "1"}).content.decode())
    told = page[page.index("Tried:") :]
    assert "Let it hold to 45 °C (113 °F) instead." in told[:200].replace("\xa0", " ")
    assert "Tried:" not in unescape(bench.get("/briefs/new/").content.decode())


def test_a_base_that_is_not_chosen_yet_is_told_where_it_is_seen(bench):
    fields = {"title": "Jelly", "base_kind": "formula", "texture__word": "elastic"}
    part = unescape(bench.post(HERE, fields, headers=SCRIPT).content.decode())
    told = part[part.index('id="problem-base_formula"') :]
    assert "There is no base" in told[: told.index("</div>")]


def test_a_range_without_end_is_told_in_plain_digits(bench):
    fields = {"title": "Jelly", "base": "900 g water", "texture__stress_low": "strong"}
    part = unescape(bench.post(HERE, fields, headers=SCRIPT).content.decode())
    assert "write a number above 0 up to 10,000,000." in part


def test_the_map_marks_what_was_asked_and_numbers_the_points(bench):
    page = page_of(bench)
    drawing = page[page.index("texture-map") : page.index("</figure>")]
    assert 'class="asked"' in drawing
    letters = re.findall(r'class="letter letter-candidate"[^>]*>(\d)<', drawing)
    assert letters == ["1", "2", "3"]
    assert "How near, at what cost" in page
    table = page[page.index('aria-label="Table: How near, at what cost"') :]
    assert "nearly all" not in table[: table.index("</table>")]
    assert "9 of 10" in table[: table.index("</table>")]


def test_what_has_no_price_is_told_to_be_missing_from_the_drawing(bench, monkeypatch):
    def propose(brief, *, catalog, **known):
        found = three_gels(brief, catalog)
        return proposals_of(brief, *found[:2], replace(found[2], cost_per_portion=None))

    page = page_of(bench)
    assert "Not drawn" not in page
    proposals._WHOLE.clear()
    monkeypatch.setattr(proposals, "propose", propose)
    assert "Not drawn, as no price is known: 3." in page_of(bench)


def test_flowing_proposals_stand_on_an_axis_of_thickness(bench, monkeypatch):
    brief = brief_of(texture={"thickness_low": 50.0, "thickness_high": 400.0, "sets": False})

    def propose(given, *, catalog, **known):
        thick = (proposal_of(given, {"xanthan": 0.2}, catalog=catalog),
                 proposal_of(given, {"guar": 0.5}, catalog=catalog))  # fmt: skip
        return proposals_of(given, *thick)

    monkeypatch.setattr(proposals, "propose", propose)
    page = page_of(bench, brief)
    assert "How thick they are" in page
    assert "thickness-axis" in page
    assert "texture-map" not in page


def test_what_meets_every_wish_is_headed_by_how_many_there_are(bench, monkeypatch):
    def propose(brief, *, catalog, **known):
        met = [proposal_of(brief, {key: 0.4}, holds=("yes", "cannot tell"), catalog=catalog)
               for key in ("agar", "iota_carrageenan")]  # fmt: skip
        return replace(proposals_of(brief, *met), conflicts=(), relaxations=())

    monkeypatch.setattr(proposals, "propose", propose)
    page = page_of(bench)
    assert "2 proposals, best first" in page
    assert "What stands in the way" not in page


def test_wishes_in_conflict_stand_before_what_comes_nearest(bench):
    page = page_of(bench)
    assert page.index("What stands in the way") < page.index('id="proposal-1"')


def test_the_script_gets_single_agents_at_once_and_asks_for_the_rest(bench, engine):
    fields = {"title": "Jelly", "base_kind": "lines", "base": "900 g water\n100 g sugar",
              "texture__word": "elastic"}  # fmt: skip
    part = bench.post(HERE, fields, headers=SCRIPT).content.decode()
    assert "<html" not in part
    assert "Judging pairs and triples" in part
    assert [is_first for _, is_first, _ in engine] == [True]
    chained = hidden(part, HERE)
    part = unescape(bench.post(HERE, chained, headers=SCRIPT).content.decode())
    assert [is_first for _, is_first, _ in engine] == [True, False]
    assert part.count('class="proposal"') == 3
    assert "Judging pairs" not in part
    assert engine[0][0] == engine[1][0]


def test_a_mistake_in_the_form_is_told_at_its_field_as_it_is_typed(bench):
    fields = {"title": "Jelly", "base": "900 g water", "serving_c": "mild"}
    part = unescape(bench.post(HERE, fields, headers=SCRIPT).content.decode())
    told = part[part.index('id="problem-serving_c"') :]
    assert "“mild” is not a number" in told[: told.index("</div>")]
    assert "Nothing you typed was lost" in part


def test_what_the_kitchen_does_not_know_is_told_at_its_field(bench, saved):
    saved(title="Milk blocks")
    fields = {"title": "Jelly", "base_kind": "formula", "base_formula": "Milk bloks",
              "texture__word": "elastic"}  # fmt: skip
    part = unescape(bench.post(HERE, fields, headers=SCRIPT).content.decode())
    told = part[part.index('id="problem-base_formula"') :]
    assert "no saved formula “Milk bloks”. Nearest: Milk blocks" in told[: told.index("</div>")]


def test_what_the_engine_refuses_is_told_and_leads_back_to_the_brief(bench, monkeypatch):
    def refuse(brief, **known):
        raise InputError("No agent is left to try.", field="shelf", hint="Name more agents.")

    monkeypatch.setattr(proposals, "propose", refuse)
    page = raw_page(bench)
    assert "No agent is left to try. Name more agents." in page
    assert hidden(page, "/briefs/new/")["title"] == "Elderflower jelly"


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format":"setwell-brief"}', '{"format":"x"}'])
def test_an_address_that_holds_no_brief_is_refused_in_words(bench, text):
    answer = bench.get(HERE, {"brief": text})
    assert answer.status_code == 400
    assert "refused" in answer.content.decode() or "could not be read" in answer.content.decode()


def test_reasons_are_grouped_and_folded(bench):
    page = page_of(bench)
    folded = page[page.index("Why the others fell out") :]
    assert "<strong>Lambda carrageenan:</strong> will not gel" in folded
    assert folded.index("Gelatin:") < folded.index("Agar + xanthan gum:")


def test_a_way_out_opens_the_brief_with_the_change_and_saves_nothing(bench):
    page = raw_page(bench, brief_of(holds_c=60.0))
    assert "Elastic and holding hot exclude each other here." in page
    way = page[page.index("Nearest ways out") :]
    fields = hidden(way, "/briefs/new/")
    assert fields["holds_c"] == "45"
    answer = bench.post("/briefs/new/", {**fields, "show": "1"})
    opened = unescape(answer.content.decode())
    assert answer.status_code == 200
    assert re.search(r'name="holds_c"[^>]*value="45"|value="45"[^>]*name="holds_c"', opened)
    assert briefs_list() == ()


def test_a_proposal_becomes_a_formula_with_one_press(bench):
    page = raw_page(bench)
    fields = hidden(page, "/briefs/proposals/formula/")
    code = re.search(r'name="code" value="([^"]+)">Make it a formula', page)
    assert code is not None
    answer = bench.post("/briefs/proposals/formula/", {**fields, "code": code[1]})
    made = formulas.formula_list()[0]
    assert answer.status_code == 302
    assert answer["Location"] == f"/formulas/{made.id}/"
    detail = formulas.version_get(formula_id=made.id)
    assert "kappa carrageenan" in detail.formula.ingredients
    assert "Elderflower jelly" in detail.summary.note
    assert "from the brief “Elderflower jelly”" in bench.get(answer["Location"]).content.decode()


def test_a_proposal_that_is_gone_is_told_and_nothing_is_saved(bench):
    fields = {"brief": text_of(brief_of()), "code": "no such one"}
    answer = bench.post("/briefs/proposals/formula/", fields)
    assert answer.status_code == 404
    assert "no proposal “no such one”" in unescape(answer.content.decode())
    assert formulas.formula_list() == ()


def test_making_a_formula_needs_a_press_of_the_button(bench):
    assert bench.get("/briefs/proposals/formula/").status_code == 405


def test_names_from_outside_are_written_as_text(bench):
    page = bench.get(HERE, {"brief": text_of(brief_of("<script>alert(1)</script>"))})
    assert b"<script>alert" not in page.content


def test_first_and_whole_results_never_mix_up_their_codes(bench):
    fields = {"title": "Elderflower jelly", "base_kind": "lines", "texture__word": "elastic",
              "base": "900 g water\n100 g sugar"}  # fmt: skip
    part = bench.post(HERE, fields, headers=SCRIPT).content.decode()
    first = re.findall(r'name="code" value="([^"]+)">Make', part)
    whole = re.findall(r'name="code" value="([^"]+)">Make', page_of(bench))
    assert len(first) == 2
    assert not set(first) & set(whole)


def test_a_long_brief_is_posted_and_means_the_same():
    brief = brief_of(base="\n".join(f"{n} g water" for n in range(1, 900)))
    assert AskedBrief(brief).method == "post"
    assert AskedBrief(brief_of()).method == "get"
    assert brief_import_json(text=AskedBrief(brief).text) == brief


def trials_of(bench, **more):
    page = raw_page(bench)
    form = hidden(page, "/briefs/proposals/trials/")
    code = re.search(r'name="code" value="([^"]+)">Lay out a first trial set', page)
    assert code is not None
    answer = bench.get("/briefs/proposals/trials/", {**form, "code": code[1], **more})
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_trial_set_tells_what_to_weigh_and_what_each_cup_tells(bench):
    page = unescape(trials_of(bench))
    for said in ("First trials for Elderflower jelly", "Make the base once", "Stock of",
                 "Weigh the cups, in this order", "the proposal as it is", "What to write down",
                 "Cautions", "oz)"):  # fmt: skip
        assert said in page, said
    codes = re.findall(r"<td><strong>(\d{3})</strong></td>", page)
    assert len(codes) == len(set(codes)) >= 7
    assert all(f"<h3>{code} <span" in page for code in codes)


def test_a_trial_set_for_larger_cups_weighs_more(bench):
    bases = []
    for size in ("100", "200"):
        page = unescape(trials_of(bench, cup=size)).replace("\xa0", " ")
        assert f"cups of {size} g" in page
        first = re.search(r'<td class="n">([\d.]+) g</td>', page)
        assert first is not None
        bases.append(float(first[1]))
    assert bases[1] > 1.9 * bases[0]


def test_a_cup_that_is_not_laid_out_is_told_at_its_field(bench):
    page = unescape(trials_of(bench, cup="5"))
    told = page[page.index('id="problem-cup"') :]
    assert "write a number from 20 to 2,000 g" in told[: told.index("</div>")]
    assert 'value="5"' in page
    assert "Weigh the cups" not in page


@pytest.mark.parametrize(
    ("ending", "begins", "kind"),
    [
        ("sheet.pdf", b"%PDF-", "application/pdf"),
        ("table.csv", "\ufefforder,code,change".encode(), "text/csv"),
        ("sheet.txt", b"ELDERFLOWER JELLY", "text/plain"),
    ],
)
def test_the_trial_set_goes_to_the_bench_as_a_file(bench, ending, begins, kind):
    page = trials_of(bench)
    form = hidden(page, "/briefs/proposals/trials/sheet.pdf")
    answer = bench.get(f"/briefs/proposals/trials/{ending}", form)
    assert answer.status_code == 200
    assert answer["Content-Type"].startswith(kind)
    assert answer.content.startswith(begins)
    assert 'filename="elderflower-jelly-trials.' in answer["Content-Disposition"]


def test_a_file_of_cups_that_cannot_be_is_refused_on_the_page(bench):
    form = hidden(trials_of(bench), "/briefs/proposals/trials/sheet.pdf") | {"scale": "5"}
    answer = bench.get("/briefs/proposals/trials/sheet.pdf", form)
    assert answer["Content-Type"].startswith("text/html")
    assert "5 is not possible here" in unescape(answer.content.decode())
