# Shared by demo/run.sh and tests/run.sh: find a Python, make an environment, install Reedmace in it.
# Sourced, with `project` set to the top folder. Says plainly what is missing instead of failing oddly.

stop() {
    printf '%s\n' "$@" >&2
    exit 1
}

# Sets `python` to the newest Python of 3.11 or later.
find_python() {
    for python in ${REEDMACE_PYTHON:-python3 python3.14 python3.13 python3.12 python3.11 python}; do
        if command -v "$python" >/dev/null 2>&1 &&
            "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            return
        fi
    done
    stop "Reedmace needs Python 3.11 or newer, and none was found." \
        "Install it, or say where it is:  REEDMACE_PYTHON=/path/to/python3 sh $0"
}

# make_environment FOLDER: a virtual environment of our own; sets `bin` to where its programs are.
make_environment() {
    bin=$1/bin
    if [ ! -x "$bin/python" ] || ! "$bin/python" -c 'import pip' >/dev/null 2>&1; then
        "$python" -c 'import venv, ensurepip' 2>/dev/null ||
            stop "This Python has no venv module (on Debian and Ubuntu it is the package python3-venv)." \
                "Install it and run this again."
        rm -rf "$1"
        "$python" -m venv "$1" || stop "The environment $1 could not be made. Is there room on the disk, and may you write there?" \
            "From a stick that may only be read, copy the whole folder to your own disk first, and run it there."
    fi
}

# digest PATH...: one word that changes whenever any file below the paths does.
digest() {
    "$python" - "$@" <<'PYTHON'
import hashlib, pathlib, sys

whole = hashlib.sha256(sys.version.encode())
for root in map(pathlib.Path, sys.argv[1:]):
    for path in sorted(root.rglob("*")) if root.is_dir() else [root]:
        if path.is_file() and "__pycache__" not in path.parts:
            whole.update(str(path).encode() + b"\0" + path.read_bytes() + b"\0")
print(whole.hexdigest())
PYTHON
}

# installed STAMP WANTED: whether the stamp file says that WANTED is installed already.
installed() {
    [ -f "$1" ] && [ "$(cat "$1")" = "$2" ]
}

# install STAMP WANTED ARGUMENT...: pip install, unless the stamp file says that WANTED is installed already.
install() {
    stamp=$1
    wanted=$2
    shift 2
    installed "$stamp" "$wanted" && return
    if ! "$bin/python" -m pip install --quiet --disable-pip-version-check "$@" 2>"$stamp.log"; then
        cat "$stamp.log" >&2
        stop "" "pip could not install what Reedmace needs. It asks a package index on the first run:" \
            "is this machine online? Later runs need no network."
    fi
    printf '%s' "$wanted" >"$stamp"
}
