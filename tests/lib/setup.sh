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
# All is built by these words, whatever part of it is asked for: other words would unite other features, and everything
# below them would be built again.
export house='--locked --workspace --features headmark/custom-protocol'

# A C compiler for the bundled SQLite, the webview toolkit and its driver, a display that needs no screen, a
# browser for the pages' own checks with letters to show, Python and a reader of codes for the checks made outside the
# project, the database that a large hub keeps its records in, and the Java in which a phone's key store is stood in for.
debian_packages=(
    build-essential pkg-config curl ca-certificates
    libwebkit2gtk-4.1-dev librsvg2-dev webkit2gtk-driver
    xvfb xauth chromium fonts-dejavu-core
    python3 python3-venv libzbar0
    postgresql
    default-jdk-headless
)
rust_needed=1.90
node_needed=20.19
tauri_driver_needed=2
cargo_deny_needed=0.20
cargo_fuzz_needed=0.13

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
at_least() { printf '%s\n%s\n' "$2" "$1" | sort --version-sort --check=silent; }

need_packages() {
    if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
        say "setup: this is not a Debian-like machine. Install what stands for these packages, then run again:"
        say "  ${debian_packages[*]}"
        local tool
        for tool in cc pkg-config WebKitWebDriver Xvfb xvfb-run chromium python3 psql javac; do
            command -v "$tool" >/dev/null || give_up "$tool is not there."
        done
        pkg-config --exists webkit2gtk-4.1 librsvg-2.0 || give_up "pkg-config does not know webkit2gtk-4.1 and librsvg-2.0."
        say "setup: all of them seem to be there; going on."
        return
    fi
    local package missing=()
    for package in "${debian_packages[@]}"; do
        [[ $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) == *'ok installed' ]] || missing+=("$package")
    done
    [ ${#missing[@]} = 0 ] && return
    say "setup: installing ${missing[*]}"
    as_root apt-get update -qq
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}"
}

# shellcheck source=toolchains.sh
. "$repo/tests/lib/toolchains.sh"

# Is a Rust tool installed, of the version that begins with $2 if one is named?
has_rust_tool() { [[ $'\n'$(cargo install --list) == *$'\n'"$1 v${2:+$2.}"* ]]; }
export -f has_rust_tool

# Unoptimised: these two are started a few times, and optimising them costs a cold run more than they ever save.
need_rust_tool() {
    local name=$1 needed=$2
    has_rust_tool "$name" "$needed" && return
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
