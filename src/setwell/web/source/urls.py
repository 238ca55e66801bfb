"""Address of the sources."""

from django.urls import path

from setwell.web.source import views

urlpatterns = [path("", views.source_list, name="source_list")]
