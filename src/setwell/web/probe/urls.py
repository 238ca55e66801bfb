"""Addresses of the probe logs of one formula."""

from django.urls import path

from setwell.web.probe import live, log, preview, views

urlpatterns = [
    path("", views.probe_list, name="probe_list"),
    path("upload/", views.probe_upload, name="probe_upload"),
    path("start/", views.probe_start, name="probe_start"),
    path("uploads/<int:upload_id>/", preview.probe_preview, name="probe_preview"),
    path("<int:log_id>/", log.probe_log, name="probe_log"),
    path("<int:log_id>/file/", log.probe_file, name="probe_file"),
    path("<int:log_id>/csv/", log.probe_csv, name="probe_csv"),
    path("<int:log_id>/rule/", log.probe_rule, name="probe_rule"),
    path("<int:log_id>/cold-place/", log.probe_fit, {"kind": "cold"}, name="probe_fit_cold"),
    path("<int:log_id>/hob/", log.probe_fit, {"kind": "hob"}, name="probe_fit_hob"),
    path("<int:log_id>/readings/", live.probe_reading, name="probe_reading"),
    path("<int:log_id>/readings/<int:sample_id>/strike/", live.probe_strike, name="probe_strike"),
]
