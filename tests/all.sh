#!/usr/bin/env bash
# Every test of the project: unit, documentation, integration, and the programs of the README.
set -euo pipefail
cd "$(dirname "$0")/.."
export CARGO_INCREMENTAL=0

cargo test --locked --all-features --lib --bins --tests
cargo test --locked --doc

# The live page, built from source, and every page that the program writes, in a browser.
bash src/web/build.sh
cargo build --locked --release
bash tests/browser/run.sh
