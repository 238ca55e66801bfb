"""A real Chromium at tablet size; any page error or off-host request fails the test."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

# Playwright's sync loop makes Django think it is asynchronous.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

TABLET = {"width": 1024, "height": 768}
PHONE = {"width": 390, "height": 844}
# A machine with other work to do answers late; what never comes fails all the same.
PATIENCE = 30_000
expect.set_options(timeout=PATIENCE)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    for item in items:
        if here in Path(item.path).parents:
            item.add_marker("browser")


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    path = os.environ.get("SETWELL_CHROMIUM") or shutil.which("chromium")
    with sync_playwright() as playwright:
        # No sandbox: root in a container has none to offer.
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def kitchen(live_server) -> str:
    """The address of a kitchen with the demo formulas in it."""
    from setwell.services.demo import demo_load

    demo_load()
    return live_server.url


@pytest.fixture
def formula_id(kitchen: str) -> dict[str, int]:
    """The ids of a sound demo formula with two versions, of one with a mistake, a lot, a brief."""
    from setwell.services.briefs import briefs_list
    from setwell.services.formulas import formula_list
    from setwell.services.pantry import lot_list

    by_title = {row.title: row.id for row in formula_list()}
    return {
        "formula": by_title["Malted Milk Slice"],
        "mistake": by_title["Sake and Pineapple Coupe"],
        "lot": next(row.id for row in lot_list() if row.document.lot_code == "LQ-0417"),
        "brief": briefs_list()[-1].id,
    }


def open_page(chromium: Browser, address: str, **options: object) -> tuple[Page, list[str]]:
    context = chromium.new_context(base_url=address, **options)
    context.set_default_timeout(PATIENCE)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(f"script: {error}"))
    page.on(
        "request",
        lambda request: (
            faults.append(f"off-host: {request.url}")
            if not request.url.startswith((address, "data:", "blob:"))
            else None
        ),
    )
    page.on(
        "response",
        lambda response: (
            faults.append(f"{response.status}: {response.url}") if response.status >= 500 else None
        ),
    )
    return page, faults


@pytest.fixture
def tablet(chromium, kitchen) -> Iterator[Page]:
    page, faults = open_page(chromium, kitchen, viewport=TABLET)
    yield page
    page.context.close()
    assert faults == []


@pytest.fixture
def phone(chromium, kitchen) -> Iterator[Page]:
    page, faults = open_page(
        chromium, kitchen, viewport=PHONE, has_touch=True, device_scale_factor=2
    )
    yield page
    page.context.close()
    assert faults == []


@pytest.fixture
def no_scripts(chromium, kitchen) -> Iterator[Page]:
    page, faults = open_page(chromium, kitchen, viewport=TABLET, java_script_enabled=False)
    yield page
    page.context.close()
    assert faults == []
