"""Rarely read parts of the results are folded under a line that tells what is inside."""

import re

import pytest

pytestmark = pytest.mark.django_db

PREVIEW = "/formulas/preview/"
GOOD = "Disperse the agar in the sugar\nWhisk into the milk\nBoil for 3 min\nPour and chill to 4 °C"
LINES = "700 g whole milk\n60 g sugar\n6 g agar"


@pytest.fixture
def folded(bench, sheet):
    def fold(key: str, **fields: str) -> tuple[str, str]:
        """Return the tag of a fold and its summary in words."""
        posted = sheet(ingredients=LINES, **{"steps": GOOD, **fields})
        page = bench.part(PREVIEW, posted).content.decode()
        found = re.search(
            rf'(<details class="fold[^>]*data-keep="{key}"[^>]*>)\s*<summary>(.*?)</summary>',
            page, re.DOTALL,
        )  # fmt: skip
        assert found, key
        return found[1], " ".join(re.sub(r"<[^>]+>", " ", found[2]).replace("\xa0", " ").split())

    return fold


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("composition-fold", r"Composition In 100 g: energy \d+ kcal, sugars [\d.]+ g, fat"),
        ("ions-fold", r"Ions potassium in the water [\d.]+ mmol/kg water, .* and more$"),
        ("solids-and-water-fold", r"Solids and water solids [\d.]+ %, sugar"),
        ("steps-fold", r"How each step was read 4 steps, all read$"),
        ("agar-fold", r"^Hydrates: yes, sets: yes, at \d+ °C"),
    ],
)
def test_a_folded_part_is_closed_and_tells_what_is_inside(folded, key, told):
    tag, said = folded(key)
    assert " open" not in tag
    assert re.search(told, said), said


def test_an_agent_that_does_not_dissolve_stands_open(folded):
    tag, said = folded("agar-fold-odd", steps="Stir the agar into the milk\nHeat to 60 °C\nChill")
    assert " open" in tag
    assert said.startswith("Hydrates: no")


def test_a_step_that_was_not_understood_stands_open(folded):
    tag, said = folded("steps-fold-odd", steps=f"{GOOD}\nHeat to 900 °C")
    assert " open" in tag
    assert said.endswith("5 steps, 1 to look at")


def test_what_matters_first_is_never_folded(bench, sheet):
    page = bench.part(PREVIEW, sheet(ingredients=LINES, steps=GOOD)).content.decode()
    for part in ("verdict-title", "texture-title", "solution-title", "cautions-title", "ph-now"):
        before = page[: re.search(rf'(id|class)="{part}"', page).start()]
        opened = re.findall(r"<details[^>]*>|</details>", before)
        assert sum(1 if tag.startswith("<d") else -1 for tag in opened) == 0, part


def test_every_jump_leads_somewhere(bench, sheet):
    page = bench.part(PREVIEW, sheet(ingredients=LINES, steps=GOOD)).content.decode()
    jumps = page[page.index('class="jumps"') :]
    for name in re.findall(r'href="#([\w-]+)"', jumps[: jumps.index("</nav>")]):
        assert page.count(f'id="{name}"') == 1, name
