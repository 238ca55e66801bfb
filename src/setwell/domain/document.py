"""What every stored document has in common: frozen, closed, canonical, hashed."""

import hashlib
import json
import unicodedata
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, ValidationError

from setwell.errors import DocumentError


def _clean_text(text: str) -> str:
    """Normalize line ends and composed characters; refuse what no database keeps."""
    if "\x00" in text:
        raise ValueError("contains a NUL character, which cannot be stored; remove it")
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise ValueError("contains half of a character; paste it again as plain text") from None
    return unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))


CleanText = Annotated[str, AfterValidator(_clean_text)]


class Document(BaseModel):
    """Frozen and validated; unknown fields are refused rather than dropped."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=False)

    def canonical_fields(self) -> dict[str, Any]:
        """Return the fields that stand in the canonical JSON."""
        return self.model_dump(mode="json")

    def canonical_json(self) -> str:
        """Return the one JSON text that stands for this document."""
        return json.dumps(
            self.canonical_fields(),
            sort_keys=True,
            ensure_ascii=False,
            separators=(",", ":"),
            allow_nan=False,
        )

    @property
    def content_hash(self) -> str:
        """SHA-256 of the canonical JSON, as 64 hexadecimal digits."""
        return hashlib.sha256(self.canonical_json().encode("utf-8")).hexdigest()


def validation_sentence(error: ValidationError) -> str:
    """Return the first problem of a validation error as one plain sentence."""
    first: Any = error.errors()[0]
    where = ".".join(str(part) for part in first["loc"]) or "the document"
    more = f" (and {error.error_count() - 1} more)" if error.error_count() > 1 else ""
    message = str(first["msg"]).removeprefix("Value error, ")
    return f"{where}: {message}{more}"


def document_error(error: ValidationError) -> DocumentError:
    """Return a validation error as the error a front door can show at the field."""
    first: Any = error.errors()[0]
    return DocumentError(
        validation_sentence(error), field=str(first["loc"][0]) if first["loc"] else ""
    )
