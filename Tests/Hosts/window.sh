#!/usr/bin/env bash
# The plugin's window in a host, on a virtual screen: VST3 and LV2, at 100 and 200 %, dark and light. SHOTS=FOLDER keeps
# the pictures. One line a step, "ok ..." or "FAILED ..."; exit status 1 if any failed.
set -u
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
root="$(cd "$here/../.." && pwd)"
source "$here/steps.sh"
program="$root/build/Tests/plumbline_show_window"
work="$(mktemp -d)"
shots="${SHOTS:-$work/shots}"
mkdir -p "$shots"
trap 'end_started; rm -rf "$work"' EXIT

Xvfb -displayfd 8 -screen 0 2600x1700x24 -nolisten tcp 8>"$work/display" >/dev/null 2>&1 &
started+=($!)
eventually 100 test -s "$work/display" || { echo "FAILED a virtual screen"; exit 1; }
DISPLAY=":$(cat "$work/display")"
export DISPLAY
openbox >/dev/null 2>&1 &
started+=($!)
manages() { xprop -root _NET_SUPPORTING_WM_CHECK | grep -q 'window id'; }
eventually 100 manages || { echo "FAILED windows on the virtual screen"; exit 1; }

# shown FORMAT PERCENT dark|light [OPENINGS]: the window has its size, and its ground is the palette's.
shown() {
    local format="$1" percent="$2" look="$3" ground="12211C" dark=true size picture
    [[ "$look" == light ]] && ground="F6F1E5" dark=false
    picture="$shots/$format-$percent-$look.png"
    export PLUMBLINE_SETTINGS="$work/$format-$percent-$look"
    mkdir -p "$PLUMBLINE_SETTINGS"
    cat >"$PLUMBLINE_SETTINGS/settings.json" <<JSON
{"schema": "plumbline/settings/1", "careReadAt": "2026-01-01T12:00:00+00:00", "trialsFolder": "$work/trials",
 "appearance": {"dark": $dark, "scalePercent": $percent, "reduceMotion": false}}
JSON
    timeout 60 "$program" "$format" 4 "${@:4}" >"$work/said" 2>&1 &
    local process=$!
    eventually 300 grep -q '^shown' "$work/said" || { echo "no window: $(tail -n 2 "$work/said")"; return 1; }
    sleep 1
    import -window root "$picture"
    wait "$process" || { echo "the host ended with an error: $(tail -n 2 "$work/said")"; return 1; }
    size="$(sed -n 's/^shown //p' "$work/said")"
    [[ "$size" == "$((12 * percent)) x $((76 * percent / 10))" ]] || { echo "the window is $size"; return 1; }
    local share
    share="$(convert "$picture" -crop "$((12 * percent))x$((76 * percent / 10))+8+40" +repage -fill white \
        -opaque "#$ground" -fill black +opaque white -format '%[fx:100*mean]' info:)"
    awk -v share="$share" 'BEGIN { exit !(share > 60) }' || { echo "only $share % of it is the ground's colour"; return 1; }
}

for format in VST3 LV2; do
    step "$format: the window at 100 %, dark" shown "$format" 100 dark
done
step "VST3: the window at 100 %, light" shown VST3 100 light
step "VST3: the window at 200 %, dark" shown VST3 200 dark
step "VST3: the window at 200 %, light, after twenty others were opened and closed" shown VST3 200 light 20
finish_steps
