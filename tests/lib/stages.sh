# Runs stages, times them, and prints the table. Sourced by tests/run.
# shellcheck shell=bash

out="$repo/tests/out"
mkdir -p "$out"
# A journey that hangs must not eat the whole run: each stage ends after this many seconds at the latest.
stage_limit=1500
# A row a stage, in a file, because stages beside each other are shells of their own.
rows="$out/rows"
: >"$rows"
begun=$SECONDS
# What `time` prints: seconds of the processors, in the program and in the system.
TIMEFORMAT='%U %S'

# Adds a row: stage, seconds by the clock and of the processors, result, how many tests its log counts, if it counts any,
# and how many times the log says that something was NOT RUN: this machine cannot do it, and the reason stands there. On a machine that has nothing else to do the clock shows no more than the processors' time.
note() {
    local name=$1 seconds=$2 cpu=$3 result=$4 log=$5 tests
    tests=$(awk '/^test result:/ { passed += $4; failed += $6 } /NOT RUN/ { left++ }
        END { if (passed + failed) printf "%d passed, %d failed  ", passed, failed; if (left) printf "%d NOT RUN", left }' "$log")
    printf '%-14s %8s %8s  %-8s %s\n' "$name" "$seconds" "$cpu" "$result" "$tests" >>"$rows"
}

run_setup() {
    local from=$SECONDS log="$out/setup.log"
    (
        set -e
        need_packages
        need_toolchains
        need_rust_tool tauri-driver "$tauri_driver_needed"
        need_rust_tool cargo-deny "$cargo_deny_needed"
        need_pages
    ) 2>&1 | tee "$log"
    if [ "${PIPESTATUS[0]}" != 0 ]; then
        say "setup failed; nothing was run."
        return 1
    fi
    note setup $((SECONDS - from)) - passed "$log"
}

run_stage() {
    local name=$1 from=$SECONDS log="$out/$1.log" result=passed status=0 cpu
    if [ ! -f "$repo/tests/lib/stages/$name" ]; then
        say "There is no stage '$name'. Stages: $(ls "$repo/tests/lib/stages" | tr '\n' ' ')"
        exit 2
    fi
    say "== $name"
    {
        time timeout --kill-after=20 "$stage_limit" bash "$repo/tests/lib/stages/$name" >"$log" 2>&1 </dev/null
    } 2>"$log.cpu" || status=$?
    cpu=$(awk '{ sum += $1 + $2 } END { printf "%d", sum + 0.5 }' "$log.cpu")
    rm "$log.cpu"
    if [ "$status" != 0 ]; then
        result=FAILED
        tail -n 120 "$log"
        [ "$status" = 124 ] && say "== $name was ended after $stage_limit seconds"
        say "== $name failed; all it printed: tests/out/$name.log"
    fi
    note "$name" $((SECONDS - from)) "$cpu" "$result" "$log"
}

# Runs stages one after the other while the caller goes on; `close` waits for them. For those that use one processor
# or wait for a browser, so that their seconds and the others' overlap.
run_beside() {
    local stage
    for stage in "$@"; do run_stage "$stage"; done &
}

close() {
    wait
    printf '\n%-14s %8s %8s  %-8s %s\n' stage seconds cpu result tests
    cat "$rows"
    printf '%-14s %8s\n\n' all $((SECONDS - begun))
    awk '{ $4 == "passed" ? passed++ : failed++ } END { printf "%d passed, %d failed\n", passed, failed; exit failed > 0 }' "$rows"
}
