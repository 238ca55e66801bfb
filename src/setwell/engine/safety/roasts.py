"""The table for whole meat roasts: kept for reference, and refused for everything made here."""

from typing import NoReturn

from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.tables.rules import roast_rows


def roast_checks(bench: Bench, courses: tuple[Course, ...]) -> NoReturn:
    """Refuse: no formula is a whole roast, and egg or milk at 54 °C would not be safe."""
    del courses
    row = roast_rows()[0]
    raise InputError(
        f"“{bench.formula.title}” is a mix, not a whole meat roast: the table of "
        f"{row.section}, which begins at {row.temperature_c:g} °C ({row.temperature_f:g} °F), "
        "does not go for it.",
        hint="Judge it by the rules for egg and for dairy: 70 °C (158 °F) or hotter.",
    )
