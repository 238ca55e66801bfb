"""Addresses of publishing and sharing one formula."""

from django.urls import path

from setwell.web.publish import views

urlpatterns = [
    path("", views.publish_view, name="publish_view"),
    path("withdraw/", views.publish_withdraw, name="publish_withdraw"),
    path("share/", views.share_add, name="share_add"),
    path("share/<int:link_id>/revoke/", views.share_revoke, name="share_revoke"),
]
