#!/usr/bin/env bash
# Drives the pages in Chromium; fetches Chromium (Debian) and the two packages of package-lock.json (npm) where they
# are missing. CALLUP names the program, target/release/callup unless told otherwise.
set -euo pipefail
cd "$(dirname "$0")/../.."

# Node's own major version; the packages ask for 20.
if ! command -v node >/dev/null || [ "$(node --version | sed 's/^v\([0-9]*\).*/\1/')" -lt 20 ]; then
    echo "the browser tests need Node.js 20 or later, with npm" >&2
    exit 1
fi
if ! command -v chromium >/dev/null; then
    root=()
    [ "$(id -u)" = 0 ] || root=(sudo)
    "${root[@]}" apt-get update -qq
    "${root[@]}" apt-get install -y -qq --no-install-recommends chromium fonts-dejavu-core
fi
[ -d tests/browser/node_modules/playwright-core ] || npm ci --prefix tests/browser --ignore-scripts --no-audit --no-fund
CALLUP="${CALLUP:-target/release/callup}" CHROMIUM="$(command -v chromium)" node tests/browser/run.mjs "$@"
