# Shared by demo.sh and test.sh: what is missing, install, configure, build. Bash; sourced, not run.
# shellcheck shell=bash

set -euo pipefail

root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
jobs="${PLUMBLINE_JOBS:-$(nproc 2>/dev/null || getconf _NPROCESSORS_ONLN 2>/dev/null || echo 2)}"

# Debian package, and what it is for. (Used by the scripts that source this one.)
# shellcheck disable=SC2034
build_packages=(
    "g++|the C++20 compiler"
    "cmake|configures the build"
    "ninja-build|runs the build"
    "pkg-config|finds the libraries"
    "ccache|keeps compiled files, so that the next build is quick"
    "juce-modules-source|JUCE: audio files and plugin formats"
    "libfftw3-dev|FFTW: Fourier transforms"
    "nlohmann-json3-dev|JSON files"
    "libcli11-dev|the command line of the console program"
    "libjack-jackd2-dev|JACK, as one way to the audio device of the application"
    "python3|marks the side-chain of the LV2 plugin"
)
# shellcheck disable=SC2034
test_packages=(
    "catch2|runs the tests"
    "librapidcheck-dev|makes up random cases for the tests"
    "python3|runs the tests from outside"
    "python3-numpy|the independent figures that the tests compare with"
    "python3-scipy|the independent figures that the tests compare with"
    "python3-jsonschema|checks the files written against their schemas"
    "locales|a language with a decimal comma, to see that no file changes with it"
    "jconvolver-config-files|holds a measured street response, used by one test"
)

# shellcheck disable=SC2034
host_packages=(
    "ardour|the DAW in which the plugin is tried"
    "jackd2|the audio server under which our own application is tried"
    "lilv-utils|lists the LV2 plugins that a host finds"
    "xvfb|a screen that nobody sees"
    "openbox|the windows on it"
    "xdotool|the mouse on it"
    "x11-utils|tells when its windows can be opened"
    "imagemagick|pictures of it"
)

# Each argument is a line.
say() { printf '%s\n' "$@"; }
complain() { printf '%s\n' "$@" >&2; }

# Prints those of "package|reason" that are not installed. One call of dpkg-query for all.
missing_packages() {
    local entry installed
    installed="$(dpkg-query -W -f='${db:Status-Status} ${Package}\n' "${@%%|*}" 2>/dev/null || true)"
    for entry in "$@"; do
        grep -qxF "installed ${entry%%|*}" <<<"$installed" || printf '%s\n' "$entry"
    done
}

# Names what is missing and why, and installs it where that is possible. Never fails: what cannot be had is said here,
# and the step that needs it says so again.
ensure_packages() {
    if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
        name_the_needs "$@"
        return 0
    fi
    local missing entry
    mapfile -t missing < <(missing_packages "$@")
    ((${#missing[@]} > 0)) || return 0
    say "These Debian packages are missing:"
    for entry in "${missing[@]}"; do
        printf '  %-26s %s\n' "${entry%%|*}" "${entry#*|}"
    done
    install_packages "${missing[@]%%|*}" || complain "Going on without them; what needs them will say so."
}

# On systems without apt-get. Speaks only until the first build folder is configured.
name_the_needs() {
    [[ -f "$root/build/build.ninja" ]] && return 0
    local entry
    say "There is no apt-get here, so nothing is installed for you. What is needed, by its Debian name:"
    for entry in "$@"; do
        printf '  %-26s %s\n' "${entry%%|*}" "${entry#*|}"
    done
    say "If CMake does not find one of them, say where it is in the environment: CMAKE_PREFIX_PATH=..., JUCE_DIR=..."
}

install_packages() {
    local as_root=()
    if [[ "$(id -u)" -ne 0 ]]; then
        if ! command -v sudo >/dev/null; then
            complain "Installing needs root, and there is no sudo here. As root: apt-get install --no-install-recommends $*"
            return 1
        fi
        say "Installing them needs root: sudo may ask for your password."
        as_root=(sudo)
    fi
    local log
    log="$(mktemp)"
    local get=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300)
    say "Installing with apt-get (this can take some minutes) ..."
    # A package list that is absent or out of date shows itself by a failure: only then is it fetched.
    if "${get[@]}" install -y --no-install-recommends "$@" >"$log" 2>&1 </dev/null ||
        { say "Fetching the list of packages ..." &&
            "${get[@]}" update >"$log" 2>&1 </dev/null &&
            "${get[@]}" install -y --no-install-recommends "$@" >"$log" 2>&1 </dev/null; }; then
        rm -f "$log"
        say "Installed."
        return 0
    fi
    complain "apt-get could not install them. Its last lines:"
    tail -n 5 "$log" | sed 's/^/  /' >&2
    rm -f "$log"
    return 1
}

# The first Python that has what the tests import; Debian's own, if another stands before it in PATH.
choose_python() {
    local candidate
    for candidate in "${PYTHON:-}" python3 /usr/bin/python3; do
        if [[ -n "$candidate" ]] && command -v "$candidate" >/dev/null && "$candidate" -c '
import importlib.util, sys
sys.exit(not all(importlib.util.find_spec(name) for name in ("numpy", "scipy", "jsonschema")))' 2>/dev/null; then
            command -v "$candidate"
            return 0
        fi
    done
    command -v python3 || true
}

# cached FOLDER NAME: the value that CMake remembers, or nothing.
cached() {
    [[ -f "$1/CMakeCache.txt" ]] || return 0
    sed -n "s/^$2:[A-Z]*=//p" "$1/CMakeCache.txt"
}

# True if every -DNAME=VALUE is what the folder already remembers.
configured_as() {
    local folder="$1" definition name
    shift
    [[ -f "$folder/build.ninja" ]] || return 1
    for definition in "$@"; do
        name="${definition#-D}"
        [[ "$(cached "$folder" "${name%%=*}")" == "${definition#*=}" ]] || return 1
    done
}

# configure PRESET [-DNAME=VALUE ...]: sets up its build folder, unless it is set up that way already (Ninja itself
# configures again when a CMake file has changed).
configure() {
    local preset="$1" folder log
    shift
    folder="$(folder_of "$preset")"
    log="$folder/configure.log"
    if [[ -f "$folder/CMakeCache.txt" &&
        "$(cached "$folder" CMAKE_HOME_DIRECTORY) $(cached "$folder" CMAKE_GENERATOR)" != "$root Ninja" ]]; then
        say "$(basename "$folder")/ was set up for another place or not for Ninja; setting it up anew."
        rm -rf "$folder/CMakeCache.txt" "$folder/CMakeFiles" "$folder/build.ninja"
    fi
    configured_as "$folder" "$@" && return 0
    if ! command -v cmake >/dev/null || ! command -v ninja >/dev/null; then
        complain "cmake and ninja are needed and not both here."
        return 1
    fi
    say "Configuring $(basename "$folder")/ ..."
    mkdir -p "$folder"
    if ! (cd "$root" && cmake --preset "$preset" ${JUCE_DIR:+-DJUCE_DIR="$JUCE_DIR"} "$@") >"$log" 2>&1; then
        complain "CMake could not configure the build. Its words (all of them: $log):"
        { grep -A 12 'CMake Error' "$log" || tail -n 20 "$log"; } | head -n 40 >&2
        return 1
    fi
}

folder_of() {
    if [[ "$1" == release ]]; then echo "$root/build"; else echo "$root/build-$1"; fi
}

# build FOLDER [TARGET]: on a terminal Ninja's own line of progress; otherwise a line at each tenth of the way and all
# that is not progress, with the whole in FOLDER/build.log.
build() {
    local folder="$1" what=() status=0 started=$SECONDS
    [[ $# -gt 1 ]] && what=(--target "$2")
    say "Building in $(basename "$folder")/ with $jobs at a time ..."
    if [[ -t 1 ]]; then
        NINJA_STATUS='[%f/%t] ' cmake --build "$folder" -j "$jobs" "${what[@]}" || status=$?
    else
        { NINJA_STATUS='[%f/%t] ' cmake --build "$folder" -j "$jobs" "${what[@]}" 2>&1 || echo "build-status $?"; } |
            tee "$folder/build.log" | build_progress || status=$?
    fi
    if ((status != 0)); then
        complain "The build failed."
        return 1
    fi
    say "Built in $((SECONDS - started)) s."
}

# Exits 1 if the build it listens to failed.
build_progress() {
    awk '
        /^build-status / { failed = 1; next }
        /^ninja: no work to do/ { next }
        match($0, /^\[[0-9]+\/[0-9]+\] /) {
            split(substr($0, 2, RLENGTH - 3), part, "/")
            tenth = int(10 * part[1] / part[2])
            if (tenth > shown || part[2] != total) { print "  " part[1] " of " part[2]; fflush() }
            shown = tenth; total = part[2]
            next
        }
        { print; fflush() }
        END { exit failed }'
}
