"""Addresses of the process pages; they stand under one formula."""

from django.urls import path

from setwell.web.process import sheet, views

urlpatterns = [
    path("", views.process_page, name="process_view"),
    path("plan/", views.plan_use, name="process_plan"),
    path("sheet/", sheet.sheet_view, name="bench_sheet"),
    path("sheet/sheet.pdf", sheet.sheet_pdf, name="bench_sheet_pdf"),
]
