"""Results as JSON: every field of every result class, under its own name."""

import dataclasses
import json
import math
from datetime import date
from enum import Enum
from typing import Any

from setwell.provenance import Estimate

SHAPE_VERSION = 1


def json_text(kind: str, content: dict[str, Any]) -> str:
    """Return one result as JSON text; `format` says what it is, for a reader years from now."""
    head = {"format": f"setwell-{kind}", "format_version": SHAPE_VERSION}
    shaped = {key: json_value(value) for key, value in content.items()}
    return json.dumps({**head, **shaped}, ensure_ascii=False, indent=2, allow_nan=False)


def json_value(value: Any) -> Any:  # noqa: ANN401 - any result in, any JSON value out
    """Return a value in plain JSON types; a number that is not finite becomes null."""
    # A document; its library is not imported here, as it would slow every start.
    if hasattr(value, "model_dump"):
        return json_value(value.model_dump(mode="json"))
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _fields(value)
    if isinstance(value, dict):
        return {str(key): json_value(item) for key, item in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [json_value(item) for item in value]
    return _plain(value)


def _fields(value: Any) -> dict[str, Any]:  # noqa: ANN401 - any dataclass
    shaped = {
        field.name: json_value(getattr(value, field.name)) for field in dataclasses.fields(value)
    }
    if isinstance(value, Estimate):
        shaped["grade"] = value.grade.value
    return shaped


def _plain(value: Any) -> Any:  # noqa: ANN401 - any scalar
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, date):
        return value.isoformat()
    if value is None or isinstance(value, bool | int | str):
        return value
    if hasattr(value, "tolist"):
        # An array of numbers, or one of them.
        return json_value(value.tolist())
    return str(value)
