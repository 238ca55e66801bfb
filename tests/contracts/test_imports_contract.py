"""The architecture holds: rooms look down, and a bare import costs next to nothing."""

import importlib
import subprocess
import sys
from pathlib import Path

import pytest

import setwell

ROOT = Path(__file__).parents[2]
BIN = Path(sys.executable).parent
HEAVY = ("django", "numpy", "pydantic", "typer", "typst")


def python(code: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True
    )
    return done.stdout.strip()


def test_rooms_only_look_down():
    done = subprocess.run(
        [BIN / "lint-imports", "--no-cache"],
        capture_output=True, text=True, cwd=ROOT, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 broken" in done.stdout


def test_bare_import_loads_nothing_heavy():
    loaded = python(
        "import sys, setwell; print(' '.join({name.split('.')[0] for name in sys.modules}))"
    )
    assert set(HEAVY).isdisjoint(loaded.split())


def test_public_names_load_on_first_use():
    assert python("import sys, setwell; setwell.assess; print('numpy' in sys.modules)") == "True"


def test_the_core_works_without_the_web_framework():
    code = (
        "import sys; from setwell import assess, formula_make; "
        "assess(formula_make(title='T', ingredients='1 g salt')); print('django' in sys.modules)"
    )
    assert python(code) == "False"


def test_public_names_are_sorted_and_written_once():
    assert setwell.__all__ == sorted(set(setwell.__all__))


@pytest.mark.parametrize("name", setwell.__all__)
def test_public_name_is_importable_and_has_a_docstring(name):
    found = getattr(setwell, name)
    home = importlib.import_module(found.__module__)
    assert getattr(home, name) is found
    assert found.__doc__


def test_unknown_public_name_says_so():
    with pytest.raises(AttributeError, match="no attribute 'flavor'"):
        setwell.flavor  # noqa: B018
