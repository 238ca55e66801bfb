"""The parts of a card as HTML, one function for each section."""

from collections.abc import Iterable, Mapping

from setwell.documents.card import Card, CardPhase, CardPoint
from setwell.documents.card_parts import CardPhoto, CardStep, LotBox
from setwell.documents.html_parts import Html, element, joined, listed
from setwell.documents.published_card import DRAFT, PublishedCard

# Where the picture of a photo is, by the id of the photo.
Pictures = Mapping[int, str]


def section(title: str, *inside: str) -> Html:
    """Return a part under its title; nothing where there is nothing in it."""
    content = joined(inside)
    return element("section", element("h2", title), content) if content else content


def phase_part(phase: CardPhase) -> Html:
    """Return the lines under one heading as a table."""
    rows = (
        element(
            "tr",
            element("td", line.weight, class_="weight"),
            element("td", line.us, class_="us"),
            element(
                "td",
                element("strong", line.name) if line.is_agent else line.name,
                f" ({line.percent})" if line.percent else "",
                dir="auto",
            ),
        )
        for line in phase.lines
    )
    heads = (element("th", name, scope="col") for name in ("Weight", "US", "Ingredient"))
    title = element("h3", phase.heading, dir="auto") if phase.heading else Html()
    table = element(
        "table", element("thead", element("tr", *heads)), element("tbody", *rows), class_="lines"
    )
    return joined([title, element("div", table, class_="scroll")])


def steps_section(card: Card, pictures: Pictures) -> Html:
    """Return the method: each step with what it decides, why it is there, and its photo."""
    if not card.steps:
        return section("Method", "No steps are written.")
    steps = (element("li", *_step(step, pictures), dir="auto") for step in card.steps)
    return section("Method", element("ol", *steps))


def _step(step: CardStep, pictures: Pictures) -> Iterable[str]:
    yield step.text
    if step.temperature:
        yield joined([" ", element("strong", step.temperature, class_="point")])
    for point in step.points:
        yield joined([" ", element("strong", f"◆ {point}", class_="point")])
    for note in step.why:
        yield element("p", f"Why: {note.text} {note.marks}", class_="aside")
    yield picture_part(step.photo, pictures)


def picture_part(photo: CardPhoto | None, pictures: Pictures) -> Html:
    """Return a photo with its caption, where its picture is at hand."""
    if photo is None or photo.id not in pictures:
        return Html()
    said = f"{photo.text}: {photo.caption}" if photo.caption else photo.text
    image = element(
        "img", src=pictures[photo.id], alt=said, width=str(photo.width), height=str(photo.height)
    )
    words = element("figcaption", photo.caption, dir="auto") if photo.caption else Html()
    return element("figure", image, words)


def storage_section(card: Card) -> Html:
    """Return how to keep it, and for how long."""
    notes = (element("li", f"{note.text} {note.marks}") for note in card.storage)
    return section("Storage", element("ul", *notes)) if card.storage else Html()


def lots_section(card: Card) -> Html:
    """Return what to weigh of a stronger or weaker lot."""
    return section("With another lot", *(part for box in card.lot_boxes for part in _lot(box)))


def _lot(box: LotBox) -> Iterable[Html]:
    yield element("p", element("strong", box.name), f", {box.weight} on this card. {box.basis}")
    strengths = (dose.strength for dose in box.doses)
    yield table(("Strength", *strengths), [("Weigh", *(dose.weight for dose in box.doses))])
    yield element("p", box.note, class_="aside")


def sources_section(card: Card) -> Html:
    """Return where the reasons come from."""
    rows = (
        element("li", f"[{source.number}] {source.text} ({source.grade})")
        for source in card.sources
    )
    return section("Sources", element("ul", *rows)) if card.sources else Html()


def open_points_section(card: Card) -> Html:
    """Return what is wrong or doubtful; what says stop is marked."""
    if not card.open_points:
        return Html()
    title = "Do not make it like this yet" if card.must_stop else "Open points"
    kind = "note stop" if card.must_stop else "note"
    return element(
        "section", element("h2", title), listed(_point(point) for point in card.open_points),
        class_=kind,
    )  # fmt: skip


def _point(point: CardPoint) -> str:
    title = point.title.rstrip(".")
    return " ".join(part for part in (f"{title}.", point.text, point.action) if part)


def allergens_section(card: Card) -> Html:
    """Return allergens and diets."""
    found = "; ".join(card.allergens)
    said = (
        f"Allergens: {found}."
        if found
        else "No declarable allergen is known; read each supplier’s label."
    )
    diets = f"By its ingredients: {'; '.join(card.diets)}." if card.diets else ""
    return section(
        "Allergens and diets", *(element("p", row) for row in (said, card.traces, diets) if row)
    )


def cautions_section(card: Card) -> Html:
    """Return the safety cautions and to whom the card defers."""
    rows = (
        element("p", element("strong", f"{caution.title.rstrip('.')}."), f" {caution.text}")
        for caution in card.cautions
    )
    content = joined([element("h2", "Cautions"), *rows, element("p", card.deferral)])
    return element("section", content, class_="note")


def numbers_section(card: Card) -> Html:
    """Return the key numbers with ranges and grades."""
    if not card.key_numbers:
        return Html()
    rows = [(item.label, item.value, item.range, item.grade) for item in card.key_numbers]
    return section("Key numbers", table(("", "Value", "Range", "Grade"), rows))


def nutrition_section(published: PublishedCard) -> Html:
    """Return what is known of a portion, and what is not."""
    told = published.nutrition
    if told is None:
        return Html()
    rows = [(label, amount) for _, label, amount in told.amounts]
    missing = f" Not known, so not shown: {', '.join(told.left_out)}." if told.left_out else ""
    return section(
        "Nutrition",
        table(("", f"In {told.serving}"), rows),
        element("p", f"{DRAFT} {told.basis}{missing}", class_="aside"),
    )


def table(heads: Iterable[str], rows: Iterable[Iterable[str]]) -> Html:
    """Return a table whose first column names the rows."""
    top = (element("th", head, scope="col") if head else element("td") for head in heads)
    body = (
        element("tr", element("th", first, scope="row"), *(element("td", cell) for cell in rest))
        for first, *rest in (tuple(row) for row in rows)
    )
    table = element("table", element("thead", element("tr", *top)), element("tbody", *body))
    return element("div", table, class_="scroll")
