# need COMMAND: installs the Debian package of that name when the command is missing and the user is root.
# Sourced by the judges that watch other programs.
need() {
    command -v "$1" >/dev/null && return
    [ "$(id -u)" = 0 ] || { echo "please install: $1" >&2; exit 3; }
    apt-get update >install.log 2>&1
    DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "$1" >>install.log 2>&1 \
        || { cat install.log >&2; exit 3; }
}
