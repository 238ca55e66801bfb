"""The colors are readable: every text on every ground it stands on, in both looks."""

import re
from pathlib import Path

import pytest

import setwell.web

CSS = Path(setwell.web.__file__).parent / "static" / "css"
GROUNDS = ("paper", "panel", "sand")
PAIRS = [(text, ground) for text in ("ink", "ink-soft", "link", "kelp") for ground in GROUNDS]
PAIRS += [("on-kelp", "kelp"), ("on-kelp", "kelp-strong")]
for kind in ("stop", "warn", "note", "good"):
    PAIRS += [(kind, f"{kind}-back"), ("ink", f"{kind}-back"), ("ink-soft", f"{kind}-back")]
    PAIRS += [("link", f"{kind}-back"), (kind, "panel"), (kind, "paper")]


def looks():
    text = (CSS / "palette.css").read_text(encoding="utf-8")
    blocks = re.findall(r"\{([^{}]*--paper[^{}]*)\}", text)
    return [dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})", block)) for block in blocks]


def luminance(color):
    # Relative luminance and contrast as defined by WCAG 2.2.
    parts = [int(color[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    bright, dim = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def test_there_are_a_light_and_two_equal_dark_looks():
    light, dark, chosen = looks()
    assert dark == chosen
    assert light.keys() == dark.keys()


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize(("text", "ground"), PAIRS)
def test_text_stands_out_from_its_ground(number, text, ground):
    colors = looks()[number]
    assert contrast(colors[text], colors[ground]) >= 4.5


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize("mark", ["focus", "edge"])
@pytest.mark.parametrize("ground", GROUNDS)
def test_focus_and_edges_of_fields_can_be_seen(number, mark, ground):
    colors = looks()[number]
    assert contrast(colors[mark], colors[ground]) >= 3.0


def test_style_sheets_stay_small_and_use_only_palette_colors():
    for sheet in CSS.glob("*.css"):
        text = sheet.read_text(encoding="utf-8")
        assert text.count("\n") < 300, sheet.name
        if sheet.name not in {"palette.css", "print.css"}:
            assert not re.search(r":[^;{}]*#[0-9a-f]{3,6}\b", text), sheet.name
