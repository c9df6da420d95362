#!/usr/bin/env bash
# Runs a command beside a PostgreSQL of its own: `tests/lib/postgres.sh cargo test -p hubstore --features postgres-tests`.
#
# A fresh cluster in a temporary folder, on a Unix socket there and a free port of the loopback interface; ended and
# removed with the command. Its address is in HEADMARK_TEST_POSTGRES (and of the socket in HEADMARK_TEST_POSTGRES_SOCKET),
# its folder in HEADMARK_TEST_POSTGRES_DATA, and `"$HEADMARK_TEST_POSTGRES_CTL" stop|start|restart|kill` does that to it.
# It is as durable as PostgreSQL is by itself: what is measured here is measured with its syncs.
set -euo pipefail

postgres_bin() {
    local bin
    bin=$(command -v pg_ctl || true)
    [ -z "$bin" ] || { dirname "$bin"; return; }
    # Debian keeps the servers out of the path; the newest one is taken.
    bin=$(find /usr/lib/postgresql -maxdepth 3 -name pg_ctl 2>/dev/null | sort -V | tail -n 1)
    [ -n "$bin" ] || {
        echo "There is no PostgreSQL server here. On Debian: apt-get install postgresql" >&2
        return 1
    }
    dirname "$bin"
}

free_port() { python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])'; }

# PostgreSQL refuses to run as root: then it is another user's, and has to be reached in a folder of that user's.
as_owner() {
    if [ "$(id -u)" = 0 ]; then
        setpriv --reuid="$owner" --regid="$(id -g "$owner")" --clear-groups -- "$@"
    else
        "$@"
    fi
}

bin=$(postgres_bin)
owner=$(id -un)
if [ "$(id -u)" = 0 ]; then
    owner=nobody
    ! id postgres >/dev/null 2>&1 || owner=postgres
fi
home=$(mktemp -d "${TMPDIR:-/tmp}/hubpg.XXXXXX")
[ "$(id -u)" != 0 ] || chown "$owner" "$home"
cd "$home"

finish() {
    as_owner "$bin/pg_ctl" -D "$home/data" -m immediate -s stop >/dev/null 2>&1 || true
    cd /
    rm -rf "$home"
}
trap finish EXIT

as_owner "$bin/initdb" -D "$home/data" -U headmark -A trust -E UTF8 --locale=C.UTF-8 >"$home/initdb.log" 2>&1 || {
    cat "$home/initdb.log" >&2
    exit 1
}
port=$(free_port)
as_owner tee -a "$home/data/postgresql.conf" >/dev/null <<CONF
listen_addresses = '127.0.0.1'
port = $port
unix_socket_directories = '$home'
max_connections = 300
shared_buffers = 256MB
max_wal_size = 4GB
log_min_messages = warning
CONF

cat >"$home/ctl" <<CTL
#!/usr/bin/env bash
# stop, start, restart (as a crash: nothing is written out), kill (without a word)
set -euo pipefail
cd "$home"
as_owner() { $(if [ "$(id -u)" = 0 ]; then echo "setpriv --reuid=$owner --regid=$(id -g "$owner") --clear-groups --"; fi) "\$@"; }
case \$1 in
start) as_owner "$bin/pg_ctl" -D "$home/data" -l "$home/server.log" -w -s start ;;
stop) as_owner "$bin/pg_ctl" -D "$home/data" -m fast -w -s stop ;;
restart) as_owner "$bin/pg_ctl" -D "$home/data" -l "$home/server.log" -m immediate -w -s restart ;;
kill) kill -9 "\$(head -n 1 "$home/data/postmaster.pid")" ;;
esac
CTL
chmod +x "$home/ctl"
"$home/ctl" start || {
    cat "$home/server.log" >&2
    exit 1
}

export HEADMARK_TEST_POSTGRES="postgres://headmark@127.0.0.1:$port/postgres"
export HEADMARK_TEST_POSTGRES_SOCKET="postgres://headmark@/postgres?host=$home&port=$port"
export HEADMARK_TEST_POSTGRES_DATA="$home/data"
export HEADMARK_TEST_POSTGRES_CTL="$home/ctl"
cd "$OLDPWD"
"$@"
