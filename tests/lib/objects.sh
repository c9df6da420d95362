#!/usr/bin/env bash
# Runs a command beside an object store that speaks S3: `tests/lib/objects.sh cargo test -p hubstore --features s3-tests`.
#
# The store is a public library's, pinned in tests/lib/objects/requirements.txt, in a virtual environment under .cache. It
# keeps everything in memory, listens on a free port of the loopback interface, and ends with the command. Where it is
# stands in HEADMARK_TEST_S3_ENDPOINT, HEADMARK_TEST_S3_KEY and HEADMARK_TEST_S3_SECRET; its bucket is called `photos`.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
needed=$here/objects/requirements.txt
venv=$here/../../.cache/objects

if ! cmp -s "$needed" "$venv/installed.txt"; then
    rm -rf "$venv"
    mkdir -p "$(dirname "$venv")"
    python3 -m venv "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check --requirement "$needed"
    cp "$needed" "$venv/installed.txt"
fi

log=$(mktemp)
# It ends when its input does, and so with this script, however that ends.
coproc store { PYTHONDONTWRITEBYTECODE=1 exec "$venv/bin/python" "$here/objects/serve.py" 2>"$log"; }
# Bash forgets these once the store has ended.
pid=$store_PID
finish() {
    kill "$pid" 2>/dev/null || true
    rm -f "$log"
}
trap finish EXIT

line=
while read -r -t 60 line <&"${store[0]}" && [ "$line" != ready ]; do
    eval "$line"
done
if [ "$line" != ready ]; then
    echo "The object store did not start:" >&2
    cat "$log" >&2
    exit 1
fi
"$@"
