#!/usr/bin/env bash
# Every test of the project: unit, documentation, integration, and the programs of the README.
set -euo pipefail
cd "$(dirname "$0")/.."
export CARGO_INCREMENTAL=0

# The live page first: the program that the tests build then carries it.
bash src/web/build.sh
if command -v cargo-nextest >/dev/null; then
    cargo nextest run --locked --all-features --lib --bins --tests --no-fail-fast --status-level fail
else
    cargo test --locked --all-features --lib --bins --tests
fi
cargo test --locked --all-features --doc

# Every page that the program writes, in a browser, by the program that was just tested.
CALLUP=target/debug/callup bash tests/browser/run.sh
