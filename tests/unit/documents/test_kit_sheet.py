"""The packing sheet on paper: read back from the PDF, and the codes read by a decoder."""

import datetime as dt
import json
from dataclasses import asdict
from importlib.resources import files
from io import BytesIO

import pytest
import typst
import zxingcpp
from builders_engine import formula_of
from PIL import Image
from pypdf import PdfReader

from setwell.documents.kit_sheet import kit_sheet_build
from setwell.documents.kit_sheet_pdf import kit_sheet_pdf
from setwell.domain.pantry import Lot, Pantry
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.kit.build import KitAsk, kit_build
from setwell.errors import InputError

ADDRESS = "https://kitchen.example/cards/pudding/"
LOT = Lot(agent="agar", lot_code="A-9 #*_`", best_before=dt.date(2027, 3, 1), in_use=True)


def sheet_of(title="Barley pudding", *, kits=3, step=0.1, address=ADDRESS):
    formula = formula_of(
        "900 g whole milk", "60 g sugar", "12.5 g agar", "0.4 g salt", title=title, portions=8
    )
    lots = (LOT,)
    bench = bench_build(formula, catalog=catalog_build(Pantry(lots=lots)))
    kit = kit_build(
        bench, ask=KitAsk(kits=kits), readability_g=step, lots=lots, today=dt.date(2026, 5, 1)
    )
    return kit_sheet_build(
        kit, readability_g=step, version_label="version 2", content_hash=formula.content_hash,
        kitchen_name="Lantern Quay", portions=8, address=address,
    )  # fmt: skip


def text_of(sheet, **options):
    pages = PdfReader(BytesIO(kit_sheet_pdf(sheet, **options))).pages
    return [" ".join(page.extract_text().split()) for page in pages]


def test_every_weight_tolerance_lot_and_hash_stands_on_the_sheet():
    sheet = sheet_of()
    first, labels = text_of(sheet)
    for item in sheet.bags[0].items:
        for told in (item.name, item.weight, item.tolerance, item.total):
            assert told in first, told
    assert "A-9 #*_` (best before 1 Mar 2027)" in first
    assert sheet.short_hash in first
    assert "12.5 g" in first
    assert "Draft, to be checked by a qualified person" in first
    assert labels.count("Barley pudding") >= 3
    assert labels.count(ADDRESS) == 3
    assert "Add: 900 g Milk, whole 3.25%" in labels


def test_each_label_has_a_code_that_a_phone_reads():
    sheet = sheet_of(kits=5)
    made = typst.compile(
        files("setwell.documents").joinpath("kit_sheet.typ").read_bytes(),
        format="png", ppi=150, ignore_system_fonts=True,
        sys_inputs={"kit": json.dumps({**asdict(sheet), "missing_glyphs": False}, default=str),
                    "paper": "a4"},
    )  # fmt: skip
    found = [one.text for page in made for one in zxingcpp.read_barcodes(Image.open(BytesIO(page)))]
    assert found == [ADDRESS] * 5


def test_names_in_other_scripts_and_markup_survive():
    first, *_ = text_of(sheet_of('Crème #[x] "Ølbrød" *kold*'))
    assert 'Crème #[x] "Ølbrød" *kold*' in first
    assert text_of(sheet_of("חלב עם דבש"))


def test_letter_paper_and_many_kits():
    pages = PdfReader(BytesIO(kit_sheet_pdf(sheet_of(kits=30), paper="Letter"))).pages
    assert float(pages[0].mediabox.width) == pytest.approx(612)
    assert sum(page.extract_text().count("net 7") for page in pages[1:]) == 30


def test_without_an_address_there_is_no_code():
    sheet = sheet_of(address="")
    assert sheet.label.qr == ""
    assert len(text_of(sheet)) == 2


def test_another_paper_is_refused():
    with pytest.raises(InputError, match="paper size for packing sheets"):
        kit_sheet_pdf(sheet_of(), paper="A3")
