"""Addresses of texture agents."""

from django.urls import path

from setwell.web.agent import views

urlpatterns = [
    path("", views.agent_chart, name="agent_chart"),
    path("<str:key>/", views.agent_view, name="agent_view"),
]
