"""Forms of publishing: a remark, a reason, a link, an address."""

from django import forms

from setwell.web.inputs import NumberField


class RemarkForm(forms.Form):
    """What to tell those who follow the card."""

    remark = forms.CharField(
        label="What is new, in your words",
        max_length=1000,
        required=False,
        help_text="It stands on the page and in the feeds, before the changes. Empty is fine.",
        widget=forms.Textarea(attrs={"rows": 2}),
    )


class WithdrawForm(forms.Form):
    """Why a card is taken back."""

    reason = forms.CharField(
        label="Why",
        max_length=500,
        required=False,
        help_text="It stands where the card was. Say it plainly where somebody could be hurt.",
    )
    keeps_links = forms.BooleanField(
        label="Keep its share links open",
        required=False,
        help_text="Without the mark every link to this formula ends at once.",
    )


class ShareForm(forms.Form):
    """For how long a link holds, and for whom it is."""

    days = NumberField(
        label="Holds for days", low=1, high=365, is_whole=True,
        help_text="Empty: until it is revoked.",
    )  # fmt: skip
    note = forms.CharField(
        label="For whom",
        max_length=120,
        required=False,
        help_text="Only you see it.",
    )


class AddressForm(forms.Form):
    """Where the folder will stand on the web."""

    address = forms.CharField(
        label="Address of the folder",
        max_length=300,
        required=False,
        help_text="Such as https://kitchen.example/cards/. Feeds and snippets need it.",
        widget=forms.TextInput(attrs={"inputmode": "url", "autocomplete": "off"}),
    )
