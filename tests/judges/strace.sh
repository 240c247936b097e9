#!/usr/bin/env bash
# Watches every call to the system by which the program could open a socket, start another program or
# read a file, while it works on an example from check to verify:
#   tests/judges/strace.sh TOOL FOLDER
# No socket, no other program but itself, where a shop's own layouts are set apart; files only below the folder with job, book, shop and layouts, but for what
# a program needs to start. Installs strace if it is missing and the user is root.
set -euo pipefail
export LC_ALL=C.UTF-8
tool=$(realpath "$1")
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
rm -rf "$2"
mkdir -p "$2"
cd "$2"

. "$here/need.sh"
need strace
strace -o none.log true 2>/dev/null || { echo "SKIP this machine does not let strace watch"; exit 0; }

# What starting takes: system libraries; how much memory and how many processors there are (the
# allocator and the thread pool ask); zones of the clock.
starting='^(/etc/ld\.so\.(cache|preload)|(/usr)?/lib(64)?/.*\.so[.0-9]*|/proc/[0-9]+/(maps|cgroup|mountinfo)|/proc/(sys/vm/[a-z_]+|cpuinfo|meminfo|stat)|/sys/(fs/cgroup|devices/system/(cpu|node))(/.*)?|/sys/kernel/mm/transparent_hugepage/[a-z_]+|/usr/share/zoneinfo/.*|/dev/null)$'

# watched NAME COMMAND...: runs it; prints each call that it should not have made.
watched() {
    local name=$1 code=0
    shift
    strace -f -y -e trace=%network,%process,openat,open,openat2,io_uring_setup -o "$name.log" "$@" \
        >"$name.out" 2>&1 || code=$?
    # Broken examples are among them: a batch says so with 3.
    [[ $code =~ ^[013]$ ]] || { echo "$name ended with $code"; tail -n 5 "$name.out"; }
    grep -E ' (socket|socketpair|connect|bind|listen|accept4?|send(to|msg|mmsg)?|recv(from|msg|mmsg)?|io_uring_setup)\(' "$name.log" || true
    # The first is the program itself.
    grep -E ' execve(at)?\(' "$name.log" | tail -n +2 | grep -vF '"/proc/self/exe", ["/proc/self/exe", "--typeset-apart"]' || true
    # With -y the file that was opened stands behind its number, links followed.
    sed -nE 's/.* open(at2?)?\(.* = [0-9]+<(.*)>( \(deleted\))?$/\2/p' "$name.log" | sort -u \
        | grep -vE "$starting" | awk -v inside="$PWD/shop" 'index($0 "/", inside "/") != 1 { print "opened " $0 }' || true
}

mkdir shop
cp -r "$here"/../../examples/. shop
mkdir shop/systems
cp "$here/../../layouts/systems/barrier.toml" shop/systems
(cd shop && "$tool" layouts --copy layouts theme.typ words/en/mail.toml >/dev/null)

failed=0
job=shop/dry-and-quick/job.toml
for verb in "check $job" "estimate $job" "write $job" "mail $job" "prepare $job --floor barrier" "verify $job" \
    "reprice shop --dry-run --on 2026-07-01" "write shop --draft" "write shop --draft --jobs 2"; do
    name=${verb//[^a-z0-9]/-}
    read -ra words <<<"$verb"
    found=$(watched "$name" "$tool" "${words[@]}")
    [ -z "$found" ] || { failed=1; echo "FAIL $verb"; sed 's/^/  /' <<<"$found"; }
done

# A judge that cannot say no is none.
echo secret >outside.txt
refuses() { # NAME WHAT COMMAND...
    local name=$1 what=$2 found
    shift 2
    found=$(watched "$name" "$@")
    grep -q "$what" <<<"$found" || { echo "FAIL $name was not noticed"; failed=1; }
}
refuses reads 'opened .*/outside.txt' cat outside.txt
refuses starts 'execve' sh -c '/bin/true; /bin/true'
refuses calls 'socket(' python3 -c 'import socket; socket.socket()'

[ $failed = 0 ] || exit 1
echo "PASS no socket, no other program, no file outside of the folder: $(ls ./*.log | wc -l) runs watched"
