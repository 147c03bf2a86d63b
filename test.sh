#!/usr/bin/env bash
# Builds everything and runs the tests. See --help.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/scripts/common.sh"

usage() {
    cat <<'END'
./test.sh [--long] [--bench] [--help]

Installs what is missing (saying what and why first), builds, runs the tests, and ends with the line
"N passed, N failed". Exit status 1 if any failed.

  --long   also the tests that take long; the plugin in a DAW and our own application on a virtual screen
           (Tests/Hosts); and those marked for a sanitizer, in builds of their own: build-asan/ (addresses,
           undefined behaviour) and build-tsan/ (threads)
  --bench  no tests: builds the benchmarks and prints their figures
END
}

passed=0 failed=0

# Counts a step that is no test of its own, such as a build that failed.
count_failure() {
    complain "$1 This counts as one failure."
    failed=$((failed + 1))
}

# run_tests FOLDER WORDS CTEST_OPTIONS...: runs them and adds what CTest counted.
run_tests() {
    local folder="$1" words="$2" log="$1/tests.log" totals of
    shift 2
    say "" "$words"
    "${calm[@]}" ctest --test-dir "$folder" -j "$jobs" --output-on-failure --no-tests=error "$@" 2>&1 |
        tee "$log" || true
    # "98% tests passed, 1 tests failed out of 50"; tests that could not be run are among the failed.
    totals="$(sed -nE 's/^[0-9]+% tests passed, ([0-9]+) tests? failed out of ([0-9]+).*/\1 \2/p' "$log" | tail -n 1)"
    if [[ -z "$totals" ]]; then
        count_failure "No test was run in $(basename "$folder")/."
        return 0
    fi
    of="${totals#* }"
    failed=$((failed + ${totals% *}))
    passed=$((passed + of - ${totals% *}))
}

# Builds a sanitizer's folder and runs the tests labelled with its name.
run_sanitized() {
    local preset="$1" words="$2"
    say "" "== $words"
    if configure "$preset" "${python[@]}" && build "$(folder_of "$preset")"; then
        run_tests "$(folder_of "$preset")" "Running the tests marked $preset ..." -L "^$preset\$"
    else
        count_failure "The build with $preset failed."
    fi
}

# run_in_hosts SCRIPT ARGUMENTS...: one line of it is one test.
run_in_hosts() {
    local log="$root/build/$1-${2:-run}.log" status=0 held fell
    say "" "Tests/Hosts/$1.sh ${*:2} ..."
    "${calm[@]}" bash "$root/Tests/Hosts/$1.sh" "${@:2}" 2>&1 | tee "$log" || status=$?
    held="$(grep -c '^ok ' "$log" || true)" fell="$(grep -c '^FAILED ' "$log" || true)"
    passed=$((passed + held))
    failed=$((failed + fell))
    # One that broke off has no line for it.
    if ((fell == 0 && (status != 0 || held == 0))); then
        count_failure "Tests/Hosts/$1.sh ended with $status after $held steps."
    fi
}

finish() {
    say "" "$passed passed, $failed failed"
    ((failed == 0 && passed > 0)) && exit 0
    exit 1
}

long=no bench=no
for argument in "$@"; do
    case "$argument" in
        --long) long=yes ;;
        --bench) bench=yes ;;
        -h | --help) usage; exit 0 ;;
        *) complain "test.sh does not know $argument."; usage >&2; exit 2 ;;
    esac
done

calm=()
ensure_packages "${build_packages[@]}" "${test_packages[@]}"
python=()
found="$(choose_python)"
[[ -n "$found" ]] && python=("-DPython3_EXECUTABLE=$found")

if [[ "$bench" == yes ]]; then
    [[ -f "$root/Tests/Bench/run.sh" ]] || { complain "There are no benchmarks: Tests/Bench/run.sh is not there."; exit 1; }
    configure release -DPLUMBLINE_TESTS=ON -DPLUMBLINE_BENCH=ON "${python[@]}"
    build "$root/build"
    exec bash "$root/Tests/Bench/run.sh"
fi

if ! configure release -DPLUMBLINE_TESTS=ON "${python[@]}" || ! build "$root/build"; then
    count_failure "The build failed, so no test ran."
    finish
fi
if [[ "$long" == no ]]; then
    run_tests "$root/build" "Running the tests (./test.sh --long runs more) ..." -LE '^long$'
    finish
fi

run_tests "$root/build" "Running all tests, the long ones too ..."
say "" "== Real hosts"
ensure_packages "${host_packages[@]}"
run_in_hosts journey vst3
run_in_hosts journey lv2
run_in_hosts standalone
run_in_hosts window
export UBSAN_OPTIONS="${UBSAN_OPTIONS:-halt_on_error=1:print_stacktrace=1}"
run_sanitized asan "Addresses and undefined behaviour"
# ThreadSanitizer of GCC 12 cannot run where the kernel spreads addresses widely; this asks it not to, if allowed.
if setarch "$(uname -m)" -R true 2>/dev/null; then calm=(setarch "$(uname -m)" -R); fi
run_sanitized tsan "Threads"
finish
