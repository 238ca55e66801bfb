"""Settings of the web front door: those of the store, plus pages.

The store's settings are loaded by name, so that this room does not import the store.
"""

from importlib import import_module
from pathlib import Path

_STORE = import_module("setwell.store.settings")
globals().update({name: getattr(_STORE, name) for name in dir(_STORE) if name.isupper()})

_WEB = Path(__file__).parent
_KITCHEN = import_module("setwell.store.home")

SECRET_KEY = _KITCHEN.secret_key()
DEBUG = False
# Without a log-in, only this machine may ask.
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]

INSTALLED_APPS = [
    *_STORE.INSTALLED_APPS,
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "setwell.web.policy.content_policy",
    "setwell.web.probe.upload_size.UploadSizeMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "setwell.web.line_ends.whole_figures",
    "setwell.web.refusal.RefusalMiddleware",
]
ROOT_URLCONF = "setwell.web.urls"
WSGI_APPLICATION = "setwell.web.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [_WEB / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "setwell.web.look.look",
            ],
            "builtins": [
                "django.templatetags.static",
                "django_htmx.templatetags.django_htmx",
                "setwell.web.figures",
                "setwell.web.marks",
                "setwell.web.chemistry_marks",
                "setwell.web.texture_marks",
                "setwell.web.fold_marks",
                "setwell.web.calibration.marks",
                "setwell.web.probe.marks",
                "setwell.web.version.reading_marks",
                "setwell.web.pantry.marks",
                "setwell.web.process.marks",
                "setwell.web.robustness.marks",
                "setwell.web.cost.marks",
            ],
        },
    }
]
FORM_RENDERER = "setwell.web.inputs.FieldRenderer"

STATIC_URL = "/static/"
STATIC_ROOT = _KITCHEN.home_path() / "static"
STATICFILES_DIRS = [_WEB / "static"]
STATICFILES_FINDERS = [
    "django.contrib.staticfiles.finders.FileSystemFinder",
    "setwell.web.finder.PackageFileFinder",
]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

WHITENOISE_KEEP_ONLY_HASHED_FILES = True

MESSAGE_STORAGE = "django.contrib.messages.storage.cookie.CookieStorage"
CSRF_FAILURE_VIEW = "setwell.web.refusal.csrf_failure"
CSRF_COOKIE_HTTPONLY = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"

# A formula has at most 0.4 MB of text; an import or a pantry file somewhat more.
DATA_UPLOAD_MAX_MEMORY_SIZE = 4_000_000
FILE_UPLOAD_MAX_MEMORY_SIZE = 4_000_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5_000

# Faults of ours go to the terminal with their trace; nothing is sent anywhere.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
    "handlers": {"terminal": {"class": "logging.StreamHandler", "formatter": "line"}},
    "loggers": {
        "django": {"handlers": ["terminal"], "level": "ERROR", "propagate": False},
        "setwell": {"handlers": ["terminal"], "level": "WARNING", "propagate": False},
    },
}

LANGUAGE_CODE = "en-us"
USE_I18N = False
USE_TZ = True
