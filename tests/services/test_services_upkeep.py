"""Opening a kitchen: migrations, the demo, and databases that cannot be opened."""

import os
import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from builders_kitchen import formula_of
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from setwell.services.formulas import formula_create
from setwell.store.rows import VersionRow

OPEN = """
from setwell.errors import SetwellError
from setwell.services.kitchen import kitchen_home, kitchen_open
try:
    kitchen_open(load_demo={demo})
    print(kitchen_home().formula_count, kitchen_home().kitchen.name)
except SetwellError as error:
    print("REFUSED", error)
"""
# A kitchen as it was before pH could be recorded.
BEFORE_READINGS = """
from setwell.services.clock import now
from setwell.store.home import home_make
from setwell.store.setup import store_ready
home_make()
store_ready()
from django.core.management import call_command
call_command("migrate", "store", "0002", verbosity=0)
from setwell.domain.formula import formula_make
from setwell.services.formulas import NewVersion, formula_row_add, version_row_add
from setwell.store.settings_rows import setting_put
setting_put("kitchen", '{"name":"Old Quay","currency":"SEK","scale_readability_g":0.5}')
made = NewVersion(formula_make(title="Old gel"), "", None, now(), "")
version_row_add(formula_id=formula_row_add(created_at=now()), number=1, version=made)
"""
# What that kitchen can do once this program has opened it.
MEASURE = """
from setwell.domain.reading import VersionReading
from setwell.services.kitchen import kitchen_open, kitchen_settings_get
from setwell.services.readings import version_reading_list, version_reading_record
kitchen_open(load_demo=False)
version_reading_record(formula_id=1, number=1, document=VersionReading(ph=4.2))
print(version_reading_list(formula_id=1)[0].document.ph, kitchen_settings_get().water_hardness)
"""


def opened(home: Path, *, demo: bool) -> str:
    """Open a kitchen in a process of its own, as a command does."""
    return said_by(OPEN.format(demo=demo), home)


def said_by(code: str, home: Path) -> str:
    """Run code in a process of its own and return what it prints."""
    environment = {**os.environ, "SETWELL_HOME": str(home)}
    environment["DJANGO_SETTINGS_MODULE"] = "setwell.store.settings"
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stderr == ""
    return done.stdout.strip()


def test_the_first_start_with_demo_fills_the_kitchen_and_later_ones_do_not(tmp_path: Path) -> None:
    home = tmp_path / "kitchen"
    assert opened(home, demo=True) == "6 Lantern Quay Test Kitchen"
    assert opened(home, demo=True) == "6 Lantern Quay Test Kitchen"


def test_two_first_starts_at_the_same_moment_make_one_kitchen(tmp_path: Path) -> None:
    with ThreadPoolExecutor(2) as starts:
        said = list(starts.map(lambda _: opened(tmp_path, demo=True), range(2)))
    assert said == ["6 Lantern Quay Test Kitchen"] * 2


def test_a_start_without_demo_leaves_the_kitchen_empty(tmp_path: Path) -> None:
    assert opened(tmp_path, demo=False) == "0 My test kitchen"


def test_a_command_before_the_first_demo_start_does_not_lose_the_demo(tmp_path: Path) -> None:
    opened(tmp_path, demo=False)
    assert opened(tmp_path, demo=True).startswith("6 ")


def test_a_file_that_is_no_database_is_refused_with_advice(tmp_path: Path) -> None:
    (tmp_path / "setwell.sqlite3").write_bytes(b"not a database at all" * 100)
    said = opened(tmp_path, demo=True)
    assert said.startswith("REFUSED The kitchen's database")
    assert "Restore the file from a backup" in said


def test_a_database_of_a_newer_program_is_left_alone(tmp_path: Path) -> None:
    opened(tmp_path, demo=False)
    file = sqlite3.connect(tmp_path / "setwell.sqlite3")
    file.execute(
        "INSERT INTO django_migrations (app, name, applied) "
        "VALUES ('store', '0999_from_the_future', '2099-01-01')"
    )
    file.commit()
    file.close()
    said = opened(tmp_path, demo=True)
    assert "changed by a newer Setwell (0999_from_the_future)" in said
    assert "Update Setwell" in said


def test_a_kitchen_from_before_readings_keeps_its_formulas_and_settings(tmp_path: Path) -> None:
    assert said_by(BEFORE_READINGS, tmp_path) == ""
    assert said_by(MEASURE, tmp_path) == "4.2 medium"
    assert opened(tmp_path, demo=False) == "1 Old Quay"


@pytest.mark.django_db
def test_every_model_change_has_its_migration() -> None:
    call_command("makemigrations", "--check", "--dry-run", verbosity=0)


@pytest.mark.django_db
def test_the_database_refuses_to_change_a_saved_version() -> None:
    saved = formula_create(formula=formula_of())
    refused = pytest.raises(IntegrityError, match="a saved version never changes")
    with refused, transaction.atomic():
        VersionRow.objects.filter(content_hash=saved.hash).update(note="rewritten")


@pytest.mark.django_db
def test_the_database_refuses_a_version_number_twice() -> None:
    saved = formula_create(formula=formula_of())
    row = VersionRow.objects.get(content_hash=saved.hash)
    row.pk = None
    with pytest.raises(IntegrityError, match="UNIQUE"), transaction.atomic():
        row.save(force_insert=True)
    assert connection.is_usable()
