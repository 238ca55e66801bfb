"""The kitchen's folder, its secret key and the file in it."""

import stat
from pathlib import Path

import pytest
from django.conf import settings
from django.core import signing
from django.db import connection

from setwell.errors import SetwellError
from setwell.store.home import database_path, home_make, home_path, secret_key


def test_tests_never_touch_the_users_own_kitchen(kitchen_folder: Path) -> None:
    assert Path(settings.DATABASES["default"]["NAME"]).is_relative_to(kitchen_folder)
    assert home_path() == kitchen_folder


def test_the_folder_is_made_for_its_owner_alone(empty_home: Path) -> None:
    assert home_make() == empty_home
    assert stat.S_IMODE(empty_home.stat().st_mode) == 0o700
    assert database_path() == empty_home / "setwell.sqlite3"


def test_without_a_variable_the_folder_is_the_users_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SETWELL_HOME", "  ")
    assert home_path().name == "setwell"


def test_a_tilde_means_the_users_home(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SETWELL_HOME", "~/bench")
    assert home_path() == Path.home() / "bench"


def test_a_folder_that_cannot_be_made_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("SETWELL_HOME", str(tmp_path / "file" / "kitchen"))
    with pytest.raises(SetwellError, match=r"cannot be made.*Set SETWELL_HOME to a folder"):
        home_make()


def test_the_key_is_made_once_and_readable_by_its_owner_alone(empty_home: Path) -> None:
    key = secret_key()
    assert len(key) >= 50
    assert secret_key() == key
    path = empty_home / "secret_key"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [item.name for item in empty_home.iterdir()] == ["secret_key"]


def test_two_kitchens_have_two_keys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keys = set()
    for name in ("one", "two"):
        monkeypatch.setenv("SETWELL_HOME", str(tmp_path / name))
        keys.add(secret_key())
    assert len(keys) == 2


def test_a_damaged_key_is_refused(empty_home: Path) -> None:
    home_make()
    (empty_home / "secret_key").write_text("short")
    with pytest.raises(SetwellError, match=r"does not hold a usable key\. Delete it"):
        secret_key()


def test_settings_sign_with_the_key_of_the_kitchen() -> None:
    assert secret_key() == settings.SECRET_KEY
    assert signing.loads(signing.dumps({"batch": 3})) == {"batch": 3}


@pytest.mark.django_db
def test_the_database_is_opened_as_lab_notes_deserve() -> None:
    def pragma(name: str) -> object:
        with connection.cursor() as cursor:
            return cursor.execute(f"PRAGMA {name}").fetchone()[0]

    assert pragma("journal_mode") == "wal"
    assert pragma("synchronous") == 2  # FULL
    assert pragma("foreign_keys") == 1
    assert pragma("busy_timeout") == 20_000
    assert connection.transaction_mode == "IMMEDIATE"
