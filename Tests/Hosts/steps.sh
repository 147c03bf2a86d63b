# Shared by the scripts of this folder: steps that are counted, and processes that are ended. Bash; sourced, not run.
# shellcheck shell=bash

steps_failed=0
steps_said="$(mktemp)"

# step WORDS COMMAND...: runs it in this shell, says "ok WORDS" or "FAILED WORDS" with what it had to say.
step() {
    local words="$1"
    shift
    if "$@" >"$steps_said" 2>&1; then
        echo "ok $words"
    else
        echo "FAILED $words"
        sed 's/^/    /' "$steps_said"
        steps_failed=$((steps_failed + 1))
    fi
}

finish_steps() {
    rm -f "$steps_said"
    ((steps_failed == 0)) && exit 0
    echo "$steps_failed steps failed"
    exit 1
}

started=()

# Ends what was started here, last first.
end_started() {
    local k
    for ((k = ${#started[@]} - 1; k >= 0; k--)); do
        end_process "${started[k]}"
    done
    started=()
}

# end_process ID [SIGNAL]: asks it to end, and after three seconds does not ask any more.
end_process() {
    kill "-${2:-TERM}" "$1" 2>/dev/null || return 0
    eventually 30 is_gone "$1" || kill -KILL "$1" 2>/dev/null
    wait "$1" 2>/dev/null || true
}

is_gone() { ! kill -0 "$1" 2>/dev/null; }

# eventually TENTHS COMMAND...: true as soon as the command is, false if it is not within that time.
eventually() {
    local tenths="$1"
    shift
    for ((; tenths > 0; tenths--)); do
        "$@" >/dev/null 2>&1 && return 0
        sleep 0.1
    done
    return 1
}
