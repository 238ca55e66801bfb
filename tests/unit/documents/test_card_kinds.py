"""The three kinds of card, why each step is there, lots, storage, QR codes and photos."""

import json
import re
from dataclasses import asdict, replace
from io import BytesIO

import numpy as np
import pytest
import zxingcpp
from builders_assessment import agent_make, assessment_make, estimate_make, findings_with_stop
from PIL import Image
from pypdf import PdfReader

from setwell.documents.card import Card, CardKind, CardPhoto, card_build, card_of_kind
from setwell.documents.card_pdf import card_pdf
from setwell.documents.card_text import card_text
from setwell.documents.qr_code import ADDRESS_MOST, qr_svg
from setwell.documents.steps import step_key
from setwell.domain.formula import formula_make
from setwell.domain.pantry import Kitchen
from setwell.engine.assess import assess
from setwell.engine.assessment import Figure, Verdict
from setwell.errors import InputError

ADDRESS = "http://192.168.7.20:8000/formulas/12/card/?version=3"
AGAR = """300 g water
60 g sugar
4 g agar
40 g lemon juice"""
AGAR_STEPS = """Mix the agar with the sugar, dry.
Whisk the mix into the cold water.
Boil for 3 min, stirring.
Cool to 60 °C, then stir in the lemon juice.
Pour into molds at 55 °C.
Chill at 4 °C for 2 h.
Reheat to 60 °C and hold for 20 min."""


def built(assessment=None, **options) -> Card:
    return card_build(
        assessment or assessment_make(),
        version_label="version 3",
        kitchen=Kitchen(name="North bench"),
        **options,
    )


def agar_card(**options) -> Card:
    formula = formula_make(title="Lemon blocks", ingredients=AGAR, steps=AGAR_STEPS, portions=4)
    return built(assess(formula), **options)


def why(card: Card, number: int) -> str:
    return " ".join(note.text for note in card.steps[number - 1].why)


def test_every_kind_keeps_what_keeps_people_safe():
    full = built(assessment_make(findings=findings_with_stop()))
    for kind in CardKind:
        card = card_of_kind(full, kind)
        assert (card.cautions, card.allergens, card.deferral) == (
            full.cautions, full.allergens, full.deferral,
        )  # fmt: skip
        assert (card.storage, card.open_points, card.critical_points) == (
            full.storage, full.open_points, full.critical_points,
        )  # fmt: skip
        assert card.remark
        assert kind.meaning


def test_a_home_card_leaves_out_shares_numbers_and_lots():
    home, pro = built(kind=CardKind.HOME), built()
    assert (home.key_numbers, home.lot_boxes) == ((), ())
    assert not any(line.percent for phase in home.phases for line in phase.lines)
    assert pro.key_numbers
    assert pro.lot_boxes
    assert [line.weight for p in home.phases for line in p.lines] == [
        line.weight for p in pro.phases for line in p.lines
    ]


def test_each_step_says_why_in_the_words_of_its_agents():
    card = agar_card()
    assert "Sugar keeps the grains of agar apart" in why(card, 1)
    assert why(card, 2) == ""
    assert "Agar dissolves fully only at a boil" in why(card, 3)
    assert "takes about 1 to 5 min" in why(card, 3)
    assert "Hot acid cuts the chains of agar" in why(card, 4)
    assert "60 °C (140 °F)" in why(card, 4)
    assert "it may begin to set" in why(card, 5)
    assert "within 2 h" in why(card, 6)


def test_what_surely_sets_says_when_it_has():
    steps = "Boil the agar for 3 min.\nPour into molds at 70 °C.\nChill at 4 °C for 2 h.\nUnmold."
    formula = formula_make(title="Blocks", ingredients="300 g water\n4 g agar", steps=steps)
    card = built(assess(formula))
    assert "Agar has set once the core is below 32 °C (89 °F)" in why(card, 3)
    assert card.steps[2].points == ("Leave alone", "Cool in time")
    assert "It holds up to about" in why(card, 4)


def test_a_later_gentle_hold_is_not_explained_by_dissolving():
    assert "dissolve" not in why(agar_card(), 7)


def test_sugar_in_the_water_keeps_no_grains_apart():
    steps = "Rain the agar into the cold water and sugar, whisking.\nBoil for 3 min."
    formula = formula_make(title="Blocks", ingredients=AGAR, steps=steps)
    assert "Sugar keeps" not in why(built(assess(formula)), 1)


def test_acid_before_the_boil_is_not_given_a_reason():
    steps = "Mix water and agar, add the lemon juice.\nBoil for 3 min.\nChill at 4 °C."
    formula = formula_make(title="Blocks", ingredients=AGAR, steps=steps)
    card = built(assess(formula))
    assert not any("Acid late" in step.points for step in card.steps)


def test_steps_that_decide_are_marked():
    points = [step.points for step in agar_card().steps]
    assert points == [
        (), (), ("Dissolve",), ("Acid late",), ("Pour in time",), ("Cool in time",), (),
    ]  # fmt: skip


def test_an_agent_that_goes_in_later_is_not_in_the_earlier_steps():
    steps = "Warm the cream to 90 °C.\nHeat to 85 °C with the kappa carrageenan."
    formula = formula_make(
        title="Cream", ingredients="300 g cream\n2 g kappa carrageenan", steps=steps
    )
    assert "Kappa" not in why(built(assess(formula)), 1)


def test_every_reason_says_where_it_is_from():
    card = agar_card()
    numbers = {source.number for source in card.sources}
    notes = [note for step in card.steps for note in step.why] + list(card.storage)
    assert notes
    assert all(note.sources and set(note.sources) <= numbers for note in notes)
    assert all(source.text and source.grade for source in card.sources)


def test_storage_is_that_of_the_food_code():
    text = " ".join(note.text for note in agar_card().storage)
    assert "5 °C (41 °F) or colder" in text
    assert "by day 7" in text
    assert "within 4 h" in text
    source = next(one for one in agar_card().sources if "Food Code" in one.text)
    assert "3-501.17(A)" in source.text


def test_nothing_read_has_no_storage():
    empty = assessment_make(lines=(), agents=(), steps=())
    assert built(empty).storage == ()


def test_a_lot_half_as_strong_takes_the_root_of_two_more():
    # Agar's stiffness grows with the square of its dose in the tables, so 4 g become 4 g * 2^0.5.
    box = agar_card(strengths={"agar": 0.5}).lot_boxes[0]
    own = next(dose for dose in box.doses if dose.is_own)
    assert (own.strength, own.weight) == ("0.5", "5.66 g")
    same = next(dose for dose in box.doses if dose.strength == "1")
    assert same.weight == box.weight == "4 g"


def test_doses_fall_as_lots_get_stronger():
    grams = [float(dose.weight.split()[0]) for dose in agar_card().lot_boxes[0].doses]
    assert grams == sorted(grams, reverse=True)


def test_a_thickener_is_judged_by_its_thickness():
    thin = agent_make(key="xanthan", name="xanthan", sets=Verdict.NO, lines=(5,))
    box = built(assessment_make(agents=(thin,))).lot_boxes[0]
    assert "as thick" in box.basis
    assert "thickness" in box.note


@pytest.mark.parametrize("strength", [0.0, -1.0, 0.2, 9.0, float("nan")])
def test_a_strength_out_of_range_is_refused_at_its_field(strength):
    with pytest.raises(InputError, match=r"outside 0\.3 to 3") as caught:
        agar_card(strengths={"agar": strength})
    assert caught.value.field == "strength_agar"


def test_a_strength_of_an_agent_that_is_not_there_is_refused():
    with pytest.raises(InputError, match="not an agent of this formula"):
        agar_card(strengths={"gelatin": 1.1})


def test_a_gel_that_sets_without_cooling_is_not_poured_against_the_clock():
    hot = agent_make()
    hot = replace(hot, gel=replace(hot.gel, sets_on="ions"))
    card = built(assessment_make(agents=(hot,)))
    assert not any("Pour in time" in step.points for step in card.steps)


def test_mild_batches_have_no_acid_reason():
    mild = assessment_make(solution=(Figure("ph", "pH", estimate_make(6.6, "", 6.2, 7.0)),))
    assert not any("Acid late" in step.points for step in built(mild).steps)


def dots_of(svg: str) -> Image.Image:
    """Paint the path of a QR code: rows of runs, as "M x y h length" and "m dx dy h length"."""
    size = int(re.search(r'viewBox="0 0 (\d+) \1"', svg)[1])
    dots = np.full((size, size), 255, dtype=np.uint8)
    x = y = 0.0
    drawn = re.search(r'stroke="#000" d="([^"]+)"', svg)[1]
    for move, dx, dy, run in re.findall(r"([Mm])(-?[\d.]+) (-?[\d.]+)h(\d+)", drawn):
        x, y = (float(dx), float(dy)) if move == "M" else (x + float(dx), y + float(dy))
        dots[int(y), int(x) : int(x) + int(run)] = 0
        x += int(run)
    return Image.fromarray(dots).resize((size * 8, size * 8), Image.Resampling.NEAREST)


def test_the_qr_code_holds_the_address():
    card = built(address=ADDRESS)
    found = zxingcpp.read_barcodes(dots_of(card.qr))
    assert [one.text for one in found] == [ADDRESS]
    assert ADDRESS in card_text(card)
    assert built().qr == ""


def test_an_address_too_long_for_a_code_is_refused():
    with pytest.raises(InputError, match="QR code needs an address"):
        qr_svg("http://kitchen.example/" + "x" * ADDRESS_MOST)


def photo_make(number: int, text: str) -> CardPhoto:
    return CardPhoto(number, text, "as it should look", 40, 30)


def jpeg(color: str) -> bytes:
    drawn = BytesIO()
    Image.new("RGB", (40, 30), color).save(drawn, "JPEG")
    return drawn.getvalue()


def pages(card: Card, **options) -> PdfReader:
    return PdfReader(BytesIO(card_pdf(card, computer_fonts=False, **options)))


def test_photos_stand_at_the_dish_and_at_their_step():
    step = AGAR_STEPS.splitlines()[2]
    photos = {"": photo_make(1, "The dish"), step_key(step.upper()): photo_make(2, "Step 3")}
    card = agar_card(photos=photos)
    assert card.photo == photos[""]
    assert [s.number for s in card.steps if s.photo] == [3]
    made = pages(card, pictures={1: jpeg("teal"), 2: jpeg("tan")})
    assert sum(len(page.images) for page in made.pages) == 2
    text = " ".join(page.extract_text() for page in made.pages)
    assert "as it should look" in text


@pytest.mark.parametrize("kind", list(CardKind))
def test_only_the_bench_card_has_empty_frames_boxes_and_blanks(kind):
    text = " ".join(page.extract_text() for page in pages(agar_card(kind=kind)).pages)
    assert (text.count("Photo") == 8) is (kind is CardKind.BENCH)
    assert ("Made by" in text) is (kind is CardKind.BENCH)
    assert ("[ ]" in card_text(agar_card(kind=kind))) is (kind is CardKind.BENCH)


@pytest.mark.parametrize("paper", ["A5", "A4", "Letter", "Phone"])
def test_reasons_lots_storage_and_sources_are_in_the_file(paper):
    card = agar_card(kind=CardKind.BENCH, address=ADDRESS, strengths={"agar": 0.85})
    text = re.sub(r"\s+", "", " ".join(p.extract_text() for p in
                                               pages(card, paper=paper).pages))  # fmt: skip
    wanted = [note.text for step in card.steps for note in step.why]
    wanted += [point for step in card.steps for point in step.points]
    wanted += [note.text for note in card.storage]
    # A page may end within a source.
    wanted += [part for one in card.sources for part in one.text.split("; ")]
    wanted += [part for box in card.lot_boxes for part in (box.basis, box.note)]
    wanted += [dose.weight for box in card.lot_boxes for dose in box.doses]
    wanted += [card.content_hash, card.address, "yours:0.85"]
    assert [part for part in wanted if re.sub(r"\s+", "", part) not in text] == []


def test_every_typeface_is_embedded():
    fonts = [
        font.get_object()
        for page in pages(agar_card()).pages
        for font in page["/Resources"]["/Font"].values()
    ]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        held = inner["/FontDescriptor"].get_object()
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(held)


def test_characters_that_cannot_be_shown_are_named():
    text = " ".join(
        page.extract_text() for page in pages(replace(agar_card(), title="冷菓 🍮")).pages
    )
    assert "U+51B7 cjk unified ideograph-51b7" in " ".join(text.split())
    assert "U+1F36E custard" in " ".join(text.split())
    assert "600\u00a0g" in text or "300\u00a0g" in text


@pytest.mark.parametrize(
    "title", ["بلوک‌های لیمو با شیر", "קוביות לימון וחלב", "Lemon " * 20, "L" * 120]
)
@pytest.mark.parametrize("paper", ["A5", "Phone"])
def test_right_to_left_and_very_long_titles_keep_within_the_page(title, paper):
    made = pages(replace(agar_card(), title=title.strip()), paper=paper)
    ends: list[float] = []

    def seen(text: str, page: list[float], at: list[float], font: object, size: float) -> None:
        # The narrowest letters of a line take about a quarter of their height.
        if text.strip():
            start = page[0] * at[4] + page[4]
            ends.append(start + 0.25 * size * page[0] * at[0] * len(text.strip()))

    made.pages[0].extract_text(visitor_text=seen)
    width = float(made.pages[0].mediabox.width)
    assert 0.5 * width < max(ends) < width


def test_the_card_is_plain_data():
    told = json.loads(json.dumps(asdict(agar_card(kind=CardKind.HOME))))
    assert told["kind"] == "home"
    assert told["steps"][2]["why"][0]["sources"] == [2]
