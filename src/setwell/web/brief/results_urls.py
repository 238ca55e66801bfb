"""Addresses of what meets a brief; they stand beside those of briefs."""

from django.urls import path

from setwell.web.brief import results, trials_view

urlpatterns = [
    path("proposals/", results.brief_proposals, name="brief-proposals"),
    path("proposals/formula/", results.brief_make_formula, name="brief_make_formula"),
    path("proposals/trials/", trials_view.brief_trials, name="brief_trials"),
    path("proposals/trials/sheet.pdf", trials_view.brief_trials_pdf, name="brief_trials_pdf"),
    path("proposals/trials/sheet.txt", trials_view.brief_trials_text, name="brief_trials_text"),
    path("proposals/trials/table.csv", trials_view.brief_trials_csv, name="brief_trials_csv"),
]
