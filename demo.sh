#!/usr/bin/env bash
# Builds the console program, measures the shipped practice scenario with it and compares the stances. See --help.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/scripts/common.sh"

usage() {
    cat <<'END'
./demo.sh [OPTIONS OF plumbline practice]

Installs what is missing (saying what and why first), builds the program `build/plumbline`, and lets it measure three
pairs of monitors, stood up and laid down, in a simulated room, each stance stood up twice with two takes, and compare
them. Nothing sounds and nothing needs to be plugged in.
Writes under build/demo/. Options are passed on, as in ./demo.sh --seed 7 (see build/plumbline practice --help).
END
}

plan=(--set-ups 2 --takes 2) # a set-up measured again tells how far a pair returns to its place
for argument in "$@"; do
    case "$argument" in
        -h | --help) usage; exit 0 ;;
        --set-ups | --set-ups=* | --takes | --takes=*) plan=() ;; # the user's own
    esac
done

ensure_packages "${build_packages[@]}"
# A fresh build folder leaves the tests out, as they need more packages; one that has them keeps them.
if [[ -f "$root/build/build.ninja" ]]; then configure release; else configure release -DPLUMBLINE_TESTS=OFF; fi
build "$root/build" plumbline

mkdir -p "$root/build/demo"
say "" "Measuring the practice room ..."
cd "$root"
status=0
build/plumbline practice Presets/practice/three-pairs.json --out build/demo/trial --pictures build/demo/pictures --replace \
    "${plan[@]}" "$@" || status=$?
if ((status != 0 && status != 4)); then # 4: done, with doubts that the program has named
    complain "plumbline practice ended with status $status."
    exit "$status"
fi

say "" "Comparing the stances ..." ""
status=0
build/plumbline compare build/demo/trial --out build/demo/comparison --replace || status=$?
if ((status != 0 && status != 4)); then
    complain "plumbline compare ended with status $status."
    exit "$status"
fi

say "" "Written under build/demo/: trial/ (the takes, as the program keeps them), comparison/ and pictures/ (look at these" \
    "first):"
find build/demo/comparison build/demo/pictures -type f -name '*.svg' -printf '  %p\n' | sort
say "" "To measure monitors of your own, turn them down first, then:" \
    "  build/plumbline stimulus --out sweep.wav" \
    "  play sweep.wav in any program while you record the microphone (and, if you can, a loopback cable) as WAV" \
    "  build/plumbline analyse recording.wav --stimulus sweep.json --out result"
