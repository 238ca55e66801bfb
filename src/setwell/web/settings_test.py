"""Settings under test: an own folder, plain static files, fast hashing."""

import atexit
import os
import shutil
import tempfile

# Before the real settings are read: a test never touches the kitchen of the person running it.
_FOLDER = tempfile.mkdtemp(prefix="setwell-test-")
os.environ["SETWELL_HOME"] = _FOLDER
atexit.register(shutil.rmtree, _FOLDER, ignore_errors=True)

from setwell.web.settings import *  # noqa: E402, F403
from setwell.web.settings import TEMPLATES  # noqa: E402

STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
STATIC_ROOT.mkdir(exist_ok=True)  # noqa: F405 - whitenoise warns about a missing folder

# A name that a template cannot find must be seen by the tests.
TEMPLATES[0]["OPTIONS"]["string_if_invalid"] = "«missing %s»"  # type: ignore[index]
