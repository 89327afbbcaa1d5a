#!/bin/sh
# Programs that only tests compare with: a circuit simulator, a browser, a PDF renderer. Install them where we may,
# otherwise say what is skipped.
set -eu

simulator() {
    command -v ngspice >/dev/null 2>&1 &&
        "$1" -c 'import ctypes.util, sys; sys.exit(ctypes.util.find_library("ngspice") is None)'
}

browser() {
    command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1 ||
        command -v google-chrome >/dev/null 2>&1
}

renderer() {
    command -v pdftoppm >/dev/null 2>&1
}

python=$1
wanted=""
simulator "$python" || wanted="$wanted ngspice libngspice0"
browser || wanted="$wanted chromium fonts-dejavu-core"
renderer || wanted="$wanted poppler-utils"
[ -n "$wanted" ] || exit 0

as_root=no
if command -v apt-get >/dev/null 2>&1; then
    if [ "$(id -u)" = 0 ]; then
        as_root=""
    elif command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then
        as_root="sudo -n"
    fi
fi
if [ "$as_root" != no ]; then
    echo "installing what only tests need:$wanted"
    export DEBIAN_FRONTEND=noninteractive
    $as_root apt-get update -qq || true
    # shellcheck disable=SC2086
    $as_root apt-get install -y -qq --no-install-recommends $wanted >/dev/null || true
fi
simulator "$python" || echo "ngspice is not here: the tests that compare with it are skipped by name." \
    "Debian, Ubuntu: sudo apt install ngspice libngspice0; macOS: brew install ngspice libngspice"
browser || echo "no chromium is here: the tests that look with it are skipped by name."
renderer || echo "no pdftoppm is here: the tests that print with it are skipped by name."
