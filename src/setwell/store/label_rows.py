"""What a kitchen chose for its labels, between database rows and plain values."""

import datetime as dt
import json
from dataclasses import dataclass

from setwell.errors import NotFoundError
from setwell.store.rows import LabelChoicesRow, VersionRow

# What a field of a label holds: a text, or the marks that were set.
Fields = dict[str, str | list[str]]


@dataclass(frozen=True, slots=True)
class StoredChoices:
    """The fields of a label as they were kept, and the version they were kept with."""

    number: int
    market: str
    fields: Fields
    recorded_at: dt.datetime


def choices_row_add(
    *, formula_id: int, number: int, market: str, fields: Fields, recorded_at: dt.datetime
) -> None:
    """Write the choices for one version and market; earlier ones stay as they are."""
    # Through the formula's own key: numbers no database holds then find nothing, and no error.
    version = VersionRow.objects.filter(formula__id=formula_id, number=number).only("pk").first()
    if version is None:
        raise NotFoundError(f"There is no version {number} of formula {formula_id}.")
    LabelChoicesRow.objects.create(
        version=version,
        market=market,
        document=json.dumps(fields, ensure_ascii=False, sort_keys=True),
        recorded_at=recorded_at,
    )


def choices_row_newest(*, formula_id: int, number: int, market: str = "") -> StoredChoices | None:
    """Return the newest choices of a version, or else of the nearest version before it."""
    rows = LabelChoicesRow.objects.filter(
        version__formula__id=formula_id, version__number__lte=number
    ).order_by("-version__number", "-recorded_at", "-pk")
    if market:
        rows = rows.filter(market=market)
    found = rows.values_list("version__number", "market", "document", "recorded_at").first()
    if found is None:
        return None
    of_number, of_market, text, moment = found
    return StoredChoices(of_number, of_market, json.loads(text), moment)
