#!/usr/bin/env bash
# Runs `demo/run` with a display, waits until the app is open beside the hub that its phone belongs to, closes the app, and
# holds the hub to having ended with it. HEADMARK_DEMO names a folder of its own, which is made anew.
set -euo pipefail
cd "$repo"
rm -rf "$HEADMARK_DEMO"
log=$HEADMARK_DEMO.log
if [ -z "${SHOWN_BENEATH:-}" ]; then
    SHOWN_BENEATH=1 exec xvfb-run -a -s '-screen 0 600x1000x24 -noreset' bash "$0"
fi

demo/run >"$log" 2>&1 &
shown=$!
trap 'kill "$shown" 2>/dev/null || true' EXIT

fail() {
    cat "$log"
    echo "demo: $*" >&2
    exit 1
}

# Says which child of the demonstration runs a program.
child() {
    local process
    for process in $(cat "/proc/$shown/task/$shown/children"); do
        if [ "$(basename "$(readlink "/proc/$process/exe")")" = "$1" ]; then
            echo "$process"
        fi
    done
}

# The demonstration opens the app for a person only when the phone belongs to the hub.
app=
for _ in $(seq 600); do
    kill -0 "$shown" 2>/dev/null || fail "it ended by itself"
    app=$(child headmark)
    [ -z "$app" ] || break
    sleep 0.5
done
[ -n "$app" ] || fail "the app was not opened in five minutes"
hub=$(child headmark-hub)
[ -n "$hub" ] || fail "no hub runs beside it"
status=$("${CARGO_TARGET_DIR:-target}/debug/headmark-hub" --folder "$HEADMARK_DEMO/hub" status)
[[ $status == *'"demo phone"'* ]] || fail "its phone does not belong to the hub: $status"

kill -s TERM "$app"
wait "$shown" && fail "an app that was killed counts as one that was closed"
for _ in $(seq 40); do
    kill -0 "$hub" 2>/dev/null || break
    sleep 0.25
done
kill -0 "$hub" 2>/dev/null && fail "the hub goes on alone"
trap - EXIT
echo "demo: the app was shown beside its hub, and both ended"
