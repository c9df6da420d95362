# Rust and Node.js: what is missing or too old is installed where that can be done by the machine's own means.
# Sourced by setup.sh. `plan_toolchains` only says what would be done.
#
# An adequate toolchain is never touched. Each plan is one word, so that deciding can be tried without doing:
# a plan is made from what the machine has, then carried out, then what came of it is looked at.
# shellcheck shell=bash

# Node.js for this folder alone, where Debian's own is too old. First in line, because the old one stays.
node_home="$repo/.cache/node"
export PATH="$node_home/node_modules/.bin:$PATH"
# Debian's Node.js trusts whom the machine trusts; one from elsewhere must be told, where a site has a root of its own.
machine_roots=/etc/ssl/certs/ca-certificates.crt
[ -f "$machine_roots" ] && export NODE_EXTRA_CA_CERTS="${NODE_EXTRA_CA_CERTS:-$machine_roots}"

have() { command -v "$1" >/dev/null; }

# The version that the archive would install, without epoch and Debian's own part; nothing when it has none.
archive_version() {
    have apt-cache || return 0
    apt-cache policy "$1" 2>/dev/null | sed -n 's/^  Candidate: \([0-9]*:\)\?\([0-9.]*\).*/\2/p'
}

archive_has() {
    local version
    version=$(archive_version "$1")
    [ -n "$version" ] && at_least "$version" "$2"
}

rust_version() { rustc --version 2>/dev/null | cut -d ' ' -f 2; }
node_version() { node --version 2>/dev/null | tr -d v; }

rust_is_good() {
    have cargo && rustfmt --version >/dev/null 2>&1 && cargo-clippy --version >/dev/null 2>&1 &&
        at_least "$(rust_version)" "$rust_needed"
}

node_is_good() { have npm && at_least "$(node_version)" "$node_needed"; }

# Debian's packages in the order of preference: its ordinary ones, then those it keeps new for browsers.
rust_packages=('rustc cargo rustfmt rust-clippy' 'rustc-web cargo-web rustfmt-web rust-web-clippy')

rust_plan() {
    if rust_is_good; then
        echo keep
    elif have rustup; then
        echo rustup
    elif archive_has rustc "$rust_needed"; then
        echo archive
    elif archive_has rustc-web "$rust_needed"; then
        echo archive-web
    elif archive_has rustup 0; then
        echo archive-rustup
    else
        echo none
    fi
}

node_plan() {
    if node_is_good; then
        echo keep
    elif ! have npm && archive_has nodejs "$node_needed"; then
        echo archive
    elif have npm || archive_has npm 0; then
        echo registry
    else
        echo none
    fi
}

plan_toolchains() {
    say "setup: Rust $rust_needed or newer, found $(rust_version || true): $(rust_plan)"
    say "setup: Node.js $node_needed or newer, found $(node_version || true): $(node_plan)"
}

archive_install() {
    say "setup: installing $*"
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@"
}

rustup_install() {
    say "setup: installing stable Rust with rustup"
    rustup toolchain install stable --profile minimal -c clippy -c rustfmt
    # Whoever chose another default keeps it; what came of that is looked at below.
    rustup default >/dev/null 2>&1 || rustup default stable
}

need_rust() {
    # shellcheck disable=SC2086
    case $(rust_plan) in
    keep) return ;;
    rustup) rustup_install || true ;;
    archive) archive_install ${rust_packages[0]} || true ;;
    archive-web) archive_install ${rust_packages[1]} || true ;;
    archive-rustup) archive_install rustup && rustup_install || true ;;
    none) ;;
    esac
    # An install that failed has said why; what is missing now is said once, below.
    hash -r
    rust_is_good || give_up "Rust $rust_needed or newer with its rustfmt and clippy is needed, found: $(rust_version || true).
  Install rustup, then: rustup toolchain install stable --profile minimal -c clippy -c rustfmt; rustup default stable.
  Then run again."
}

# The registry has Node.js itself as a package for each machine. Its npm comes along: Debian's may be too old for it.
registry_node() {
    local machine
    case $(uname -m) in
    x86_64) machine=x64 ;;
    aarch64) machine=arm64 ;;
    *) give_up "there is no packed Node.js for $(uname -m): install Node.js $node_needed or newer with npm, then run again." ;;
    esac
    say "setup: installing Node.js 22 for this folder alone"
    mkdir -p "$node_home"
    npm install --prefix "$node_home" --no-audit --no-fund --loglevel=error "node-linux-$machine@22" npm@10
}

need_node() {
    case $(node_plan) in
    keep) return ;;
    archive) archive_install nodejs npm || true ;;
    registry) { have npm || archive_install npm; } && registry_node || true ;;
    none) ;;
    esac
    hash -r
    node_is_good || give_up "Node.js $node_needed or newer with npm is needed, found: $(node_version || true). Install it, then run again."
}

need_toolchains() {
    if rust_is_good && node_is_good; then return; fi
    # Lists may be old or not there at all, and what the archive has decides.
    if have apt-get; then as_root apt-get update -qq; fi
    plan_toolchains
    need_rust
    need_node
}
