#!/usr/bin/env bash
# Completions and manual pages, tried in the programs that they are for:
#   tests/judges/shells.sh TOOL FOLDER
# Installs zsh, fish and groff if they are missing and the user is root. PowerShell is in no Debian package;
# its script is only looked through by `cargo test`.
set -euo pipefail
export LC_ALL=C.UTF-8
tool=$(realpath "$1")
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
rm -rf "$2"
mkdir -p "$2/bin"
cd "$2"
ln -s "$tool" bin/slableaf
export PATH=$PWD/bin:$PATH HOME=$PWD

. "$here/need.sh"
need zsh
need fish
need groff
for shell in bash zsh fish; do "$tool" completions $shell >slableaf.$shell; done
failed=0
offers() { # SHELL WANTED OFFERED
    grep -qE "^$2" <<<"$3" || { echo "FAIL $1 does not offer $2:"; sed 's/^/  /' <<<"$3"; failed=1; }
}

in_bash=$(bash -c '. ./slableaf.bash; COMP_WORDS=(slableaf wr); COMP_CWORD=1; COMP_LINE="slableaf wr"
    _slableaf slableaf wr slableaf; printf "%s\n" "${COMPREPLY[@]}"')
offers bash 'write$' "$in_bash"
in_bash=$(bash -c '. ./slableaf.bash; COMP_WORDS=(slableaf write --la); COMP_CWORD=2
    _slableaf slableaf --la write; printf "%s\n" "${COMPREPLY[@]}"')
offers bash '--large-print$' "$in_bash"

offers fish 'write' "$(fish -c 'source slableaf.fish; complete -C "slableaf wr"')"
offers fish '--large-print' "$(fish -c 'source slableaf.fish; complete -C "slableaf write --la"')"

# zsh completes at a terminal alone; here its parser reads the script, and its own loader defines it.
mkdir -p functions
cp slableaf.zsh functions/_slableaf
zsh -n slableaf.zsh || failed=1
zsh -fc 'fpath=(./functions $fpath); autoload -Uz compinit; compinit -u -D; [[ ${_comps[slableaf]} = _slableaf ]]' \
    || { echo "FAIL zsh does not find it"; failed=1; }

"$tool" manual --out man >/dev/null
for page in man/*.1; do
    # A warning of the typesetter of manual pages is a fault.
    said=$(groff -man -Tutf8 -ww -z "$page" 2>&1) || true
    [ -z "$said" ] || { echo "FAIL $page: $said"; failed=1; }
done
echo "completions in bash, zsh and fish; $(find man -name '*.1' | wc -l) manual pages"
exit $failed
