"""Write a folder as a whole: beside the old one first, then in its place."""

import json
import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from setwell.errors import InputError, SetwellError
from setwell.services.publishing.names import is_safe_path

MARKER = "setwell-site.json"
FORMAT = "setwell-site"


@dataclass(slots=True)
class KeptFiles:
    """Files of the folder as it was, that need not be made again while their key is the same."""

    folder: Path | None = None
    keys: Mapping[str, str] = field(default_factory=dict)
    new_keys: dict[str, str] = field(default_factory=dict)
    used: int = 0

    def take(self, name: str, key: str) -> bytes | None:
        """Return the file as it was, if it was made from the same; remembers the key."""
        self.new_keys[name] = key
        if self.folder is None or self.keys.get(name) != key:
            return None
        try:
            data = (self.folder / name).read_bytes()
        except OSError:
            return None
        self.used += 1
        return data


def folder_kept(folder: Path) -> KeptFiles:
    """Return what can be taken over from the folder as it is; refuse one that is not ours."""
    _refuse_odd(folder)
    if not folder.exists():
        return KeptFiles()
    listed, keys = _marker_read(folder)
    present = _present(folder)
    foreign = sorted(present - listed - {MARKER})
    if foreign:
        named = ", ".join(foreign[:3]) + (" ..." if len(foreign) > 3 else "")
        raise InputError(
            f"{folder} holds {len(foreign)} files that were not published from here: {named}.",
            field="folder",
            hint="Name a new folder, or one that only this command writes.",
        )
    return KeptFiles(folder, keys)


def folder_write(
    folder: Path, made: Iterable[tuple[str, bytes]], *, keys: Mapping[str, str]
) -> None:
    """Write the files into a new folder and put it where the old one is."""
    folder = folder.absolute()
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        making = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    except OSError as error:
        raise _failed(folder, error) from None
    try:
        names = [_file_write(making, name, data) for name, data in made]
        marker = {"format": FORMAT, "files": sorted(names), "keys": dict(keys)}
        (making / MARKER).write_text(json.dumps(marker, indent=1), encoding="utf-8")
        making.chmod(0o755)
        _put_in_place(making, folder)
    except OSError as error:
        raise _failed(folder, error) from None
    finally:
        shutil.rmtree(making, ignore_errors=True)


def _file_write(making: Path, name: str, data: bytes) -> str:
    if not is_safe_path(name):
        raise SetwellError(f"“{name[:80]}” is not a safe name for a file, so nothing was written.")
    path = making.joinpath(*name.split("/"))
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return name


def _put_in_place(making: Path, folder: Path) -> None:
    """Swap the folders; when the second step fails the first is undone."""
    if not folder.exists():
        making.rename(folder)
        return
    old = making.with_name(f"{making.name}.old")
    folder.rename(old)
    try:
        making.rename(folder)
    except OSError:
        old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _refuse_odd(folder: Path) -> None:
    if folder.is_symlink():
        raise InputError(f"{folder} is a link.", field="folder", hint="Name the folder itself.")
    if folder.exists() and not folder.is_dir():
        raise InputError(f"{folder} is a file, not a folder.", field="folder")
    if folder.absolute().parent == folder.absolute() or folder.absolute() == Path.home():
        raise InputError(f"{folder} cannot be replaced.", field="folder", hint="Name a new folder.")


def _marker_read(folder: Path) -> tuple[set[str], dict[str, str]]:
    try:
        told = json.loads((folder / MARKER).read_text(encoding="utf-8"))
        if told["format"] != FORMAT:
            return set(), {}
        return {str(name) for name in told["files"]}, dict(told["keys"])
    except (OSError, ValueError, KeyError, TypeError):
        return set(), {}


def _present(folder: Path) -> set[str]:
    found = set()
    for root, folders, names in os.walk(folder):
        links = [name for name in folders if (Path(root) / name).is_symlink()]
        found |= {(Path(root) / name).relative_to(folder).as_posix() for name in (*names, *links)}
    return found


def _failed(folder: Path, error: OSError) -> SetwellError:
    return SetwellError(
        f"{folder} could not be written: {error.strerror or error}. What was there is unchanged.",
        hint="Check that its parent folder may be written to and has room.",
    )
