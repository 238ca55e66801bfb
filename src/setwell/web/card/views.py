"""The card as a page, as a PDF and as text."""

from functools import partial
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import cards, formulas
from setwell.services.cards import CardKind
from setwell.services.publishing.publications import address_of_page
from setwell.services.results import Card
from setwell.web.batch_asked import TARGET, scale_asked
from setwell.web.card.forms import STRENGTH, CardForm

PAPERS: dict[str, cards.Paper] = {"A4": "A4", "Letter": "Letter", "A5": "A5", "Phone": "Phone"}
# A phone column is a file; what a browser prints is on paper.
_PRINTED = ("A4", "Letter", "A5")
DEFAULT = "A4"
SIZED = ("batch", "readability_g")


@require_safe
def card_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the card of the newest version, or of the one asked for."""
    paper = request.GET.get("paper", DEFAULT)
    form = CardForm(request.GET)
    card = _card(request, formula_id, form)
    query = _query(form)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "card": card,
        # Drawn by us from squares; the address itself is not in it.
        "qr": mark_safe(card.qr),  # noqa: S308
        "form": form,
        "lots": form.lots_named(card.lot_boxes),
        "is_set": bool(form.errors or form.strengths or form.cleaned_data.get("address")),
        "sized": [form[name] for name in SIZED],
        "hidden": [(name, query[name]) for name in TARGET if name in query],
        "scale_query": urlencode(scale_asked(query)),
        "number": request.GET.get("version", ""),
        "query": query,
        "files": [(name, urlencode({**query, "paper": name})) for name in PAPERS],
        "text_query": urlencode(query),
        "papers": _PRINTED,
        "paper": paper if paper in _PRINTED else DEFAULT,
        "is_this_computer": cards.is_this_computer(card.address),
        "is_bench": card.kind is CardKind.BENCH,
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
    card = _card(request, formula_id, _valid(request))
    return _file(cards.card_pdf(card=card, paper=PAPERS[paper]), card, "pdf", "application/pdf")


@require_safe
def card_text(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the card as plain text."""
    card = _card(request, formula_id, _valid(request))
    return _file(cards.card_text(card=card), card, "txt", "text/plain; charset=utf-8")


def _valid(request: HttpRequest) -> CardForm:
    """Return what is asked of a file; a page can show a mistake at its field, a file cannot."""
    form = CardForm(request.GET)
    if not form.is_valid():
        name, messages = next(iter(form.errors.items()))
        raise InputError(f"{form.fields[name].label}: {messages[0]}")
    return form


def _card(request: HttpRequest, formula_id: int, form: CardForm) -> Card:
    detail = formulas.version_get(formula_id=formula_id, number=_number(request))
    number = detail.summary.number
    form.is_valid()
    sized = {name: value for name, value in _query(form).items() if name in (*SIZED, *TARGET)}
    asked = urlencode({"version": number, **(sized if form.asked else {})})
    here = f"{reverse('card_view', args=[formula_id])}?{asked}"
    # Where strangers can reach this version, the code leads there.
    public = address_of_page(formula_id=formula_id, number=number)
    made = partial(
        cards.card_get,
        formula=detail.formula,
        number=number,
        formula_id=formula_id,
        kind=form.card_kind,
        address=form.cleaned_data.get("address") or public or request.build_absolute_uri(here),
        batch=form.asked,
    )
    try:
        return made(strengths=form.strengths)
    except InputError as error:
        # Another version has other agents: a lot of one that is gone no longer counts.
        if error.field != "strength":
            raise
        return made()


def _query(form: CardForm) -> dict[str, str]:
    """Return what the form asks for, to go on to the files and the papers."""
    kept = {"kind": form.card_kind.value}
    lots = (name for name in form.data if name.startswith(STRENGTH))
    names = ["version", "address", *SIZED, *TARGET, *lots]
    given = {name: str(form.data.get(name, "")) for name in names if name not in form.errors}
    return kept | {name: value for name, value in given.items() if value}


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
