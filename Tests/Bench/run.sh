#!/usr/bin/env bash
# Runs the benchmarks and prints their figures: run.sh [BUILD_FOLDER]. ./test.sh --bench builds them first.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/../../scripts/common.sh"

here="$root/Tests/Bench"
build="${1:-$root/build}"
programs="$build/Tests/Bench"
wisdom="$programs/measured-plans.wisdom" # measured once a build folder
failed=0

[[ -x "$programs/plumbline_analysis_bench" ]] || {
    complain "The benchmarks are not built in $build: ./test.sh --bench builds them."
    exit 1
}
# The user's own settings stay as they are.
PLUMBLINE_SETTINGS="$(mktemp -d)"
export PLUMBLINE_SETTINGS
trap 'rm -rf "$PLUMBLINE_SETTINGS"' EXIT

# Runs a program; one that fails is named, and the others run on.
run() {
    "$@" || { complain "  $(basename "$1") failed."; failed=1; }
}

# Reads callgrind's dumps, one a block, and prints the median and the slowest block of each kind.
summarise_instructions() {
    awk '/^desc: Trigger: Client Request:/ { kind = $NF }
         /^summary:/ { if (kind != "") print kind, $2; kind = "" }' "$1" |
        sort -k1,1 -k2,2n |
        awk '{ if ($1 != kind) show(); kind = $1; value[++count] = $2 }
             function show(    middle) {
                 if (count == 0) return
                 middle = value[int((count + 1) / 2)]
                 printf "  %-40s %9d     slowest %d: %.2f x median, of %d blocks\n",
                     kind ", instructions a block of 64", middle, value[count], value[count] / middle, count
                 count = 0
             }
             END { show() }'
}

count_instructions() {
    local counts="$programs/callgrind.out"
    if ! command -v valgrind >/dev/null; then
        say "  instructions not counted: valgrind is not here (Debian package valgrind)"
        return 0
    fi
    rm -f "$counts"
    if valgrind --tool=callgrind --collect-atstart=no --combine-dumps=yes --callgrind-out-file="$counts" \
        "$programs/plumbline_block_bench" instructions 2>"$programs/callgrind.log"; then
        summarise_instructions "$counts"
    elif [[ $? -ne 3 ]]; then
        complain "  Counting instructions failed; see $programs/callgrind.log."
        failed=1
    fi
    rm -f "$counts"
}

python="$(cached "$build" Python3_EXECUTABLE)"
[[ -n "$python" ]] || python="$(choose_python)"

say "Each figure: median (lower .. upper quartile) of the thread's CPU time; sides of a ratio run in turn." \
    "Load of the machine now: $(cut -d' ' -f1-3 /proc/loadavg 2>/dev/null || echo unknown)"
say "" "Analysis of a stereo take, two captures of 2^19 samples with reference, to the 1/12-octave curve" \
    "(bare: in place, a side 2 r2c and 1 c2r of 2^19 points and 1 r2c of the gate's length)" \
    "First run, FFTW's estimated plans:"
run "$programs/plumbline_analysis_bench" speed
run "$python" "$here/analysis_scipy.py" "$programs/libplumbline_bench_shared.so"
say "With wisdom, measured plans:"
run "$programs/plumbline_analysis_bench" speed "$wisdom"
run "$python" "$here/analysis_scipy.py" "$programs/libplumbline_bench_shared.so" "$wisdom"
say "Where the time goes, both sides together, with wisdom:"
run "$programs/plumbline_analysis_bench" steps "$wisdom"
say "Memory, the system's count:"
run "$programs/plumbline_analysis_bench" memory
say "" "Processor, 48 kHz, blocks of 64 (1333 us of sound each)"
run "$programs/plumbline_block_bench" time
count_instructions
say "" "The built plugins in a host, wrapper and all, 48 kHz, blocks of 64"
run "$programs/plumbline_hosted_bench"
say "" "Practice room, three pairs, all but analysis and files"
run "$programs/plumbline_practice_bench"
say "" "Opening a trial, in the page cache"
run "$programs/plumbline_trial_bench"
say "" "Comparing a board, 2 set-ups x 3 takes a stance"
run "$programs/plumbline_compare_bench"
say "" "The window, in software at 1200 x 760, showing two takes"
run "$programs/plumbline_window_bench"
say "" "Chart of the window, into an opaque software image (bare: juce::Path strokes of the same curves)"
run "$programs/plumbline_chart_bench"
exit "$failed"
