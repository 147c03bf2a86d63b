#!/usr/bin/env bash
# Makes the pictures of README.md from the practice room, with the programs as they are built (./test.sh builds both).
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
"$root/build/plumbline" practice "$root/Presets/practice/three-pairs.json" --out "$work/trial" --pictures "$work/pictures" --quiet
mkdir -p "$root/Assets/pictures"
cp "$work/pictures/heron-6.svg" "$root/Assets/pictures/practice-heron-6.svg"
"$root/build/Tests/plumbline_window_pictures" "$work/window"
cp "$work/window/capture.png" "$root/Assets/pictures/capture.png"
say "Made Assets/pictures/practice-heron-6.svg and Assets/pictures/capture.png."
