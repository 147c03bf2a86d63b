#!/usr/bin/env bash
# A built bundle in Ardour, without a screen, in a home of its own.
#
# usage: ardour.sh ACTION BUNDLE(.vst3|.lv2) SESSION_FOLDER [key=value ...]
#        ACTION and key=value are those of ardour.lua; for `new` the session's folder must not exist
# Exit status: the host's; 124 if it had to be ended after LIMIT seconds (120).
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
ardour_tools="${ARDOUR_TOOLS:-/usr/lib/ardour7}"

action="$1" bundle="$(realpath "$2")" session="$(realpath -m "$3")"
shift 3
export HOME="$session.home"
mkdir -p "$HOME/.vst3" "$HOME/.lv2" "$HOME/.config/ardour7/export"
export LV2_PATH="$HOME/.lv2:/usr/lib/lv2"

case "$bundle" in
    *.vst3)
        type=VST3
        ln -sfn "$bundle" "$HOME/.vst3/$(basename "$bundle")"
        # The host's cache goes by the time of the file: after every build it must look again.
        found="$(LD_LIBRARY_PATH="$ardour_tools" "$ardour_tools/ardour-vst3-scanner" -v -f \
            "$HOME/.vst3/$(basename "$bundle")" 2>&1)" || { echo "$found" >&2; exit 1; }
        id="$(grep -o 'VST3Info uid="[^"]*"' <<<"$found" | cut -d'"' -f2)"
        ;;
    *.lv2)
        type=LV2
        ln -sfn "$bundle" "$HOME/.lv2/$(basename "$bundle")"
        id="$(LV2_PATH="$HOME/.lv2" lv2ls | head -n 1)"
        ;;
    *)
        echo "ardour.sh needs a bundle that ends in .vst3 or .lv2, not $bundle." >&2
        exit 2
        ;;
esac

# WAV, 32-bit float, the session's rate; the format is one that the host brings.
preset=0d1c6a5e-51a0-4e6f-9d5b-8a3f0c7e2b11
cat >"$HOME/.config/ardour7/export/float.preset" <<PRESET
<?xml version="1.0" encoding="UTF-8"?>
<ExportPreset id="$preset" name="float">
  <ExportFormat id="20b4ab09-6452-4cb3-bd66-b921cdbd2942"/>
  <ExportFilename>
    <Folder relative="1" path="export"/>
    <Field name="timespan" enabled="1"/>
  </ExportFilename>
</ExportPreset>
PRESET

exec timeout -k 5 "${LIMIT:-120}" ardour7-lua "$here/ardour.lua" "$action" "$session" \
    "type=$type" "id=$id" "preset=$preset" "$@"
