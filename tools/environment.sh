#!/bin/sh
# Make the virtual environment and install Ohmstead into it.
# use: environment.sh PYTHON VENV EXTRAS CONSTRAINTS   (an empty CONSTRAINTS takes the newest of everything)
set -eu
python=$1 venv=$2 extras=$3 constraints=$4

stop() {
    printf '%s\n' "" "$@" "" >&2
    exit 1
}

if ! command -v "$python" >/dev/null 2>&1; then
    stop "Python 3.11 or newer is needed, and '$python' is not here." \
        "  Debian, Ubuntu:  sudo apt install python3 python3-venv" \
        "  another Python:  make demo PYTHON=python3.12"
fi
if ! "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
    stop "Python 3.11 or newer is needed; '$python' is $("$python" --version 2>&1)." \
        "  another Python:  make demo PYTHON=python3.12"
fi
if ! "$venv/bin/python" -c 'import pip' >/dev/null 2>&1; then
    if ! "$python" -c 'import ensurepip, venv' >/dev/null 2>&1; then
        version=$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
        stop "'$python' cannot make virtual environments: its venv package is missing. On Debian and Ubuntu:" \
            "  sudo apt install python3-venv        (or python$version-venv)" \
            "and then the same make command again."
    fi
    echo "making $venv with $("$python" --version)"
    "$python" -m venv --clear "$venv"
fi

echo "installing Ohmstead with [$extras] into $venv"
if ! "$venv/bin/python" -m pip install --quiet --disable-pip-version-check \
    ${constraints:+-c "$constraints"} -e ".[$extras]"; then
    stop "The installation failed; the reason stands above." \
        "If a pinned version does not exist for this Python, take the newest of everything:" \
        "  make demo CONSTRAINTS="
fi
"$venv/bin/python" -m compileall -q src
