#!/usr/bin/env bash
# Type-checks the shell for a phone without the phone's kit: `phone.sh aarch64-linux-android`.
#
# No toolchain with the phone's standard library is at hand, so a second compiler with its library's source is
# unpacked (not installed: it would fight the first) and builds that library on the way. C is not compiled: a
# stand-in writes empty files where a C compiler would write objects. So this proves that all Rust compiles
# for the phone, and nothing about C, linking, Kotlin or the manifest.
set -euo pipefail
# shellcheck source=setup.sh
. "$(dirname "${BASH_SOURCE[0]}")/setup.sh"
target=$1
cache="$repo/.cache/phone"
root="$cache/root"
packages=(rustc-web rust-web-src libstd-rust-web-dev libstd-rust-web-1.96 libllvm22)

if [ ! -f "$root/.unpacked" ]; then
    command -v apt-get >/dev/null || give_up "the phone check unpacks Debian packages (${packages[*]}); run it on Debian."
    rm -rf "$cache"
    mkdir -p "$cache/debs" "$root"
    if ! (cd "$cache/debs" && apt-get download -qq "${packages[@]}"); then
        as_root apt-get update -qq
        (cd "$cache/debs" && apt-get download -qq "${packages[@]}")
    fi
    for package in "$cache"/debs/*.deb; do dpkg -x "$package" "$root"; done
    rm -r "$cache/debs"
    touch "$root/.unpacked"
fi

# The stand-in for the C compiler and archiver: an empty file for every `-o` or archive, and all is well.
standin="$cache/standin"
cat >"$standin" <<'SCRIPT'
#!/bin/sh
while [ $# -gt 0 ]; do
    case $1 in
    -o) shift; : >"$1" ;;
    *.a) : >"$1" ;;
    esac
    shift
done
SCRIPT
chmod +x "$standin"

name=${target//-/_}
export "CC_$name=$standin" "CXX_$name=$standin" "AR_$name=$standin" "RANLIB_$name=$standin"
export LD_LIBRARY_PATH="$root/usr/lib/x86_64-linux-gnu"
export RUSTC="$root/usr/bin/rustc" RUSTC_BOOTSTRAP=1
cargo=$(rustup which cargo 2>/dev/null || command -v cargo)
cd "$repo"
# Nothing built here is run but build scripts and macros, so nothing is worth optimising or debugging.
"$cargo" check --locked -Zbuild-std=std,panic_abort --target "$target" --target-dir target/phone \
    --config 'profile.dev.package."*".opt-level=0' --config profile.dev.debug=0 \
    --package headmark --lib --features custom-protocol
