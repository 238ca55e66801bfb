"""Addresses of the kitchen itself."""

from django.urls import path

from setwell.web.kitchen import views

urlpatterns = [
    path("", views.kitchen_home, name="kitchen_home"),
    path("settings/", views.kitchen_settings, name="kitchen_settings"),
    path("look/", views.kitchen_look, name="kitchen_look"),
    path("limits/", views.kitchen_limits, name="kitchen_limits"),
]
