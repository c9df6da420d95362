# Sets a machine up for building, testing and showing Headmark. Sourced by tests/run, tests/long and demo/run.
#
# On Debian and its relatives it installs what is missing; elsewhere it says what to install and stops, because
# a guess at another system's package names would only fail later and less clearly.
# shellcheck shell=bash

repo=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
export repo
# Several invocations share one target folder; incremental units must be named alike in all of them.
export CARGO_INCREMENTAL=1
export PATH="$HOME/.cargo/bin:$PATH"
# What needs the webview toolkit is always built by these words: other words would unite other features, and
# everything below them would be built again.
export app_set='--locked --package headmark --package journeys --package demo --features headmark/custom-protocol'

# A C compiler for the bundled SQLite, the webview toolkit and its driver, a display that needs no screen, a
# browser for the pages' own checks with letters to show, and Python for the checks made outside the project.
debian_packages=(
    build-essential pkg-config curl ca-certificates
    libwebkit2gtk-4.1-dev librsvg2-dev webkit2gtk-driver
    xvfb xauth chromium fonts-dejavu-core
    python3 python3-venv
)
rust_needed=1.90
node_needed=20.19
tauri_driver_needed=2
cargo_deny_needed=0.20

say() { printf '%s\n' "$*"; }

give_up() {
    printf 'setup: %s\n' "$*" >&2
    exit 1
}

as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}
export -f as_root

# Is version $1 at least version $2?
at_least() { [ "$(printf '%s\n%s\n' "$2" "$1" | sort -V | head -n 1)" = "$2" ]; }

need_packages() {
    if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
        say "setup: this is not a Debian-like machine. Install what stands for these packages, then run again:"
        say "  ${debian_packages[*]}"
        local tool
        for tool in cc pkg-config WebKitWebDriver Xvfb xvfb-run chromium python3; do
            command -v "$tool" >/dev/null || give_up "$tool is not there."
        done
        pkg-config --exists webkit2gtk-4.1 librsvg-2.0 || give_up "pkg-config does not know webkit2gtk-4.1 and librsvg-2.0."
        say "setup: all of them seem to be there; going on."
        return
    fi
    local package missing=()
    for package in "${debian_packages[@]}"; do
        dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing+=("$package")
    done
    [ ${#missing[@]} = 0 ] && return
    say "setup: installing ${missing[*]}"
    as_root apt-get update -qq
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}"
}

# shellcheck source=toolchains.sh
. "$repo/tests/lib/toolchains.sh"

# Unoptimised: these two are started a few times, and optimising them costs a cold run more than they ever save.
need_rust_tool() {
    local name=$1 needed=$2
    cargo install --list | grep -q "^$name v$needed\b" && return
    say "setup: installing $name $needed"
    cargo install --quiet --locked --debug --target-dir "$repo/target/tools" --version "^$needed" "$name"
}

need_pages() {
    local stamp="$repo/ui/node_modules/.installed"
    cmp -s "$repo/ui/package-lock.json" "$stamp" && return
    say "setup: installing the pages' packages"
    (cd "$repo/ui" && npm ci --no-audit --no-fund --loglevel=error)
    # npm writes this last, and has been seen to break off before it and yet call it a success.
    [ -f "$repo/ui/node_modules/.package-lock.json" ] || give_up "npm did not install all of the pages' packages."
    cp "$repo/ui/package-lock.json" "$stamp"
}

# The shell embeds the built pages, so that nothing of it compiles before they exist.
need_dist() {
    (cd "$repo/ui" && npm run --silent build)
}
