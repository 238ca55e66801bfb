"""The draft of a label as PDF."""

from dataclasses import asdict
from typing import Any, Literal, get_args

from setwell.documents.label import Label
from setwell.documents.pages_pdf import Layout, pages_pdf

LabelPaper = Literal["A4", "Letter"]
LABEL_PAPERS: tuple[str, ...] = get_args(LabelPaper)

_LAYOUT = Layout("label.typ", "label", "label", LABEL_PAPERS, "Print it from the browser.")
# Objects that the page shows and paper has no room for.
_LEFT_OUT = ("evidence", "estimate")


def label_pdf(label: Label, *, paper: LabelPaper = "A4") -> bytes:
    """Return the label as one PDF file; what its typefaces lack is printed as boxes."""
    content = {**asdict(label), "short_hash": label.short_hash, "state": label.state}
    return pages_pdf(_LAYOUT, _slim(content), paper=paper)


def _slim(value: Any) -> Any:  # noqa: ANN401 - any part of the label
    if isinstance(value, dict):
        return {key: _slim(item) for key, item in value.items() if key not in _LEFT_OUT}
    if isinstance(value, list | tuple):
        return [_slim(item) for item in value]
    return value
