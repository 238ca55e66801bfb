"""The brief that a page about proposals was asked for: it travels along as its own JSON."""

import json
from typing import Any, NamedTuple

from django.http import HttpRequest

from setwell.domain.brief import FORMAT, Brief
from setwell.services.briefs import brief_import_json

# Longer than this does not fit into an address, so that the page is posted instead.
_ADDRESS_LIMIT = 4_000
_LONGEST_NUMBER = 9


class AskedBrief(NamedTuple):
    """A brief as it stands in the form; `brief_id` and `base_number` where it was saved before."""

    brief: Brief
    brief_id: int | None = None
    base_number: int | None = None

    @property
    def text(self) -> str:
        """The shortest JSON that means this brief."""
        fields = self.brief.model_dump(mode="json", exclude_defaults=True)
        return json.dumps({"format": FORMAT, **fields}, ensure_ascii=False, separators=(",", ":"))

    @property
    def fields(self) -> tuple[tuple[str, str], ...]:
        """What a form carries along to ask for this brief again."""
        known = (("brief_id", self.brief_id), ("base_number", self.base_number))
        numbers = tuple((name, str(number)) for name, number in known if number is not None)
        return (("brief", self.text), *numbers)

    @property
    def method(self) -> str:
        """How a form asks: in the address, so that it can be shared, where that is long enough."""
        return "get" if len(self.text) <= _ADDRESS_LIMIT else "post"


def brief_of(request: HttpRequest) -> AskedBrief:
    """Return the brief of a request. Raises DocumentError."""
    sent: Any = request.POST if "brief" in request.POST else request.GET
    brief = brief_import_json(text=sent.get("brief", ""))
    return AskedBrief(
        brief, _number(sent.get("brief_id", "")), _number(sent.get("base_number", ""))
    )


def _number(text: str) -> int | None:
    is_number = text.isascii() and text.isdigit() and len(text) <= _LONGEST_NUMBER
    return int(text) or None if is_number else None
