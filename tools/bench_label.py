"""Measure how fast a label, a cost sheet and a card come, as parts and as whole pages.

Everything runs in a kitchen folder of its own. What the goals count is what comes on top of the
assessment, which one answer shares; whole pages, each with its assessment, are told beside it.
"""

import os
from collections.abc import Callable
from functools import partial

import django
from bench_robustness import taken
from django.core.management import call_command
from django.test import Client

# The settings for tests make a kitchen folder of their own.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "setwell.web.settings_test")
django.setup()

from setwell.domain.formula import Formula  # noqa: E402
from setwell.services.assessment import formula_assess  # noqa: E402
from setwell.services.cards import card_get, card_pdf  # noqa: E402
from setwell.services.formulas import formula_create  # noqa: E402
from setwell.services.labels import ask_first, label_get, label_pdf  # noqa: E402

Row = tuple[str, str, bool]
TOGETHER_MOST_MS, PDF_MOST_MS = 50.0, 500.0


def label_rows(formula: Formula) -> list[Row]:
    """Return what label, cost and card of a formula cost in processor time."""
    call_command("migrate", verbosity=0)
    saved = formula_create(formula=formula)
    client = Client(headers={"host": "localhost"})
    ask = ask_first(formula)
    alone = _ms(lambda: formula_assess(formula=formula))
    pages = {
        name: _ms(partial(_page, client, f"/formulas/{saved.formula_id}/{name}/"))
        for name in ("label", "cost", "card")
    }
    together = sum(pages.values()) - len(pages) * alone
    label = label_get(formula=formula, ask=ask).label
    card = card_get(formula=formula)
    told = ", ".join(f"{name} {spent:.0f}" for name, spent in pages.items())
    pdf = {"label": _ms(lambda: label_pdf(label=label)), "card": _ms(lambda: card_pdf(card=card))}
    return [
        (f"label, cost and card pages beyond the assessment ({told} ms whole)",
         f"{together:.0f} ms", together < TOGETHER_MOST_MS),
        *((f"PDF of the {name}", f"{spent:.0f} ms", spent < PDF_MOST_MS)
          for name, spent in pdf.items()),
    ]  # fmt: skip


def _ms(work: Callable[[], object]) -> float:
    work()
    return 1000.0 * min(taken(work) for _ in range(5))


def _page(client: Client, address: str) -> None:
    answer = client.get(address)
    if answer.status_code != 200:
        raise RuntimeError(f"{address} answered {answer.status_code}")
