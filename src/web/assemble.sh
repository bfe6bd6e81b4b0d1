#!/usr/bin/env bash
# Puts the page together: page.html with style, scripts, lessons and the module (gzip, base64) in the places marked
# for them. Writes to standard output. Usage: assemble.sh MODULE.wasm
set -euo pipefail
module=$(realpath "$1")
cd "$(dirname "$0")"

# What a browser may run: exactly these two scripts, named by the hash of what stands between the tags.
hash_of() {
    printf "$(sha256sum | cut -c1-64 | sed 's/../\\x&/g')" | base64
}

# The same gzip format either way; zopfli finds a file smaller by a twentieth.
packed() {
    if command -v zopfli >/dev/null; then zopfli -c "$1"; else gzip -9 -n -c "$1"; fi
}

script=$(mktemp)
trap 'rm -f "$script"' EXIT
{
    echo
    cat page/{state,words,draw,strip,controls,lessons,main,begin}.js
} >"$script"
digest=$(hash_of <"$script")

while IFS= read -r line || [ -n "$line" ]; do
    case $line in
        *'@HASH@'*) printf '%s\n' "${line//@HASH@/$digest}" ;;
        '@STYLE@') cat page/style.css ;;
        '@LESSONS@') cat page/lessons.json ;;
        '@WORKER@') cat page/worker.js ;;
        '@MODULE@') packed "$module" | base64 -w 0 && echo ;;
        '<script>@SCRIPT@') printf '<script>' && cat "$script" ;;
        *) printf '%s\n' "$line" ;;
    esac
done <page/page.html
