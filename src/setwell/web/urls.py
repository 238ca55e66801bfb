"""All addresses of the pages."""

from django.urls import include, path

urlpatterns = [
    path("", include("setwell.web.kitchen.urls")),
    path("formulas/", include("setwell.web.formula.urls")),
    path("formulas/<int:formula_id>/", include("setwell.web.version.urls")),
    path("formulas/<int:formula_id>/card/", include("setwell.web.card.urls")),
    path("formulas/<int:formula_id>/label/", include("setwell.web.label.urls")),
    path("formulas/<int:formula_id>/publish/", include("setwell.web.publish.formula_urls")),
    path("formulas/<int:formula_id>/acid/", include("setwell.web.acid.urls")),
    path("formulas/<int:formula_id>/texture/", include("setwell.web.texture.urls")),
    path("formulas/<int:formula_id>/probe/", include("setwell.web.probe.urls")),
    path("formulas/<int:formula_id>/process/", include("setwell.web.process.urls")),
    path("formulas/<int:formula_id>/strangers/", include("setwell.web.robustness.urls")),
    path("formulas/<int:formula_id>/scale/large/", include("setwell.web.large.urls")),
    path("formulas/<int:formula_id>/kit/", include("setwell.web.kit.urls")),
    path("formulas/<int:formula_id>/cost/", include("setwell.web.cost.urls")),
    path("formulas/<int:formula_id>/substitute/", include("setwell.web.substitution.urls")),
    path("briefs/", include("setwell.web.brief.urls")),
    path("blends/", include("setwell.web.blend.urls")),
    path("measurements/", include("setwell.web.calibration.urls")),
    path("pantry/", include("setwell.web.pantry.urls")),
    path("foods/", include("setwell.web.food.urls")),
    path("agents/", include("setwell.web.agent.urls")),
    path("published/", include("setwell.web.publish.site_urls")),
    path("links/", include("setwell.web.publish.share_urls")),
    path("sources/", include("setwell.web.source.urls")),
]

handler400 = "setwell.web.refusal.bad_request"
handler404 = "setwell.web.refusal.not_found"
handler500 = "setwell.web.refusal.server_error"
