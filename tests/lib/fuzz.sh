#!/usr/bin/env bash
# Fuzzes targets of tests/fuzz: `tests/lib/fuzz.sh SECONDS together|in-turn [TARGET...]`; without a target, all of them.
set -euo pipefail
# shellcheck source=setup.sh
. "$(dirname "${BASH_SOURCE[0]}")/setup.sh"
cd "$repo"
seconds=$1 how=$2
shift 2
# Named in the result: a part of the targets is not all of them.
which=${*:+ ($*, at once)}
need_rust_tool cargo-fuzz "$cargo_fuzz_needed"
fuzz="$repo/tests/fuzz"
# The fuzzer's flags belong to the next compiler; this one has them too, when asked so.
export RUSTC_BOOTSTRAP=1
cargo fmt --manifest-path "$fuzz/Cargo.toml" --check
features=()
if [ $# = 0 ]; then
    mapfile -t targets < <(cargo fuzz list --fuzz-dir "$fuzz")
    cargo fuzz build --fuzz-dir "$fuzz"
else
    targets=("$@")
    case " $* " in
    *' photo '* | *' pixels '*) ;;
    *) features=(--no-default-features) ;;
    esac
    for target in "${targets[@]}"; do cargo fuzz build --fuzz-dir "$fuzz" "${features[@]}" "$target"; done
fi
mkdir -p "$repo/tests/out"

# What is found on the way is kept beside what was built: it helps the next run and belongs to no one else.
one() {
    local target=$1 log="$repo/tests/out/fuzz-$1.txt" status=0
    mkdir -p "$fuzz/target/found/$target"
    cargo fuzz run --fuzz-dir "$fuzz" "${features[@]}" "$target" "$fuzz/target/found/$target" "$fuzz/seeds/$target" -- \
        -max_total_time="$seconds" -timeout=20 -rss_limit_mb=4096 -print_final_stats=1 >"$log" 2>&1 || status=$?
    printf '== %s, %s s\n%s\n' "$target" "$seconds" "$(tail -n 12 "$log")"
    return "$status"
}

found=()
if [ "$how" = together ]; then
    jobs=()
    for target in "${targets[@]}"; do
        one "$target" &
        jobs+=($!)
    done
    for at in "${!targets[@]}"; do wait "${jobs[$at]}" || found+=("${targets[$at]}"); done
else
    for target in "${targets[@]}"; do one "$target" || found+=("$target"); done
fi
rounds=0
for target in "${targets[@]}"; do
    log="$repo/tests/out/fuzz-$target.txt"
    rounds=$((rounds + $(sed -n 's/^stat::number_of_executed_units: *//p' "$log" | tail -n 1 | grep . || echo 0)))
done
echo "result: ${#targets[@]} targets$which, $seconds s each, $rounds inputs in all, findings: ${found[*]:-none}"
[ ${#found[@]} = 0 ]
