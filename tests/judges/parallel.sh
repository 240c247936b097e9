#!/usr/bin/env bash
# Runs a batch in parts under GNU parallel, kills it in the middle, takes it up again, and compares all
# that was issued with the same batch in one run:
#   tests/judges/parallel.sh TOOL FOLDER
# Installs GNU parallel if it is missing and the user is root.
set -euo pipefail
export LC_ALL=C.UTF-8
tool=$(realpath "$1")
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
examples=$here/../../examples
mkdir -p "$2"
cd "$2"

. "$here/need.sh"
need parallel

shop() { # FOLDER: twenty different jobs of one shop
    rm -rf "$1"
    mkdir -p "$1/jobs"
    cp "$examples"/{book.toml,shop.toml,logo.png} "$1"
    for n in $(seq -w 1 20); do
        mkdir "$1/jobs/$n"
        sed "s/^number = .*/number = \"P-$n\"/; s/^name = \"/&$n /" "$examples/smallest/job.toml" >"$1/jobs/$n/job.toml"
    done
}
issued() { (cd "$1" && find jobs -type f ! -name '*.lock' ! -name job.toml -exec sha256sum {} + | sort -k 2); }

shop whole
"$tool" write whole/jobs >whole.txt
shop parts
# Every part is a run of its own, as on machines of a cluster.
batch() { parallel --will-cite -j 4 "$tool" write parts/jobs --jobs 1 --part {}/5 ::: 1 2 3 4 5; }
export -f batch
export tool
setsid bash -c batch >parts.txt 2>&1 &
# Not before some jobs are done: else there would be nothing to take up.
for _ in $(seq 200); do
    [ "$(issued parts | grep -c '/record.toml$')" -lt 3 ] || break
    sleep 0.05
done
kill -KILL -- -$! 2>/dev/null || true
{ wait; } 2>/dev/null || true
before=$(issued parts | grep -c '/record.toml$' || true)
batch >>parts.txt 2>&1
diff <(issued whole) <(issued parts) >difference.txt || { echo "FAIL parts differ from the whole"; sed -n 1,10p difference.txt; exit 1; }
echo "PASS 20 jobs in 5 parts under GNU parallel, killed after $before, taken up again: all as in one run"
