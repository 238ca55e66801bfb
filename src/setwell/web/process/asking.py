"""From an address to the form and the answer of a process."""

from collections.abc import Mapping
from dataclasses import dataclass

from setwell.errors import InputError
from setwell.services.process import ProcessAnswer, plan_for, process_view
from setwell.web.process.forms import ProcessForm


@dataclass(frozen=True, slots=True)
class Asked:
    """A form as filled in, and what came of it; no answer while something needs correcting."""

    form: ProcessForm
    answer: ProcessAnswer | None
    number: int | None


def asked(formula_id: int, given: Mapping[str, str]) -> Asked:
    """Return what is asked for, and its answer; problems are told at their fields."""
    number = version_number(given.get("version", ""))
    form = ProcessForm(given, plan_for(formula_id=formula_id, number=number))
    if not form.is_valid():
        return Asked(form, None, number)
    try:
        answer = process_view(formula_id=formula_id, number=number, ask=form.ask)
    except InputError as error:
        form.refuse(error)
        return Asked(form, None, number)
    for problem in answer.problems:
        form.refuse(problem)
    return Asked(form, answer, number)


def version_number(text: str) -> int | None:
    """Return the number of a version as the address has it; None is the newest."""
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise InputError(f"“{text[:20]}” is not the number of a version.")
    return int(text)
