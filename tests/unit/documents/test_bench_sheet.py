"""The bench sheet: what is on it, and that it prints on two pages at most."""

import re
from dataclasses import replace
from io import BytesIO

import pytest
from builders_process import agar_formula
from pypdf import PdfReader

from setwell.documents.bench_sheet import bench_sheet_build, equipment_lines
from setwell.documents.bench_sheet_pdf import bench_sheet_pdf
from setwell.documents.bench_sheet_text import bench_sheet_text
from setwell.documents.card import card_build
from setwell.domain.equipment import Cooler, Hob, MoldForm
from setwell.domain.pantry import Kitchen
from setwell.domain.process_plan import CoolPlan, PotPlan, ProcessPlan
from setwell.engine.assess import assess, bench_build
from setwell.engine.timeline.build import timeline
from setwell.engine.timeline.schedule import schedule
from setwell.errors import InputError

PLAN = ProcessPlan(
    pot=PotPlan(hob=Hob(name="Left ring", power_w=1800), diameter_mm=180, target_c=95),
    cooling=CoolPlan(
        mold=MoldForm(volume_ml=100), cooler=Cooler(name="Drawer", air_c=5), count=6, pour_c=60
    ),
)


def built(serve=None, plan=PLAN, **more):
    formula = agar_formula(**more)
    assessment = assess(formula)
    line = timeline(bench_build(formula), plan)
    return bench_sheet_build(
        assessment,
        card_build(assessment, version_label="version 2", kitchen=Kitchen(name="North bench")),
        line,
        plan=plan,
        schedule=schedule(line, serve_min=serve) if serve else None,
    )


def pages(sheet, paper="A4"):
    return PdfReader(BytesIO(bench_sheet_pdf(sheet, paper=paper))).pages


def squeezed(text):
    return re.sub(r"\s+", "", text)


def test_every_step_can_be_ticked_off_and_has_its_blanks():
    sheet = built()
    assert [step.number for step in sheet.steps] == ["", *map(str, range(1, 9))]
    heat = sheet.steps[2]
    assert heat.blanks == ("Time", "Bottom °C", "Core °C", "Top °C")
    acid = next(step for step in sheet.steps if "lemon" in step.text)
    assert acid.blanks == ("Time", "°C before", "pH after")
    chill = next(step for step in sheet.steps if step.text.startswith("Chill"))
    assert chill.blanks[1:3] == ("Core °C after 2 h", "Core °C after 6 h")


def test_points_stand_with_the_steps_they_belong_to():
    sheet = built()
    pour = next(step for step in sheet.steps if step.text.startswith("Pour"))
    assert pour.points == ("Pour while it is liquid",)
    assert next(point for point in sheet.points if "liquid" in point.title).step == "step 6"


def test_with_a_serving_time_steps_have_a_clock():
    sheet = built(serve=18 * 60.0)
    assert "at the latest" in sheet.schedule_line
    assert re.match(r"\d\d:\d\d \(", sheet.steps[1].begins)
    assert built().steps[1].begins.startswith("after ")


def test_equipment_is_told_in_words():
    pot, cold = equipment_lines(PLAN)
    assert pot == (
        "Pot: 180 mm across, open, on Left ring at 1800 W, stirred: now and then, to 95 °C (203 °F)"
    )
    assert cold == "Cold: 6 molds in Drawer at 5 °C (41 °F), poured at 60 °C (140 °F)"
    assert equipment_lines(None) == ()


def test_an_agent_without_a_lot_leaves_a_blank():
    assert built().lots == (("Agar", ""),)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_sheet_fits_two_pages_and_holds_its_text(paper):
    sheet = built(serve=18 * 60.0)
    found = pages(sheet, paper)
    assert len(found) <= 2
    text = squeezed("".join(page.extract_text() for page in found))
    for wanted in (sheet.title, sheet.steps[3].text, "Signature", "Core °C after 2 h",
                   sheet.points[0].target, sheet.deferral, sheet.foot):  # fmt: skip
        assert squeezed(wanted) in text
    width = float(found[0].mediabox.width) * 25.4 / 72
    assert width == pytest.approx(210 if paper == "A4" else 215.9, abs=0.5)


def test_characters_without_a_typeface_print_as_boxes_and_the_sheet_says_so():
    text = "".join(page.extract_text() for page in pages(built(title="寒天 cups")))
    assert squeezed("Some characters cannot be printed") in squeezed(text)


def test_what_looks_like_markup_is_text():
    sheet = replace(built(), schedule_line="#panic() *bold* $x$ \x07")
    assert squeezed("#panic() *bold* $x$") in squeezed(pages(sheet)[0].extract_text())


def test_an_unknown_paper_is_refused():
    with pytest.raises(InputError, match="'A5' is not a paper size for bench sheets"):
        bench_sheet_pdf(built(), paper="A5")


def test_the_text_has_boxes_blanks_and_points():
    text = bench_sheet_text(built(serve=18 * 60.0))
    assert text.startswith("LEMON CUPS\n")
    assert "  [ ]  2 Heat to 90 °C, stirring now and then." in text
    assert "Bottom °C ____" in text
    assert "  ! Pour while it is liquid (step 6)" in text
    assert "Agar: ________________" in text


def test_no_line_of_the_text_is_wider_than_the_page():
    wide = built(ingredients=f"500 g {'very ' * 30}whole milk\n4 g agar")
    assert max(map(len, bench_sheet_text(wide).splitlines())) <= 80
