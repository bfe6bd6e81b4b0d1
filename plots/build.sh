#!/usr/bin/env bash
# Rebuilds the pictures of this folder and its README.md from the embedded scenarios.
# The same program gives the same files: everything rests on seed 1.
set -euo pipefail
cd "$(dirname "$0")/.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# One line per picture: name in this folder, kind of file, picture that the command writes, command.
gallery=(
    "main-lake-point-column|png|column|odds main-lake-point"
    "main-lake-point-column|svg|column|odds main-lake-point"
    "main-lake-point-odds|svg|odds|odds main-lake-point"
    "main-lake-point-losses|svg|losses|odds main-lake-point"
    "main-lake-point-depth|svg|depth|depth main-lake-point"
    "main-lake-point-light|svg|light|light main-lake-point"
    "main-lake-point-finishes|svg|finishes|light main-lake-point"
    "northern-smallmouth-column|svg|column|odds northern-smallmouth"
    "northern-smallmouth-finishes|svg|finishes|light northern-smallmouth"
    "stained-lowland-odds|svg|odds|odds stained-lowland"
    "summer-algae-column|svg|column|odds summer-algae"
    "clay-after-rain-losses|svg|losses|odds clay-after-rain"
    "main-lake-point-map|png|sweep|sweep main-lake-point --over clarity=0.5m..6m:40 --over depth=1m..6m:30"
    "main-lake-point-by-depth|svg|sweep|sweep main-lake-point --over depth=1m..7m:13lin"
    "rules|svg|rules|rules"
    "twice-as-clear|svg|rule-twice-as-clear|rules --rule twice-as-clear"
    "rattle-in-wind-and-rain|svg|rule-rattle-in-wind-and-rain|rules --rule rattle-in-wind-and-rain"
    "trials|svg|trials|trials"
    "clearing-inlet-day|svg|day|day clearing-inlet"
    "four-waters-pack|svg|pack|pack main-lake-point=3 stained-lowland northern-smallmouth clay-after-rain"
    "main-lake-point-why|svg|why|why"
    "what-to-find-out|svg|by-worth|assumptions --by-worth"
    "main-lake-point-casts|svg|casts-power|casts 150_mm,_deep 130_mm,_deep_lip,_rattling --casts 60"
    "main-lake-point-lead|svg|casts-lead|casts 150_mm,_deep 130_mm,_deep_lip,_rattling --casts 60"
    "spring-weekends-learnt|svg|learnt|learn scenarios/logs/spring-weekends.csv"
    "spring-weekends-odds|svg|odds-before-after|learn scenarios/logs/spring-weekends.csv"
    "stained-lowland-by-hour|svg|sweep|sweep stained-lowland --over hour=6..20:29"
)

cargo build --release --locked --quiet

# The example printed in the README must be what the program prints, line for line; "..." stands for lines left out.
COLUMNS=120 cargo run --release --locked --quiet > "$work/example"
stale=$(sed -n '/^```text$/,/^```$/p' README.md | grep -v -x -e '```text' -e '```' -e '\.\.\.' -e '' \
    | grep -v -x -F -f "$work/example" || true)
if [ -n "$stale" ]; then
    printf 'README.md prints lines that callup no longer prints:\n%s\n' "$stale" >&2
    exit 1
fi

{
    echo "# Pictures"
    echo
    echo "Written by \`bash plots/build.sh\`; do not edit. The finding is the caption that the picture carries. All"
    echo "waters are invented. The commands write every picture they have, as PNG and SVG, into the folder given."
    echo
    echo "| picture | command | finding |"
    echo "|---|---|---|"
} > "$work/README.md"

for line in "${gallery[@]}"; do
    IFS='|' read -r name kind picture command <<< "$line"
    folder="$work/${command//[^a-z0-9]/-}"
    if [ ! -d "$folder" ]; then
        # The words of the command are separate arguments; an underscore stands for a space within one.
        read -r -a words <<< "$command"
        cargo run --release --locked --quiet -- "${words[@]//_/ }" --plot "$folder" > /dev/null 2> "$work/log" \
            || { cat "$work/log" >&2; exit 1; }
    fi
    cp "$folder/$picture.$kind" "$work/$name.$kind"
    finding=$(sed -n 's:.*<title>\(.*\)</title>.*:\1:p' "$folder/$picture.svg" | head -n 1)
    shown=$(sed -E 's/[^ ]*_[^ ]*/"&"/g; s/_/ /g' <<< "$command")
    echo "| [$name.$kind]($name.$kind) | \`callup $shown --plot pictures\` | $finding |" >> "$work/README.md"
done

# The photographs of report and page are made by pages.sh.
find plots -name '*.svg' -delete -o -name '*.png' ! -name page.png ! -name report.png -delete
cp "$work"/*.png "$work"/*.svg "$work/README.md" plots/
du -ch plots/*.png plots/*.svg | tail -n 1
