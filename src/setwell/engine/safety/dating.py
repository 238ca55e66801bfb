"""How long a chilled dish may be kept, for information."""

from datetime import date, timedelta

from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.provenance import Estimate
from setwell.tables.rules import food_code_rules

_DAY_S = 86_400.0


def discard_date(made_on: date) -> date:
    """Return the last day of use: the day it was made counts as day 1 of 7."""
    days = round((food_code_rules()["date_mark"].time_s or 0.0) / _DAY_S)
    return made_on + timedelta(days=days - 1)


def date_mark_check(made_on: date, *, on: date) -> SafetyCheck:
    """Return whether chilled food is within its days; a part's earlier date always wins."""
    rule = food_code_rules()["date_mark"]
    last = discard_date(made_on)
    left = (last - on).days
    ruling = Ruling.PASS if on >= made_on and left >= 0 else Ruling.FAIL
    if on < made_on:
        ruling = Ruling.CANNOT_TELL
    return SafetyCheck(
        rule.key, "date marking", "Within 7 days", ruling,
        f"Made on {made_on.isoformat()}: use or throw away by {last.isoformat()}, kept at 5 °C "
        "(41 °F) or colder. A mixture takes the earliest date of its parts.",
        "Mark the date on the container." if ruling is Ruling.PASS
        else "Throw it away." if ruling is Ruling.FAIL else "Check the dates.",
        Estimate(float(left), "d", float(left), float(left), "days to the date", (rule.citation,)),
        rule.section, f"Food Code {rule.edition}", "container", (rule.citation,),
        Basis.INFORMATION,
    )  # fmt: skip
