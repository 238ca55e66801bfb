"""Process plans of saved versions, between database rows and documents."""

import datetime as dt
from dataclasses import dataclass

from setwell.domain.process_plan import ProcessPlan
from setwell.errors import NotFoundError
from setwell.store.rows import ProcessPlanRow, VersionRow


@dataclass(frozen=True, slots=True)
class StoredPlan:
    """A plan and the version it was saved with."""

    id: int
    number: int
    document: ProcessPlan
    recorded_at: dt.datetime


def plan_row_add(
    *, formula_id: int, number: int, document: ProcessPlan, recorded_at: dt.datetime
) -> int:
    """Write the plan of one version and return its id; earlier ones stay as they are."""
    # Through the formula's own key: numbers no database holds then find nothing, and no error.
    version = VersionRow.objects.filter(formula__id=formula_id, number=number).only("pk").first()
    if version is None:
        raise NotFoundError(f"There is no version {number} of formula {formula_id}.")
    row = ProcessPlanRow.objects.create(
        version=version, document=document.canonical_json(), recorded_at=recorded_at
    )
    return int(row.pk)


def plan_row_newest(*, formula_id: int, number: int) -> StoredPlan | None:
    """Return the newest plan of a version, or else of the nearest version before it."""
    rows = ProcessPlanRow.objects.filter(
        version__formula__id=formula_id, version__number__lte=number
    ).order_by("-version__number", "-recorded_at", "-pk")
    found = rows.values_list("pk", "version__number", "document", "recorded_at").first()
    if found is None:
        return None
    pk, of_number, text, moment = found
    return StoredPlan(pk, of_number, ProcessPlan.model_validate_json(text), moment)
