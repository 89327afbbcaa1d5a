#!/bin/sh
# The circuit simulator that some tests compare with: install it where we may, otherwise say what is skipped.
set -eu

present() {
    command -v ngspice >/dev/null 2>&1 &&
        "$1" -c 'import ctypes.util, sys; sys.exit(ctypes.util.find_library("ngspice") is None)'
}

python=$1
present "$python" && exit 0

as_root=no
if command -v apt-get >/dev/null 2>&1; then
    if [ "$(id -u)" = 0 ]; then
        as_root=""
    elif command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then
        as_root="sudo -n"
    fi
fi
if [ "$as_root" != no ]; then
    echo "installing the circuit simulator ngspice, which only tests need"
    export DEBIAN_FRONTEND=noninteractive
    $as_root apt-get update -qq || true
    $as_root apt-get install -y -qq --no-install-recommends ngspice libngspice0 >/dev/null || true
fi
if ! present "$python"; then
    echo "ngspice is not here and could not be installed: the tests that compare with it are skipped by name."
    echo "  Debian, Ubuntu:  sudo apt install ngspice libngspice0        macOS:  brew install ngspice libngspice"
fi
