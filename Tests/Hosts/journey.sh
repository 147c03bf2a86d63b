#!/usr/bin/env bash
# The whole journey in a real DAW, without a screen: Ardour with its dummy engine, whose loopback closes
# playback -> capture -> side-chain. See usage().
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
# shellcheck source=scripts/common.sh
source "$here/../../scripts/common.sh"
# shellcheck source=Tests/Hosts/steps.sh
source "$here/steps.sh"

usage() {
    cat <<'TEXT'
journey.sh vst3|lv2 [BUNDLE]

Prints "ok ..." or "FAILED ..." for each step; exit status 0 only if every step held. Without BUNDLE: the VST3 of
build/, and for LV2 one built in build-hooks/ that can start the armed take by itself (this host shows no parameters
of an LV2 plugin).

  SPEED="10x Speed"  how fast the dummy engine's time runs
  KEEP=FOLDER        keeps sessions, takes and what the host said there
TEXT
}

format="${1:-}"
case "$format" in
    vst3 | lv2) ;;
    *) usage >&2; exit 2 ;;
esac
speed="${SPEED:-10x Speed}" block=256 rate=48000
python="$(choose_python)"

find_bundle() {
    local found
    if [[ "$format" == lv2 ]]; then
        build_with_hooks >"$work/build.log" 2>&1 || { tail -n 20 "$work/build.log" >&2; return 1; }
        found=("$root"/build-hooks/PlumblinePlugin_artefacts/*/LV2/Plumbline.lv2)
    else
        found=("$root"/build/PlumblinePlugin_artefacts/*/VST3/Plumbline.vst3)
    fi
    [[ -d "${found[0]}" ]] || { complain "There is no $format build: ${found[0]}"; return 1; }
    echo "${found[0]}"
}

build_with_hooks() {
    local folder="$root/build-hooks"
    [[ -f "$folder/build.ninja" ]] ||
        cmake -S "$root" -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=Release -DPLUMBLINE_TESTS=OFF \
            -DPLUMBLINE_TEST_HOOKS=ON
    cmake --build "$folder" -j "$jobs" --target PlumblinePlugin_LV2
}

# A settings folder of its own: the cautions were read, and the host may start a take.
write_settings() {
    export PLUMBLINE_SETTINGS="$work/settings"
    mkdir -p "$PLUMBLINE_SETTINGS" "$trials"
    cat >"$PLUMBLINE_SETTINGS/settings.json" <<JSON
{"schema": "plumbline/settings/1", "careReadAt": "2026-01-01T12:00:00+00:00", "hostMayStart": true,
 "trialsFolder": "$trials"}
JSON
}

# What starts the take in this format; for the LV2 hook, after how many seconds of audio (the dummy engine's time
# runs fast, and the wires must be there by then), and in the render.
start=start=automation hook_seconds=20 render_hook_seconds=2
[[ "$format" == lv2 ]] && start=start=hook

# host LOG ACTION BUNDLE SESSION key=value ...
host() {
    local log="$work/$1.log" status=0 hook=(env -u PLUMBLINE_TEST_START_AFTER)
    shift
    [[ "$format" == lv2 && " $* " != *" start=none "* ]] && hook=(env "PLUMBLINE_TEST_START_AFTER=$hook_seconds")
    "${hook[@]}" "$here/ardour.sh" "$@" "trials=$trials" >"$log" 2>&1 || status=$?
    # A render is judged by its file: this host often aborts while it puts the export away.
    [[ "$1" == render ]] && grep -q '^RENDERED true' "$log" && return 0
    ((status == 0)) || { tail -n 15 "$log"; return 1; }
}

said() { sed -n "s/^$2 //p" "$work/$1.log" | tail -n 1; }

# The stimulus was really played on the bus, at its level and not above it.
heard_at_level() {
    local heard
    heard="$(said "$1" HEARD)"
    awk -v heard="$heard" 'BEGIN {
        n = split(heard, dB, " ")
        for (i = 1; i <= n; ++i) if (dB[i] < -40.1 || dB[i] > -39.9) bad = 1
        exit !(n == 2 && !bad) }' || { echo "the bus peaked at $heard dBFS"; return 1; }
}

# Counted on the disk: the host may have died before it could say anything.
takes_are() {
    local count
    count="$(find "$trials" -path '*/takes/*/analysis.json' | wc -l)"
    ((count == $1)) || { echo "there are $count takes on disk, not $1"; return 1; }
}

first_take() {
    host first new "$bundle" "$work/session" "$start" hears=microphone takes=1 "speed=$speed" &&
        takes_are 1 && heard_at_level first
}

first_take_is_exact() {
    "$python" "$here/check_take.py" "$trials" --takes 1 --lag "$block" --rate "$rate"
}

saved_session_names_trial() {
    "$python" "$here/check_state.py" "$work/session" "$trials"
}

second_take() {
    host second again "$bundle" "$work/session" "$start" hears=loopback takes=2 "speed=$speed" &&
        takes_are 2 && heard_at_level second
}

second_take_is_exact() {
    "$python" "$here/check_take.py" "$trials" --takes 2 --lag "$block" --rate "$rate" --loopback
}

render_keeps_the_mix() {
    # The mix is a sine of -18 dBFS; its peak, 10^(-18/20), must stay what it was in every moment.
    local lane=() hook_seconds="$render_hook_seconds"
    [[ "$format" == vst3 ]] && lane=("lane=drawn")
    host mix new "$bundle" "$work/mix" start=none hears=microphone source=SinGen "speed=Normal Speed" "${lane[@]}" ||
        return 1
    host render render "$bundle" "$work/mix" "speed=Normal Speed" && takes_are 2 &&
        "$python" "$here/check_render.py" "$work/mix/export/render.wav" 0.125893
}

# The host's start fell within the render, or the step before said nothing.
start_fell_within_render() {
    awk -v before="$(said render BEFORE)" -v rate="$rate" -v seconds="$render_hook_seconds" 'BEGIN {
        split(before, s, " "); hook = seconds * rate
        exit !(s[1] < hook && hook < s[2] + 2 * rate) }' ||
        { echo "the plugin had run $(said render BEFORE) samples before the render"; return 1; }
}

# The same session, played and not rendered: there is a lane in it, and it does start a take.
played_lane_starts_a_take() {
    host played again "$bundle" "$work/mix" "$start" hears=microphone takes=3 "speed=$speed" && takes_are 3
}

# no_take LOG BUNDLE HEARS: the stimulus plays, nothing comes back, and no take is made of it.
no_take() {
    local name="$1" of="$2" hears="$3" limit
    limit="$(awk -v w="$(said first WAITED)" 'BEGIN { print 3 * w + 3 }')"
    host "$name" new "$of" "$work/$name" "$start" "hears=$hears" takes=9 "limit=$limit" "speed=$speed" &&
        takes_are "$takes" && heard_at_level "$name"
}

without_mark() {
    mkdir -p "$work/copy"
    cp -r "$bundle" "$work/copy/"
    local file
    file="$work/copy/$(basename "$bundle")/dsp.ttl"
    sed -i '/lv2:isSideChain/d; /pg:sideChainOf/d' "$file"
    ! grep -qi 'sidechain' "$file"
}

work="${KEEP:-$(mktemp -d)}"
mkdir -p "$work"
[[ -n "${KEEP:-}" ]] || trap 'rm -rf "$work"' EXIT
trials="$work/trials"
ensure_packages "${host_packages[@]}"
write_settings
bundle="${2:-$(find_bundle)}" || { echo "FAILED there is a $format build to try"; exit 1; }

step "inserted in a new session; the host starts a take, heard at -40 dBFS and no louder" first_take
step "the take is the stimulus one block late, the curve flat, the travel time one block" first_take_is_exact
step "the saved session names the trial" saved_session_names_trial
step "session saved and loaded again; a second take, now with the loopback, in the same trial" second_take
step "with the loopback the travel time is nothing, the curve flat" second_take_is_exact
step "a render holds the mix untouched, and no take begins in it" render_keeps_the_mix
takes=2
if [[ "$format" == lv2 ]]; then
    step "the start fell within the render" start_fell_within_render
else
    step "the lane that the render went through starts a take when it is played" played_lane_starts_a_take
    takes=3
fi
step "with a muted input the stimulus plays and no take is made" no_take muted "$bundle" muted
if [[ "$format" == lv2 ]]; then
    step "a copy whose Return is not marked as side-chain is made" without_mark
    step "without the mark the stimulus plays and no take is made" \
        no_take unmarked "$work/copy/$(basename "$bundle")" loopback
fi
finish_steps
