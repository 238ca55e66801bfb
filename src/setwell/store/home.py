"""The folder that holds a kitchen: its database and its secret key."""

import os
import secrets
from pathlib import Path

import platformdirs

from setwell.errors import SetwellError

HOME_VARIABLE = "SETWELL_HOME"
DATABASE_NAME = "setwell.sqlite3"
SECRET_NAME = "secret_key"  # noqa: S105 - the name of a file, not what it holds


def home_path() -> Path:
    """Return the kitchen's folder, which need not exist yet."""
    chosen = os.environ.get(HOME_VARIABLE, "").strip()
    return Path(chosen).expanduser() if chosen else Path(platformdirs.user_data_dir("setwell"))


def database_path() -> Path:
    """Return where the kitchen's database is or will be."""
    return home_path() / DATABASE_NAME


def home_make() -> Path:
    """Create the kitchen's folder, readable by its owner only, and return it."""
    home = home_path()
    try:
        home.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise SetwellError(
            f"The folder {home} for the kitchen's data cannot be made: {error.strerror}.",
            hint=f"Set {HOME_VARIABLE} to a folder you may write to.",
        ) from None
    if not os.access(home, os.W_OK | os.X_OK):
        raise SetwellError(
            f"The folder {home} for the kitchen's data cannot be written to.",
            hint=f"Set {HOME_VARIABLE} to a folder you may write to.",
        )
    return home


def secret_key() -> str:
    """Return the key that signs this kitchen's cookies and forms; made on first use."""
    path = home_make() / SECRET_NAME
    _secret_create(path)
    key = path.read_text(encoding="ascii").strip()
    if len(key) < 32:
        raise SetwellError(
            f"The file {path} does not hold a usable key.",
            hint="Delete it and start again; people only have to open their pages anew.",
        )
    return key


def _secret_create(path: Path) -> None:
    """Write a new key unless there is one; another process may do so at the same moment."""
    if path.exists():
        return
    # A complete file appears under its name at once, so nobody reads half a key.
    draft = path.with_name(f"{SECRET_NAME}.{secrets.token_hex(8)}")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(50))
    try:
        os.link(draft, path)
    except FileExistsError:
        pass
    except OSError:  # a file system without links
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
