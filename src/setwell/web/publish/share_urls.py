"""The address of a shared card on this machine."""

from django.urls import path

from setwell.web.publish import site

urlpatterns = [path("<str:token>/", site.shared_view, name="shared_view")]
