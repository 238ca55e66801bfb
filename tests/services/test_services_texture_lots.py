"""Lots in standard tests: recorded, judged against the tables and beside other lots."""

import csv
import io
import re
from math import pi

import pytest
from builders_kitchen import agent_of, lot_of
from django.db import IntegrityError, transaction

from setwell.domain.texture_reading import LotCheck, LotTest
from setwell.engine.assess import bench_build
from setwell.engine.lot_check import lot_test_formula
from setwell.engine.texture_observations import penetration_factor
from setwell.errors import ConflictError, InputError, NotFoundError, UnknownNameError
from setwell.services import pantry
from setwell.services.lot_checks import (
    lot_check_export_csv,
    lot_check_get,
    lot_check_guide,
    lot_check_list,
    lot_check_meaning,
    lot_check_record,
    lot_check_set_aside,
    lot_check_take_back,
    lot_check_tests,
)
from setwell.services.lot_strength import lot_report
from setwell.store.rows import LotCheckRow, LotCheckRulingRow

pytestmark = pytest.mark.django_db

AGENT = "kappa carrageenan"


@pytest.fixture
def lots():
    for code in ("K-1", "K-2"):
        pantry.lot_save(id=None, document=lot_of(code))


def check_of(*values, lot_code="K-1", **fields):
    return LotCheck(
        **{
            "agent": AGENT,
            "lot_code": lot_code,
            "kind": "potassium_gel",
            "values": values,
            **fields,
        }
    )


def record(*values, **fields):
    return lot_check_record(document=check_of(*values, **fields))


def usual():
    """Grams at which the tables expect the potassium gel to break under 1 cm2."""
    bench = bench_build(lot_test_formula("kappa_carrageenan", LotTest.POTASSIUM_GEL).formula)
    stress = float(bench.state.texture.gel.fracture_stress.value[0])
    return penetration_factor(bench) * stress * pi * 5.64e-3**2 / 9.80665 * 1000


def report(lot_code="K-1"):
    return lot_report(agent=AGENT, lot_code=lot_code)


def test_a_check_is_listed_with_the_usual_dose_filled_in(lots):
    row_id = record(400, 420, note=" good ")
    stored = lot_check_get(id=row_id)
    assert stored.agent == "kappa_carrageenan"
    assert stored.document.dose_pct == 1.5
    assert stored.document.note == "good"
    assert lot_check_list(agent=AGENT) == (stored,)
    assert lot_check_list(agent="agar") == ()
    assert lot_check_list(lot_code="K-2") == ()
    with pytest.raises(NotFoundError):
        lot_check_get(id=row_id + 1)


def test_a_lot_that_is_not_on_the_shelf_cannot_be_checked(lots):
    with pytest.raises(UnknownNameError, match="no lot “K-9”") as caught:
        record(400, lot_code="K-9")
    assert caught.value.nearest == ("K-1", "K-2")
    with pytest.raises(InputError, match="written “K-1”"):
        record(400, lot_code="k-1")
    assert lot_check_get(id=record(400, lot_code="")).document.lot_code == ""


@pytest.mark.parametrize("name", ["moon dust", "whole milk"])
def test_what_is_no_agent_cannot_be_checked(name):
    with pytest.raises(UnknownNameError, match="not a texture agent"):
        lot_check_record(document=check_of(400, agent=name, lot_code=""))


def test_a_test_that_says_nothing_of_the_powder_is_refused():
    with pytest.raises(InputError, match="Tests that fit it"):
        lot_check_record(document=check_of(400, agent="xanthan", lot_code=""))
    assert LotTest.WATER_VISCOSITY in lot_check_tests(agent="xanthan")


def test_a_check_never_changes_and_is_set_aside_with_a_reason(lots):
    row_id = record(400)
    lot_check_set_aside(id=row_id, reason="air bubbles")
    for table in (LotCheckRow, LotCheckRulingRow):
        with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
            table.objects.update(recorded_at="2026-01-01T00:00:00Z")
    stored = lot_check_get(id=row_id)
    assert (stored.counts, stored.reason) == (False, "air bubbles")
    with pytest.raises(ConflictError):
        lot_check_set_aside(id=row_id, reason="twice")
    assert report().against_tables is None
    lot_check_take_back(id=row_id)
    with pytest.raises(ConflictError):
        lot_check_take_back(id=row_id)
    assert report().against_tables is not None


def test_an_unmeasured_lot_is_taken_as_usual(lots):
    found = report()
    assert found.against_tables is None
    assert found.advice is None
    assert "Not measured yet" in found.sentence


def test_a_weak_lot_is_told_with_its_range_and_its_readings(lots):
    for share in (0.50, 0.51, 0.52):
        record(share * usual())
    found = report()
    assert found.against_tables.shift < 0
    assert re.fullmatch(
        r"0\.\d+ times the usual \(0\.\d+ to [\d.]+\), on 3 own measurements\.", found.sentence
    )
    assert found.of_lot == 3
    assert found.advice.factor > 1
    assert found.advice.low < found.advice.factor < found.advice.high
    assert found.advice.is_exponent_known
    assert len(found.readings) == len(found.checks) == 3


def test_the_standard_test_is_shown_before_and_after(lots):
    for share in (0.50, 0.51, 0.52):
        record(share * usual())
    found = report()
    assert (found.test, found.test_title) == ("potassium_gel", "Gel in water with potassium")
    (row,) = [one for one in found.rows if one.quantity == "strength"]
    assert row.computed.unit == "kPa"
    assert row.calibrated.value == pytest.approx(row.computed.value * row.posterior.value)
    assert row.calibrated.high / row.calibrated.low < row.computed.high / row.computed.low
    assert report("K-2").rows[0].of_lot == 0


def test_lots_are_told_apart_more_sharply_than_from_the_tables(lots):
    for _ in range(3):
        record(0.8 * usual())
        record(1.2 * usual(), lot_code="K-2")
    weak, strong = report(), report("K-2")
    # The plunger's factor is the same for both, so it drops out between them.
    assert weak.beside_other_lots.half_width < weak.against_tables.half_width
    assert weak.beside_other_lots.shift < 0 < strong.beside_other_lots.shift
    assert "Beside our other lots" in weak.beside_sentence


def test_a_lot_not_measured_learns_from_the_others(lots):
    record(0.8 * usual(), lot_code="K-2")
    assert report().sentence.startswith("Not measured itself; by other readings")
    assert report().beside_other_lots is None


def test_lots_that_differ_beyond_reason_are_disputed(lots):
    record(0.3 * usual(), plus_minus=5)
    record(2.5 * usual(), plus_minus=5, lot_code="K-2")
    found = report()
    assert len(found.disputes) == 1
    assert found.against_tables.is_disputed
    assert "contradict" in found.sentence


def test_a_wild_cup_within_one_test_is_not_averaged_away(lots):
    plain, wild = usual(), 0.2 * usual()
    record(plain, 1.05 * plain, wild)
    found = report()
    (dispute,) = found.disputes
    assert "cups of one test" in dispute.sentence
    assert found.against_tables.is_disputed


def test_cups_that_agree_are_one_reading(lots):
    plain = usual()
    record(plain, 1.05 * plain, 0.97 * plain)
    found = report()
    assert found.disputes == ()
    assert found.against_tables.readings == 1


def test_a_brown_powder_is_a_weak_lot_with_a_warning(lots):
    record(200, color="brown", flavor="marine")
    flags = report().flags
    assert "little refined" in flags[0]
    assert "tastes of the sea" in flags[1]
    record(210, color="white", flavor="neutral")
    assert report().flags == ()


def test_a_control_cup_says_what_it_means_and_moves_no_number(lots):
    record(kind="powder_control", outcome="did_not_set")
    found = report()
    assert found.against_tables is None
    assert "set the lot aside" in found.last_answer.action
    meaning = lot_check_meaning(document=check_of(kind="powder_control", outcome="set"))
    assert "the fault is elsewhere" in meaning.meaning
    assert lot_check_meaning(document=check_of(400)) is None


def test_a_guide_is_found_by_any_name_of_the_powder():
    pantry.agent_save(id=None, document=agent_of())
    guide = lot_check_guide(agent="Kappa trade powder", kind=LotTest.POTASSIUM_GEL)
    assert guide.agent == "kappa_carrageenan"
    assert "1.5 g kappa" in guide.amounts


def test_an_own_product_has_lots_of_its_own():
    pantry.agent_save(id=None, document=agent_of(strength_factor=0.5))
    pantry.lot_save(id=None, document=lot_of("7", agent="Kappa trade powder"))
    pantry.lot_save(id=None, document=lot_of("7"))
    lot_check_record(document=check_of(200, agent="Kappa trade powder", lot_code="7"))
    own = lot_report(agent="Kappa trade powder", lot_code="7")
    assert len(own.readings) == 1
    # Half the strength is entered, so this weak gel is what the model expects of it.
    plain = lot_report(agent=AGENT, lot_code="7")
    assert plain.checks == ()
    assert plain.sentence.startswith("Not measured itself")


def test_a_gelatin_lot_is_judged_by_bloom():
    pantry.lot_save(id=None, document=lot_of("G-1", agent="gelatin"))
    document = check_of(180, agent="gelatin", lot_code="G-1", kind="bloom")
    lot_check_record(document=document)
    found = lot_report(agent="gelatin", lot_code="G-1")
    assert found.readings[0].unit == "g"
    assert found.against_tables.readings == 1


def test_a_thickener_lot_is_judged_by_its_thickness():
    pantry.lot_save(id=None, document=lot_of("L-1", agent="lambda carrageenan"))
    document = check_of(
        60, agent="lambda carrageenan", lot_code="L-1", kind="water_viscosity",
        shear_rate_per_s=50, temperature_c=20,
    )  # fmt: skip
    lot_check_record(document=document)
    found = lot_report(agent="lambda carrageenan", lot_code="L-1")
    assert found.quantity == "flow"
    assert found.against_tables.shift < 0


def test_all_checks_go_into_the_export(lots):
    record(400, 420.5, color="tan")
    record(kind="powder_control", outcome="set")
    rows = list(csv.DictReader(io.StringIO(lot_check_export_csv())))
    control, gel = rows
    assert (gel["values"], gel["unit"], gel["plunger_mm"], gel["color"]) == (
        "400.0; 420.5", "g", "11.28", "tan"
    )  # fmt: skip
    assert (control["outcome"], control["values"], control["plus_minus"]) == ("set", "", "")
    assert gel["counts"] == "yes"
