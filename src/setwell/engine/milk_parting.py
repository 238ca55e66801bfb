"""Gums without charge that crowd milk protein into a layer of its own, and what holds it."""

# From here on a batch counts as milk [kg of milk protein per kg] (our judgment, as for bases).
MILK_SHARE = 0.005
# Guar is measured, locust bean gum told with it; tara and konjac are built alike (our judgment).
PARTS = frozenset({"guar", "locust_bean_gum", "tara", "konjac"})
# Kappa binds to casein and holds it in place; so does what is mostly kappa.
HOLDS = frozenset({"kappa_carrageenan", "processed_eucheuma", "kappa_LBG", "kappa_konjac"})
# Less gum than this is not known to part anything (our judgment) [% of the batch].
LEAST_PCT = 0.02
