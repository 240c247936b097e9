#!/usr/bin/env bash
# Compares whole runs on one machine, as ratios: this program against the typesetter's own command-line
# program on the same layouts, words, page data, prepared photos and fonts.
#
#   cargo build --release
#   cargo install typst-cli --version 0.15.1 --locked --root FOLDER      (some minutes; nothing is installed here)
#   TYPST=FOLDER/bin/typst benches/compare.sh [COUNT] [ROUNDS]
#
# COUNT jobs in a batch (1000), ROUNDS of each cold run (15). Needs bash, Python 3, and `pdfimages` and
# `pdftoppm` of poppler. Runs alternate, so that what else the machine does falls on all.
set -euo pipefail
# A run that fails ends this: also within `$(...)`, where the shell would go on by itself. A substitution stands in
# an assignment of its own for that, since its failure as an argument of another command is not seen.
shopt -s inherit_errexit
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(dirname "$here")
tool=${SLABLEAF:-$root/target/release/slableaf}
typst=${TYPST:-typst}
count=${1:-1000}
rounds=${2:-15}
for need in "$tool" "$typst" pdfimages pdftoppm python3; do
    command -v "$need" >/dev/null || { echo "compare.sh: \`$need\` is not there; the head of this file says how to get it"; exit 2; }
done
# The day of the example, so that nothing is said about the age of papers.
export SOURCE_DATE_EPOCH=1778587200
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

echo "machine: $(nproc) cores, $(awk '/MemTotal/ { printf "%.0f GiB", $2 / 1048576 }' /proc/meminfo), $(sed -n 's/^model name.*: //p' /proc/cpuinfo | sed -n 1p)"
ours=$("$tool" --version)
theirs=$("$typst" --version)
echo "$ours, $theirs"

# Seconds of a command.
timed() {
    local start=$EPOCHREALTIME
    "$@" >/dev/null
    awk -v a="$start" -v b="$EPOCHREALTIME" 'BEGIN { print b - a }'
}
# The check of a job: 1 tells that a stop was found, and is no failure.
checked() {
    local code=0
    "$tool" check "$1" || code=$?
    [ "$code" -le 1 ]
}
median() { sort -n | awk '{ all[NR] = $1 } END { print all[int((NR + 1) / 2)] }'; }
ratio() { awk -v a="$1" -v b="$2" 'BEGIN { printf "%.2f", a / b }'; }

# A folder that the typesetter's own program draws a paper from: layouts, page data, photos as prepared.
project() { # PDF PAGE-DATA FOLDER
    mkdir -p "$3/photos"
    [ -e "$3/proposal.typ" ] || cp -r "$root/layouts/." "$3"
    cp "$2" "$3/page.json"
    (cd "$3" && pdfimages -all "$1" im && n=0 && for photo in im-*.jpg; do n=$((n + 1)); mv "$photo" "photos/$n.jpg"; done \
        && mv im-000.png logo.png && rm -f im-*)
}
typeset() { # FOLDER PDF
    "$typst" compile --root "$1" --font-path "$root/fonts" --ignore-system-fonts --pdf-standard ua-1,a-2a \
        --creation-timestamp 1777636800 "$1/proposal.typ" "$2"
}
export -f typeset
export typst root

echo
echo "== cold: process start to PDF on disk, the main example ($rounds rounds)"
"$tool" write "$root/examples/two-car-barrier/job.toml" --draft --page-data --out "$work/cold" >/dev/null
pdf=$(echo "$work"/cold/*.pdf)
project "$pdf" "${pdf%.pdf}.page.json" "$work/project"
# The fixed yardstick: layouts and fonts of one old commit, with the page data and prepared photos of the main
# example as it was then, so that figures of different years can be compared.
yard=$here/yardstick
yard_commit=6d1cdf3d
if git -C "$root" cat-file -e "$yard_commit" 2>/dev/null; then
    (cd "$yard" && sha256sum --check --quiet SHA256SUMS)
    mkdir "$work/yard"
    git -C "$root" archive "$yard_commit" layouts fonts | tar -x -C "$work/yard"
    cp -r "$yard/page.json" "$yard/logo.png" "$yard/photos" "$work/yard/layouts"
fi
for _ in $(seq "$rounds"); do
    timed "$tool" write "$root/examples/two-car-barrier/job.toml" --draft --out "$work/cold" >>"$work/ours"
    if [ -e "$work/yard" ]; then
        timed "$typst" compile --root "$work/yard/layouts" --font-path "$work/yard/fonts" --ignore-system-fonts \
            --pdf-standard ua-1,a-2a --creation-timestamp 1777636800 "$work/yard/layouts/proposal.typ" "$work/theirs.pdf" >>"$work/yardstick"
    fi
    timed "$typst" compile --root "$work/project" --font-path "$root/fonts" --ignore-system-fonts \
        --pdf-standard ua-1,a-2a --creation-timestamp 1777636800 "$work/project/proposal.typ" "$work/theirs.pdf" >>"$work/theirs"
done
ours=$(median <"$work/ours")
theirs=$(median <"$work/theirs")
echo "write --draft $ours s, typst compile $theirs s, ratio $(ratio "$ours" "$theirs")"
echo "(write prepares the photos and works everything out as well; typst compile gets all that as files)"
if [ -e "$work/yard" ]; then
    yardstick=$(median <"$work/yardstick")
    echo "the yardstick, 12 pages of commit $yard_commit: $yardstick s; write --draft is $(ratio "$ours" "$yardstick") of it"
else
    echo "the yardstick: not measured (this copy has no history)"
fi

echo
echo "== cold, with three photos of 12 megapixels ($rounds rounds)"
cp -r "$root/examples" "$work/phone"
# Pages of the paper stand for the photos of a telephone: they have its size, and its megabytes.
pdftoppm -jpeg -f 1 -l 3 -scale-to-x 3024 -scale-to-y 4032 "$pdf" "$work/phone/two-car-barrier/photos/taken"
photos=("$work"/phone/two-car-barrier/photos/taken*)
at=0
for name in overview dome crack; do
    mv "${photos[$at]}" "$work/phone/two-car-barrier/photos/$name.jpg"
    at=$((at + 1))
done
du -ch "$work"/phone/two-car-barrier/photos/*.jpg | tail -1
"$tool" write "$work/phone/two-car-barrier/job.toml" --draft --page-data --out "$work/phone-papers" >/dev/null
pdf=$(echo "$work"/phone-papers/*.pdf)
project "$pdf" "${pdf%.pdf}.page.json" "$work/phone-project"
for _ in $(seq "$rounds"); do
    timed "$tool" write "$work/phone/two-car-barrier/job.toml" --draft --out "$work/phone-papers" >>"$work/ours-phone"
    timed "$typst" compile --root "$work/phone-project" --font-path "$root/fonts" --ignore-system-fonts \
        --pdf-standard ua-1,a-2a --creation-timestamp 1777636800 "$work/phone-project/proposal.typ" "$work/theirs.pdf" >>"$work/theirs-phone"
    timed checked "$work/phone/two-car-barrier/job.toml" >>"$work/check-phone"
done
ours=$(median <"$work/ours-phone")
theirs=$(median <"$work/theirs-phone")
echo "write --draft $ours s, typst compile of the photos as prepared $theirs s, ratio $(ratio "$ours" "$theirs"); check $(median <"$work/check-phone") s"

# A batch of ours: the verb takes a folder and a number of threads.
batch() { timed "$tool" write "$1" --draft --out "$1-papers" --jobs 2; }

# The pace of the typesetter's own program at the jobs of $work/jobs, told by 40 of them: $loop, $pairs.
pace() { # COUNT
    local sample=40 start number folder
    [ "$sample" -le "$1" ] || sample=$1
    # It gets its data from runs of ours.
    for number in $(seq 0 $((sample - 1))); do
        folder=$work/jobs/job-$(printf %05d "$number")
        "$tool" write "$folder/job.toml" --draft --page-data --out "$folder/papers" >/dev/null
        pdf=$(echo "$folder"/papers/*.pdf)
        project "$pdf" "${pdf%.pdf}.page.json" "$folder/project"
    done
    start=$(date +%s.%N)
    for folder in "$work"/jobs/*/project; do typeset "$folder" "$folder/out.pdf"; done
    loop=$(awk -v a="$start" -v b="$(date +%s.%N)" -v n="$sample" 'BEGIN { print (b - a) / n }')
    start=$(date +%s.%N)
    printf '%s\n' "$work"/jobs/*/project | xargs -P2 -I{} bash -c 'typeset {} {}/out.pdf'
    pairs=$(awk -v a="$start" -v b="$(date +%s.%N)" -v n="$sample" 'BEGIN { print (b - a) / n }')
    echo "typst compile, shell loop: $loop s a job; xargs -P2: $pairs s a job ($sample jobs)"
    rm -rf "$work"/jobs/*/project "$work"/jobs/*/papers
}

# Says what a batch took beside that pace.
against_pace() { # NAME COUNT SECONDS
    local ours
    ours=$(awk -v n="$2" '{ print $1 / n }' <<<"$3")
    echo "$1: $ours s a job: $(ratio "$loop" "$ours") times the loop, $(ratio "$pairs" "$ours") times xargs -P2"
}

throughput() { # NAME FLAGS-OF-JOBS
    echo
    echo "== a batch of $count jobs, $1"
    # shellcheck disable=SC2086
    python3 "$here/jobs.py" "$work/jobs" "$count" $2
    pace "$count"
    local seconds
    seconds=$(batch "$work/jobs")
    against_pace 'write FOLDER --draft --jobs 2' "$count" "$seconds"
    rm -rf "$work/jobs" "$work/jobs-papers"
}
throughput 'all with the same three photos' ''
throughput 'each with photos of its own' --own-photos

# Issued, not drafts: a record keeps large photos ready for the next paper of its job.
some=$((count < 60 ? count : 60))
echo
echo "== a batch of $some jobs with three photos of 12 megapixels of their own, issued; and again when prices changed"
python3 "$here/jobs.py" "$work/jobs" "$some" --own-photos --photos-from "$work/phone/two-car-barrier/photos"
pace "$some"
issue() { timed "$tool" write "$work/jobs" --out "$work/jobs-papers" --records "$work/jobs-records" --jobs 2; }
seconds=$(issue)
against_pace 'write FOLDER, the first time' "$some" "$seconds"
sed -i 's/^wage = .*/wage = "$31.50\/h"/' "$work/jobs/book.toml"
seconds=$(issue)
against_pace 'again, with another wage' "$some" "$seconds"
rm -rf "$work/jobs" "$work/jobs-papers" "$work/jobs-records"

echo
echo "== time and memory of batches, all processes together, photos of their own"
for many in 100 1000 5000; do
    [ "$many" -le $((count * 5)) ] || continue
    python3 "$here/jobs.py" "$work/jobs" "$many" --own-photos
    python3 "$here/memory.py" "$tool" write "$work/jobs" --draft --out "$work/jobs-papers" --jobs 2 \
        | awk -v n="$many" '{ printf "%d jobs: %.4f s a job, peak %.0f MiB\n", n, $1 / n, $2 / 1024 }'
    rm -rf "$work/jobs" "$work/jobs-papers"
done

echo
echo "== the same jobs in 1, 2 and 4 parts at a time, one thread each, photos shared"
python3 "$here/jobs.py" "$work/jobs" "$count"
for parts in 1 2 4; do
    rm -rf "$work/jobs-papers"
    start=$EPOCHREALTIME
    running=()
    for part in $(seq "$parts"); do
        "$tool" write "$work/jobs" --draft --out "$work/jobs-papers" --jobs 1 --part "$part/$parts" >/dev/null &
        running+=($!)
    done
    for process in "${running[@]}"; do wait "$process"; done
    all=$(awk -v a="$start" -v b="$EPOCHREALTIME" 'BEGIN { print b - a }')
    [ "$parts" -gt 1 ] || one=$all
    awk -v p="$parts" -v t="$all" -v one="$one" -v n="$count" -v cores="$(nproc)" -v mib="$(du -sm "$work/jobs-papers" | cut -f1)" 'BEGIN {
        used = p < cores ? p : cores
        printf "%d: %.4f s a job, efficiency %.2f on %d cores; a million papers: %.0f core hours, %.0f GB\n", p, t / n, one / t / used, used, t / n * used * 1e6 / 3600, mib / 1024 / n * 1e6
    }'
done
