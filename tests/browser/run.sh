#!/usr/bin/env bash
# Drives the pages in Chromium; fetches Chromium (Debian) and the two packages of package-lock.json (npm) where they
# are missing. CALLUP names the program, target/release/callup unless told otherwise.
set -euo pipefail
cd "$(dirname "$0")/../.."

if ! command -v chromium >/dev/null; then
    root=()
    [ "$(id -u)" = 0 ] || root=(sudo)
    "${root[@]}" apt-get update -qq
    "${root[@]}" apt-get install -y -qq --no-install-recommends chromium fonts-dejavu-core
fi
[ -d tests/browser/node_modules/playwright-core ] || npm ci --prefix tests/browser --ignore-scripts --no-audit --no-fund
CALLUP="${CALLUP:-target/release/callup}" CHROMIUM="$(command -v chromium)" node tests/browser/run.mjs "$@"
