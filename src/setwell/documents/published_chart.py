"""The usage chart of texture agents for a web site: every statement with its source."""

from dataclasses import dataclass

from setwell.documents.html_parts import Html, document, element, joined
from setwell.documents.published_style import STYLE
from setwell.provenance import Citation, Evidence, Grade, grade_worst

HOME = "../index.html"


@dataclass(frozen=True, slots=True)
class UsageCell:
    """What the tables say of one property, and where that comes from."""

    text: str
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class UsageRow:
    """One agent, with one cell for each column of the chart."""

    name: str
    cells: tuple[UsageCell, ...]


@dataclass(frozen=True, slots=True)
class UsageChart:
    """Agents by what a cook asks of them; `sources` gives the printable entry of each id."""

    columns: tuple[str, ...]
    rows: tuple[UsageRow, ...]
    sources: dict[str, str]


def usage_page(chart: UsageChart) -> str:
    """Return the chart as a page, with the numbered sources below it."""
    numbers = _numbered(chart)
    heads = (element("th", name, scope="col") for name in ("Agent", *chart.columns))
    rows = (_row(row, numbers) for row in chart.rows)
    table = element(
        "table", element("thead", element("tr", *heads)), element("tbody", *rows), class_="chart"
    )
    scroll = element(
        "div", table, class_="scroll", tabindex="0", role="region", aria_label="Chart of agents"
    )
    entries = (
        element("li", _source(chart, citation), id=f"source-{number}")
        for citation, number in numbers.items()
    )
    return document(
        "Texture agents side by side",
        element("nav", element("a", "All cards", href=HOME), class_="aside", aria_label="Back"),
        element(
            "main",
            element("h1", "Texture agents side by side"),
            element("p", _LEAD),
            scroll,
            element("h2", "Sources"),
            element("ol", *entries),
        ),
        style=STYLE,
    )


_LEAD = (
    "Ranges are those of the sources for common food-grade products; other lots, salts, sugar and "
    "acid move them. The word after a figure is the weakest grade behind it; “unverified” means "
    "that nobody has checked it against a source yet. Prove a dose on a small cup first, and use "
    "only food-grade powder."
)


def _numbered(chart: UsageChart) -> dict[Citation, int]:
    cited = (citation for row in chart.rows for cell in row.cells for citation in cell.evidence)
    return {citation: number for number, citation in enumerate(dict.fromkeys(cited), start=1)}


def _row(row: UsageRow, numbers: dict[Citation, int]) -> Html:
    cells = (element("td", _cell(cell, numbers)) for cell in row.cells)
    return element("tr", element("th", row.name, scope="row"), *cells)


def _cell(cell: UsageCell, numbers: dict[Citation, int]) -> Html:
    if not cell.text:
        return element("span", "not known", class_="aside")
    grade = grade_worst(citation.grade for citation in cell.evidence)
    marks: list[str] = []
    for citation in cell.evidence:
        number = numbers[citation]
        marks += [" ", element("a", f"[{number}]", href=f"#source-{number}")]
    said = f" {grade.value}" if grade is not Grade.STANDARD else ""
    return joined([cell.text, element("span", joined([said, *marks]), class_="aside")])


def _source(chart: UsageChart, citation: Citation) -> Html:
    entry = chart.sources.get(citation.source, citation.source.replace("_", " "))
    return joined([f"{entry}. {citation.locator} ({citation.grade.value})"])
