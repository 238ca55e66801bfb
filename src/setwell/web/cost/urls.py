"""Address of the page about cost; it stands under one formula."""

from django.urls import path

from setwell.web.cost import views

urlpatterns = [path("", views.cost_page, name="cost_view")]
