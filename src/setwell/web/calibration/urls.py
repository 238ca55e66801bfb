"""Addresses of measurements of textures and lots."""

from django.urls import path

from setwell.web.calibration import views

urlpatterns = [
    path("texture-readings.csv", views.readings_export, name="texture_readings_export"),
    path("lot-checks.csv", views.checks_export, name="lot_checks_export"),
    path("readings/<int:reading_id>/", views.reading_rule, name="texture_reading_rule"),
    path("checks/<int:check_id>/", views.check_rule, name="lot_check_rule"),
]
