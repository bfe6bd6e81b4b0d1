#!/usr/bin/env bash
# Builds the live page from source: the simulator as a WebAssembly module, and around it one HTML file that needs
# nothing else. The finished page lies in target/page/page.html, where `cargo build` finds it (see build.rs) and
# makes it what `callup page` writes.
#
# With the target wasm32-unknown-unknown installed (`rustup target add wasm32-unknown-unknown`) that toolchain builds
# the module. Without it, and on Debian, the packages rustc-web, cargo-web and rust-web-src (fetched with apt where
# they are missing) build the standard library from source, and the linker is rustup's own rust-lld. The module
# imports nothing, so no further tool is needed.
set -euo pipefail
cd "$(dirname "$0")/../.."

target=wasm32-unknown-unknown
folder=target/web
page=${CALLUP_PAGE_FOLDER:-target/page}
export CARGO_INCREMENTAL=0 CARGO_TARGET_DIR="${CALLUP_WEB_TARGET:-$folder}"
# Three exports; 128-bit vectors, which every browser has that has the rest of what the page asks for.
export RUSTFLAGS="-C target-feature=+simd128 -C link-arg=--export=input -C link-arg=--export=run -C link-arg=--export=output"
what=(build --locked --profile web --bin callup-web --no-default-features --features web --target "$target")

with_rustup() {
    command -v rustup >/dev/null && rustup target list --installed | grep -qx "$target"
}

from_debian() {
    if ! dpkg -s rustc-web cargo-web rust-web-src >/dev/null 2>&1; then
        command -v apt-get >/dev/null || {
            echo "neither the target $target nor Debian's rustc-web is here: rustup target add $target" >&2
            exit 1
        }
        local root=()
        [ "$(id -u)" = 0 ] || root=(sudo)
        "${root[@]}" apt-get update -qq
        "${root[@]}" apt-get install -y -qq --no-install-recommends rustc-web cargo-web rust-web-src
    fi
    local sysroot linker
    sysroot=$(rustc --print sysroot)
    linker=$(find "$sysroot" -name rust-lld -type f | head -1)
    [ -n "$linker" ] || { echo "no rust-lld under $sysroot" >&2; exit 1; }
    # The standard library is built from source, which a stable compiler does only when told to; so built, a panic
    # need not carry its words, which nobody would read.
    RUSTFLAGS="$RUSTFLAGS -Zunstable-options -Cpanic=immediate-abort" RUSTC_BOOTSTRAP=1 RUSTC=/usr/bin/rustc CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER="$linker" \
        /usr/bin/cargo "${what[@]}" -Zbuild-std=std,panic_abort
}

if ! command -v zopfli >/dev/null && command -v apt-get >/dev/null; then
    root=()
    [ "$(id -u)" = 0 ] || root=(sudo)
    { "${root[@]}" apt-get update -qq && "${root[@]}" apt-get install -y -qq --no-install-recommends zopfli; } >&2
fi

if with_rustup; then cargo "${what[@]}"; else from_debian; fi

module="$CARGO_TARGET_DIR/$target/web/callup-web.wasm"
mkdir -p "$page"
bash src/web/assemble.sh "$module" >"$page/page.new"
# Whole or not at all.
mv "$page/page.new" "$page/page.html"
size=$(wc -c <"$page/page.html")
sent=$(gzip -9 -c "$page/page.html" | wc -c)
echo "$page/page.html: $size bytes, $sent compressed" >&2
if [ "$size" -gt 1500000 ] || [ "$sent" -gt 500000 ]; then
    echo "the page may have 1500000 bytes, 500000 compressed" >&2
    exit 1
fi
