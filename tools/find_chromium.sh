#!/bin/sh
# Print the path of a Chromium for the browser tests, installing one if that is possible.
set -u
for name in "${SETWELL_CHROMIUM:-}" chromium chromium-browser google-chrome-stable google-chrome; do
  [ -n "$name" ] && found=$(command -v "$name" 2>/dev/null) && { echo "$found"; exit 0; }
done
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  echo "Installing Chromium for the browser tests ..." >&2
  apt-get update -qq >&2 && apt-get install -y -qq --no-install-recommends chromium >/dev/null 2>&1
  found=$(command -v chromium 2>/dev/null) && { echo "$found"; exit 0; }
fi
"$1/playwright" install chromium >&2 2>/dev/null || true
found=$("$1/python" - <<'PY'
import pathlib
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    path = playwright.chromium.executable_path
    print(path if pathlib.Path(path).exists() else "")
PY
)
[ -n "$found" ] && { echo "$found"; exit 0; }
echo "No Chromium found for the browser tests. Install one (Debian: apt-get install chromium) or set SETWELL_CHROMIUM to its path." >&2
exit 1
