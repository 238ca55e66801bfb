"""The card as a page, as a PDF and as text."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import cards, formulas
from setwell.services.results import Card

PAPERS: dict[str, cards.Paper] = {"A4": "A4", "Letter": "Letter", "A5": "A5"}
DEFAULT = "A4"


@require_safe
def card_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the card of the newest version, or of the one asked for."""
    paper = request.GET.get("paper", DEFAULT)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "card": _card(request, formula_id),
        "number": request.GET.get("version", ""),
        "papers": tuple(PAPERS),
        "paper": paper if paper in PAPERS else DEFAULT,
    }
    return render(request, "card/view.html", context)


@require_safe
def card_pdf(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the card as a PDF."""
    paper = request.GET.get("paper", DEFAULT)
    if paper not in PAPERS:
        raise InputError(
            f"There is no paper “{paper[:20]}”.", hint=f"Choose one of {', '.join(PAPERS)}."
        )
    card = _card(request, formula_id)
    return _file(cards.card_pdf(card=card, paper=PAPERS[paper]), card, "pdf", "application/pdf")


@require_safe
def card_text(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the card as plain text."""
    card = _card(request, formula_id)
    return _file(cards.card_text(card=card), card, "txt", "text/plain; charset=utf-8")


def _card(request: HttpRequest, formula_id: int) -> Card:
    detail = formulas.version_get(formula_id=formula_id, number=_number(request))
    return cards.card_get(
        formula=detail.formula, number=detail.summary.number, formula_id=formula_id
    )


def _number(request: HttpRequest) -> int | None:
    text = request.GET.get("version", "")
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise InputError(f"“{text[:20]}” is not the number of a version.")
    return int(text)


def _file(content: bytes | str, card: Card, ending: str, kind: str) -> HttpResponse:
    name = slugify(card.title) or "card"
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}-card.{ending}"'
    return response
