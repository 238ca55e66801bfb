"""The demo kitchen: invented formulas and shelves to try things out with."""

import datetime as dt
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from setwell.domain.equipment import Cooler, Hob
from setwell.domain.formula import formula_make
from setwell.domain.pantry import Kitchen, Lot, Mold, OwnAgent, OwnFood, Price, Vessel
from setwell.domain.texture_reading import LotCheck, TextureReading
from setwell.services.brief_reading import brief_from_form
from setwell.services.briefs import brief_save
from setwell.services.clock import today
from setwell.services.formulas import formula_create, formula_save
from setwell.services.lot_checks import lot_check_record
from setwell.services.pantry import (
    agent_save,
    cooler_save,
    food_save,
    hob_save,
    lot_save,
    mold_save,
    price_save,
    vessel_save,
)
from setwell.services.probe_uploads import probe_file_read, probe_log_save, probe_upload_add
from setwell.services.shelves import kitchen_write
from setwell.services.texture_readings import texture_reading_record


def demo_load() -> None:
    """Fill an empty kitchen; belongs into one transaction."""
    _pantry_load(_read("pantry.toml"), day=today())
    formulas = {}
    for entry in _read("formulas.toml")["formulas"]:
        title = entry["versions"][-1]["title"]
        formulas[title] = _formula_load(entry["versions"])
    readings = _read("readings.toml")
    _readings_load(readings, formulas, day=today())
    for log in readings["probe_logs"]:
        _log_load(log, formulas)
    for brief in _read("briefs.toml")["briefs"]:
        brief_save(brief=brief_from_form(brief))


@cache
def demo_name() -> str:
    """Return what the invented kitchen is called until somebody gives it a name."""
    return str(_read("pantry.toml")["kitchen"]["name"])


def _bytes(name: str) -> bytes:
    return (files("setwell.services") / "demo_kitchen" / name).read_bytes()


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(_bytes(name).decode("utf-8"))


def _pantry_load(shelves: dict[str, Any], *, day: dt.date) -> None:
    kitchen_write(Kitchen(**shelves["kitchen"]))
    for food in shelves["foods"]:
        food_save(id=None, document=OwnFood(**food))
    for agent in shelves["agents"]:
        agent_save(id=None, document=OwnAgent(**agent))
    for lot in shelves["lots"]:
        days = dt.timedelta(days=lot.pop("best_before_in_days"))
        lot_save(id=None, document=Lot(**lot, best_before=day + days))
    for price in shelves["prices"]:
        price_save(id=None, document=Price(**price))
    _equipment_load(shelves)


def _equipment_load(shelves: dict[str, Any]) -> None:
    for mold in shelves["molds"]:
        mold_save(id=None, document=Mold(**mold))
    for vessel in shelves["vessels"]:
        vessel_save(id=None, document=Vessel(**vessel))
    for hob in shelves["hobs"]:
        hob_save(id=None, document=Hob(**hob))
    for cooler in shelves["coolers"]:
        cooler_save(id=None, document=Cooler(**cooler))


def _readings_load(readings: dict[str, Any], formulas: dict[str, int], *, day: dt.date) -> None:
    for check in readings["lot_checks"]:
        lot_check_record(document=LotCheck(**check, taken_on=day))
    for reading in readings["readings"]:
        title, number = reading.pop("title"), reading.pop("version")
        texture_reading_record(
            formula_id=formulas[title],
            number=number,
            document=TextureReading(**reading, taken_on=day),
        )


def _log_load(log: dict[str, Any], formulas: dict[str, int]) -> None:
    """Save a logger's file with its version, read as it reads by itself."""
    data = _bytes(log["file"])
    upload = probe_upload_add(
        formula_id=formulas[log["of"]], number=log["version"], file_name=log["file"], data=data
    )
    probe_log_save(
        upload_id=upload,
        reading=probe_file_read(data=data).reading,
        title=log["title"],
        probe_error_c=log["probe_error_c"],
        note=log["note"],
    )


def _formula_load(versions: list[dict[str, Any]]) -> int:
    first, *later = versions
    saved = formula_create(note=first.pop("note"), formula=formula_make(**first))
    for version in later:
        note = version.pop("note")
        saved = formula_save(
            formula_id=saved.formula_id,
            formula=formula_make(**version),
            base_number=saved.number,
            note=note,
        )
    return saved.formula_id
