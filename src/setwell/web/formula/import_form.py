"""The form that takes a formula from elsewhere."""

from typing import Any

from django import forms


class ImportForm(forms.Form):
    """A formula from elsewhere: a file or pasted text."""

    file = forms.FileField(
        label="File",
        required=False,
        help_text="A formula saved by Setwell (.json), a web page with a recipe, or plain text.",
    )
    text = forms.CharField(
        label="Or paste it here",
        required=False,
        strip=False,
        max_length=1_000_000,
        widget=forms.Textarea(attrs={"rows": 14, "spellcheck": "false"}),
    )

    def clean(self) -> dict[str, Any]:
        """Take the file when there is one, else the text."""
        values: dict[str, Any] = super().clean() or {}
        upload = values.get("file")
        if upload is not None:
            values["content"] = self._decoded(upload.read())
            values["filename"] = upload.name
        else:
            values["content"], values["filename"] = values.get("text", ""), ""
        if not self.errors and not values["content"].strip():
            self.add_error("text", "There is nothing to read: choose a file or paste some text.")
        return values

    def _decoded(self, data: bytes) -> str:
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError:
            self.add_error("file", "This file is not text in UTF-8. Save it as UTF-8, try again.")
            return ""
