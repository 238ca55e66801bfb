"""When something cannot be done: our own pages, and nothing of the inside shown."""

import pytest
from django.test import Client

from setwell.errors import ConflictError, ModelError, NotAllowedError, TableError
from setwell.services import kitchen

pytestmark = pytest.mark.django_db


def test_an_address_that_leads_nowhere_has_a_way_back(bench):
    answer = bench.get("/nowhere/")
    assert answer.status_code == 404
    assert "There is no page at this address." in answer.content.decode()


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (ConflictError("Two people, one pot.", hint="Try again."), 409),
        (NotAllowedError("Not here."), 403),
        (ModelError("No model for this."), 422),
        (TableError("A table is broken."), 500),
    ],
)
def test_each_error_of_ours_has_its_page(bench, monkeypatch, error, status):
    def refused():
        raise error

    monkeypatch.setattr(kitchen, "kitchen_home", refused)
    answer = bench.get("/")
    assert answer.status_code == status
    assert error.message in answer.content.decode()


def test_a_part_of_a_page_gets_only_the_words(bench, monkeypatch):
    def refused():
        raise ConflictError("Two people, one pot.")

    monkeypatch.setattr(kitchen, "kitchen_home", refused)
    answer = bench.get("/", headers={"hx-request": "true"})
    assert b"<html" not in answer.content
    assert b"Two people, one pot." in answer.content


def test_a_fault_of_ours_shows_no_trace(monkeypatch):
    def broken():
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(kitchen, "kitchen_home", broken)
    answer = Client(raise_request_exception=False).get("/")
    page = answer.content.decode()
    assert answer.status_code == 500
    assert "Something broke on our side" in page
    assert "secret detail" not in page


def test_a_body_beyond_all_measure_is_refused_with_advice(bench):
    answer = bench.post("/formulas/new/", {"ingredients": "x" * 4_200_000})
    assert answer.status_code == 413
    assert "what you typed is still in the page" in answer.content.decode()


def test_too_many_fields_are_refused_with_advice(bench):
    answer = bench.post("/formulas/preview/", {"line": ["1"] * 5_100})
    assert answer.status_code == 413


def test_a_form_from_elsewhere_is_refused():
    answer = Client(enforce_csrf_checks=True).post("/formulas/new/", {"title": "x"})
    assert answer.status_code == 403
    assert "cookies are switched off" in answer.content.decode()


def test_a_foreign_host_name_is_refused(bench):
    answer = bench.get("/", headers={"host": "evil.example"})
    assert answer.status_code == 400
    assert "Traceback" not in answer.content.decode()


def test_the_policy_forbids_everything_but_our_own_files(bench):
    policy = bench.get("/limits/")["Content-Security-Policy"]
    assert "unsafe" not in policy
    assert "script-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
