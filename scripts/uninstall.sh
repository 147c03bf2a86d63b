#!/usr/bin/env bash
# Removes what `cmake --install` put there: exactly the files it listed, and the folders it made, if they are empty.
#
# usage: scripts/uninstall.sh [BUILD_FOLDER]     (build/, unless told otherwise)
# The last installation made from that folder is removed. Your trials and settings stay.
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"

case "${1:-}" in
    -h | --help)
        sed -n '2,5s/^# \{0,1\}//p' "${BASH_SOURCE[0]}"
        exit 0
        ;;
esac
build="${1:-$root/build}"
files="$build/install_manifest.txt" folders="$build/install_folders.txt"
if [[ ! -f "$files" ]]; then
    echo "Nothing was installed from $build: there is no install_manifest.txt. Name the build folder it came from." >&2
    exit 1
fi

removed=0 kept=0
while IFS= read -r file || [[ -n "$file" ]]; do
    file="${DESTDIR:-}$file"
    if [[ ! -e "$file" && ! -L "$file" ]]; then
        continue
    elif rm -f -- "$file" 2>/dev/null; then
        removed=$((removed + 1))
    else
        echo "$file could not be removed. Try again with the rights that installed it." >&2
        kept=$((kept + 1))
    fi
done <"$files"

if [[ -f "$folders" ]]; then
    # The deepest first; one that holds something of somebody else stays.
    sort -ru "$folders" | while IFS= read -r folder; do
        rmdir -- "${DESTDIR:-}$folder" 2>/dev/null || true
    done
fi

echo "$removed files removed."
((kept == 0)) || exit 1
rm -f -- "$files" "$folders"
