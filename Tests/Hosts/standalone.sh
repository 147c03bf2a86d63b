#!/usr/bin/env bash
# Our own application under JACK's dummy server, on a virtual screen: a take by mouse. See usage().
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
# shellcheck source=scripts/common.sh
source "$here/../../scripts/common.sh"
# shellcheck source=Tests/Hosts/steps.sh
source "$here/steps.sh"

usage() {
    cat <<'TEXT'
standalone.sh [PROGRAM]

Prints "ok ..." or "FAILED ..." for each step; exit status 0 only if every step held.

  SHOTS=FOLDER  keeps pictures of the window there
  CAPTURE=X,Y   where the stage Capture is in the window, START=X,Y where its Start is; px of the unscaled window
  KEEP=FOLDER   keeps settings, takes and what the programs said there
TEXT
}

[[ "${1:-}" == -h || "${1:-}" == --help ]] && { usage; exit 0; }
capture_at="${CAPTURE:-395,25}" start_at="${START:-700,200}"
rate=48000 block=256
python="$(choose_python)"
work="${KEEP:-$(mktemp -d)}"
mkdir -p "$work"
trials="$work/trials"
cleanup() {
    end_started
    [[ -n "${KEEP:-}" ]] || rm -rf "$work"
}
trap cleanup EXIT
export JACK_DEFAULT_SERVER="plumbline-$$" JACK_NO_AUDIO_RESERVATION=1 JACK_NO_START_SERVER=1

start_jack() {
    jackd --no-realtime -n "$JACK_DEFAULT_SERVER" -d dummy -r "$rate" -p "$block" >"$work/jackd.log" 2>&1 &
    started+=($!)
    eventually 100 jack_lsp || { complain "The JACK server did not start:"; cat "$work/jackd.log" >&2; exit 1; }
}

start_screen() {
    Xvfb -displayfd 8 -screen 0 1920x1200x24 -nolisten tcp 8>"$work/display" >/dev/null 2>&1 &
    started+=($!)
    eventually 100 test -s "$work/display" || { complain "The virtual screen did not start."; exit 1; }
    DISPLAY=":$(cat "$work/display")"
    export DISPLAY
    # Without a window manager JUCE meets X11 atoms that nobody made.
    openbox >/dev/null 2>&1 &
    started+=($!)
    eventually 100 window_manager_runs || { complain "The window manager did not start."; exit 1; }
}

window_manager_runs() { xprop -root _NET_SUPPORTING_WM_CHECK | grep -q 'window id'; }

# As after a session in which the cautions were read and a stance was chosen.
write_settings() {
    export PLUMBLINE_SETTINGS="$1"
    mkdir -p "$1" "$trials"
    cat >"$1/settings.json" <<JSON
{"schema": "plumbline/settings/1", "careReadAt": "2026-01-01T12:00:00+00:00", "trialsFolder": "$trials"}
JSON
    local state='{"schema": "plumbline/host-state/1", "hereNow": "Heron 6, upright", "hereSetUp": 1}'
    cat >"$1/standalone.json" <<JSON
{"schema": "plumbline/standalone/1", "processorState": "$(base64 -w 0 <<<"$state")"}
JSON
}

# Ports of the application: jack_ports output|input.
jack_ports() {
    jack_lsp -pt | awk -v way="properties: $1" '
        /^[^ \t]/ { name = $0 }
        index($0, way) { right[name] = 1 }
        /audio/ { if (right[name] && name !~ /^system:/) print name }'
}

has_ports() { (($(jack_ports output | wc -l) >= 2 && $(jack_ports input | wc -l) >= 1)); }

application=""
start_application() {
    HOME="$work/home" "$program" >"$work/$1.log" 2>&1 &
    application=$!
    started+=("$application")
    eventually 150 has_ports || { complain "The application opened no ports:"; cat "$work/$1.log" >&2; return 1; }
    eventually 150 find_window || { complain "The application opened no window."; return 1; }
}

window=""
# Asked before each click: while it opens, a window may be made anew under another number.
find_window() {
    window="$(xdotool search --onlyvisible --name '^Plumbline$' | tail -n 1)"
    [[ -n "$window" ]] && xwininfo -id "$window" | grep -q 'Map State: IsViewable'
}

# closed: both outputs to both inputs, as if microphone and loopback heard both sides; open: to inputs that are silent.
patch() {
    local out in ins outs
    mapfile -t outs < <(jack_ports output)
    mapfile -t ins < <(jack_ports input)
    for in in "${ins[@]}"; do
        jack_lsp -c "$in" | awk 'NR > 1 { print $1 }' | while read -r out; do jack_disconnect "$out" "$in"; done
    done
    [[ "$1" == closed ]] || outs=(system:capture_1)
    for in in "${ins[@]:0:2}"; do
        for out in "${outs[@]:0:2}"; do jack_connect "$out" "$in"; done
    done
    sleep 1 # each wire makes the application prepare anew
}

shot() {
    [[ -n "${SHOTS:-}" ]] || return 0
    mkdir -p "$SHOTS"
    import -window root "$SHOTS/$1.png"
}

click() {
    eventually 50 find_window || { echo "the window is gone"; return 1; }
    xdotool mousemove --window "$window" "${1%,*}" "${1#*,}" click 1
    sleep 0.5
}

takes_on_disk() { find "$trials" -mindepth 4 -name analysis.json -path '*/takes/*' | wc -l; }
have_takes() { (($(takes_on_disk) == $1)); }

take_by_mouse() {
    shot opened
    click "$capture_at"
    shot capture
    click "$start_at"
    sleep 3
    shot taking
    eventually 600 have_takes 1 || { shot no-take; echo "no take is on disk"; return 1; }
    sleep 1
    shot taken
}

take_is_exact() {
    "$python" "$here/check_take.py" "$trials" --takes 1 --lag "$block" --rate "$rate" --loopback
}

# end_by SIGNAL: the application ends in an orderly way and keeps its state.
end_by() {
    local status=0
    rm -f "$PLUMBLINE_SETTINGS/standalone.json"
    kill "-$1" "$application"
    eventually 100 is_gone "$application" || { echo "it did not end"; return 1; }
    wait "$application" || status=$?
    ((status == 0)) || { echo "it ended with $status"; return 1; }
    "$python" - "$PLUMBLINE_SETTINGS/standalone.json" "$trials" <<'PYTHON'
import base64, json, sys
kept = json.load(open(sys.argv[1], encoding="utf-8"))
state = base64.b64decode(kept["processorState"]).decode("utf-8")
assert kept["schema"] == "plumbline/standalone/1", kept["schema"]
assert sys.argv[2] in state, "the trial is not in the state that was kept"
PYTHON
}

silent_input_is_refused() {
    click "$capture_at"
    click "$start_at"
    sleep 20
    shot muted
    have_takes 1 || { echo "there are $(takes_on_disk) takes on disk"; return 1; }
}

damaged_settings_are_kept() {
    echo '{"schema": "plumbline/standalone/1", "processor' >"$PLUMBLINE_SETTINGS/standalone.json"
    start_application damaged || return 1
    shot damaged-settings
    end_process "$application" TERM
    grep -q 'put aside' "$work/damaged.log" || { echo "it does not say so:"; cat "$work/damaged.log"; return 1; }
    grep -q '"processor$' "$PLUMBLINE_SETTINGS/standalone-unread.json" &&
        grep -q processorState "$PLUMBLINE_SETTINGS/standalone.json"
}

no_display_is_said() {
    local status=0
    env -u DISPLAY "$program" >"$work/no-display.log" 2>&1 || status=$?
    if ((status != 1)) || ! grep -q 'no display' "$work/no-display.log"; then
        echo "exit $status:"
        cat "$work/no-display.log"
        return 1
    fi
    DISPLAY=:9999 "$program" >"$work/no-display.log" 2>&1 && return 1
    grep -q 'no display' "$work/no-display.log"
}

ensure_packages "${host_packages[@]}"
found=("$root"/build/PlumblineStandalone_artefacts/*/plumbline-standalone)
program="${1:-${found[0]}}"
[[ -x "$program" ]] || { echo "FAILED there is an application to try: $program"; exit 1; }
mkdir -p "$work/home"
write_settings "$work/settings"

step "without a display it says so and ends" no_display_is_said
start_jack
start_screen
start_application first || { echo "FAILED the application starts"; exit 1; }
patch closed
step "its output patched to its Return, a take by mouse" take_by_mouse
step "the take is the stimulus one block late, the curve flat, the travel time nothing" take_is_exact
step "the terminating signal ends it, its state kept" end_by TERM
start_application second || { echo "FAILED the application starts again"; exit 1; }
patch open
step "with a silent input no take is made" silent_input_is_refused
step "a hang-up ends it, its state kept" end_by HUP
step "damaged settings are kept under another name, and said" damaged_settings_are_kept
finish_steps
