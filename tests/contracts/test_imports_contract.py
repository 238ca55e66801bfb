"""The architecture holds: rooms look down, and a bare import costs next to nothing."""

import ast
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


def test_type_checkers_find_each_public_name_where_it_is_loaded_from():
    tree = ast.parse(Path(setwell.__file__).read_text(encoding="utf-8"))
    told = {
        alias.name: node.module
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and str(node.module).startswith("setwell.")
        for alias in node.names
    }
    assert sorted(told) == setwell.__all__
    assert {name: setwell._HOMES[name] for name in told} == told


def test_public_names_are_enough_to_judge_a_log_of_a_heated_egg():
    steps = "Mix\nHeat to 80 °C, stirring constantly\nChill"
    formula = setwell.formula_make(title="T", ingredients="400 g milk\n100 g egg", steps=steps)
    bench = setwell.bench_build(formula)
    log = setwell.probe_log_read("Time,Core (°C)\n0:00:00,20\n0:10:00,80\n0:12:00,80\n0:13:00,60")
    rulings = {check.key: check.ruling.value for check in setwell.log_judge(log, bench).checks}
    assert rulings["egg"] == "pass"
    heated = setwell.heat_pot(bench, setwell.PotPlan(target_c=50))
    egg, *_ = setwell.heating_checks(bench, heated.courses)
    assert (egg.key, egg.ruling.value) == ("egg", "fail")
    assert 3000 < setwell.foodstuff_of(bench, at_c=40).heat_capacity < 4200


def test_unknown_public_name_says_so():
    with pytest.raises(AttributeError, match="no attribute 'flavor'"):
        setwell.flavor  # noqa: B018
