"""Every public function of setwell.science says what goes in, in which unit, and by whom."""

import importlib
import inspect
import pkgutil
import re
from types import FunctionType

import pytest

import setwell.science
from setwell.tables.sources import sources

_HEADING = re.compile(r"^(\w[\w ]*)\n-{3,}$", re.MULTILINE)
_UNIT = re.compile(r"\[[^\[\]]+\]\.")


def public_functions() -> dict[str, FunctionType]:
    found = {}
    for module in pkgutil.walk_packages(setwell.science.__path__, "setwell.science."):
        for name, value in vars(importlib.import_module(module.name)).items():
            own = inspect.isfunction(value) and value.__module__ == module.name
            if own and not name.startswith("_"):
                found[f"{module.name.removeprefix('setwell.science.')}.{name}"] = value
    return found


FUNCTIONS = public_functions()
every_function = pytest.mark.parametrize("function", FUNCTIONS.values(), ids=FUNCTIONS.keys())


def sections(function: FunctionType) -> dict[str, str]:
    pieces = _HEADING.split(inspect.getdoc(function) or "")
    return {"Summary": pieces[0], **dict(zip(pieces[1::2], pieces[2::2], strict=True))}


def entries(text: str) -> dict[str, str]:
    """Return the indented text under each flush line."""
    found: dict[str, str] = {}
    head = ""
    for line in text.strip().splitlines():
        if line and not line.startswith(" "):
            head = line
            found[head] = ""
        elif head:
            found[head] += line.strip() + "\n"
    return found


def test_there_are_functions_to_check():
    assert len(FUNCTIONS) >= 10
    assert "gels.hydration.hydrated_fraction" in FUNCTIONS


@every_function
def test_sections_come_in_order(function):
    order = ["Summary", "Parameters", "Returns", "Raises", "Notes", "References", "Examples"]
    present = list(sections(function))
    assert present == [name for name in order if name in present]
    assert {"Parameters", "Returns", "Notes", "References", "Examples"} <= set(present)


@every_function
def test_summary_starts_with_return(function):
    assert sections(function)["Summary"].startswith("Return ")


@every_function
def test_parameters_are_those_of_the_signature(function):
    documented = [head.partition(" : ")[0] for head in entries(sections(function)["Parameters"])]
    assert documented == list(inspect.signature(function).parameters)


@every_function
def test_every_parameter_has_type_and_unit(function):
    for head, text in entries(sections(function)["Parameters"]).items():
        assert " : " in head, head
        assert _UNIT.search(text), head


@every_function
def test_what_is_returned_has_a_unit(function):
    assert _UNIT.search(sections(function)["Returns"])


@every_function
def test_every_reference_is_in_the_bibliography_with_a_remark(function):
    cited = entries(sections(function)["References"])
    assert cited
    for key, remark in cited.items():
        assert key in sources(), key
        assert remark.strip(), key


@every_function
def test_notes_hold_an_equation_or_a_definition(function):
    notes = sections(function)["Notes"].casefold()
    assert " = " in notes or "definition" in notes
    assert re.search(r"valid|hold|meant for|for |small strain|above|below|between|when", notes)


@every_function
def test_examples_run_as_doctests(function):
    assert ">>> " in sections(function)["Examples"]
