"""For the pages: a client that looks at every answer, and formulas to look at."""

from collections.abc import Callable
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client

from setwell.domain.formula import formula_make
from setwell.services import formulas
from setwell.services.formulas import SavedVersion

LINES = "700 g whole milk\n60 g sugar\n4 g kappa carrageenan"


class LookingClient(Client):
    """Fails when a template names something that is not there, or the policy is missing.

    It reads a page as a cook does, to whom a space is a space.
    """

    def request(self, **request: Any) -> HttpResponse:
        response: HttpResponse = super().request(**request)
        assert "default-src 'none'" in response["Content-Security-Policy"]
        if response.get("Content-Type", "").startswith("text/html"):
            text = response.content.decode()
            assert "«missing" not in text, text[text.index("«missing") :][:200]
            assert "Traceback" not in text
            response.content = text.replace("\u00a0", " ").encode()
        return response

    def part(self, path: str, data: dict[str, Any], *, target: str = "results") -> HttpResponse:
        """Post as the page's own script does."""
        return self.post(path, data, headers={"hx-request": "true", "hx-target": target})


@pytest.fixture
def bench() -> LookingClient:
    """A browser without scripts; a fault of ours comes back as a page, as in real life."""
    return LookingClient(raise_request_exception=True)


@pytest.fixture
def saved() -> Callable[..., SavedVersion]:
    """Save a formula and return what saving said."""

    def save(**fields: Any) -> SavedVersion:
        fields.setdefault("title", "Milk blocks")
        fields.setdefault("ingredients", LINES)
        fields.setdefault("steps", "Mix powder and sugar\nHeat to 90 °C and hold 2 min")
        return formulas.formula_create(formula=formula_make(**fields))

    return save


@pytest.fixture
def sheet() -> Callable[..., dict[str, Any]]:
    """What the form of a formula posts."""

    def posted(**fields: Any) -> dict[str, Any]:
        return {"title": "Milk blocks", "ingredients": LINES, "steps": "", "notes": "", **fields}

    return posted
