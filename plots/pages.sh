#!/usr/bin/env bash
# Writes an example report and the live page into target/pages, and photographs both for the README.
set -euo pipefail
cd "$(dirname "$0")/.."
[ -e target/page/page.html ] || bash src/web/build.sh
cargo build --release --locked --quiet
command -v chromium >/dev/null || apt-get install -y -qq --no-install-recommends chromium fonts-dejavu-core
[ -d tests/browser/node_modules/playwright-core ] || npm ci --prefix tests/browser --ignore-scripts --no-audit --no-fund
mkdir -p target/pages
target/release/callup report clearing-inlet -o target/pages/report.html
target/release/callup page -o target/pages/page.html
export CHROMIUM="${CHROMIUM:-$(command -v chromium)}"
node tests/browser/screens.mjs target/pages/report.html plots/report.png 1000 1150
node tests/browser/screens.mjs target/pages/page.html plots/page.png 1160 1000
