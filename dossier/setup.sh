#!/bin/sh
# Sets dossier up in .venv, beside this checkout's README. Can be run again: it does only what is left to do.
#
#   sh dossier/setup.sh         what publishing needs
#   sh dossier/setup.sh test    that, and what the tests need
#
# PYTHON names another Python than python3. pip's own settings (PIP_CERT, PIP_INDEX_URL, pip.conf …) are honoured.
set -eu

here=$(cd "$(dirname "$0")/.." && pwd)
cd "$here"
want=${1:-}
export PIP_DISABLE_PIP_VERSION_CHECK=1 PIP_ROOT_USER_ACTION=ignore

say() { printf 'set-up: %s\n' "$*"; }
fail() { # WHAT REMEDY
  printf 'set-up failed: %s\n        remedy: %s\n' "$1" "$2" >&2
  exit 1
}

case $want in
  '' | test) ;;
  *) fail "unknown word '$want'" "run 'sh dossier/setup.sh' or 'sh dossier/setup.sh test'" ;;
esac

# --- Python

new_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; }

python=
for name in ${PYTHON:-python3 python3.13 python3.12 python3.11}; do
  if command -v "$name" >/dev/null && new_enough "$name"; then python=$name; break; fi
done
[ -n "$python" ] ||
  fail "no Python 3.11 or newer found" "install python3, or name yours: PYTHON=/path/to/python3 sh dossier/setup.sh"

# --- What the system must bring

loads() { "$python" -c 'import ctypes, sys; ctypes.CDLL(sys.argv[1])' "$1" 2>/dev/null; }

browser() {
  for name in chromium chromium-browser google-chrome-stable google-chrome; do
    found=$(command -v "$name") || continue
    case $(readlink -f "$found") in *snap*) continue ;; esac
    return 0
  done
  [ -x .venv/bin/python ] && .venv/bin/python - <<'PY' 2>/dev/null
import os, sys
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    sys.exit(not os.access(playwright.chromium.executable_path, os.X_OK))
PY
}

missing=
need() { missing="$missing $1"; }

"$python" -c 'import ensurepip, venv' 2>/dev/null || need python3-venv
if [ "$(uname -s)" = Linux ]; then
  { loads libpango-1.0.so.0 && loads libgobject-2.0.so.0; } || need libpango-1.0-0
  loads libpangoft2-1.0.so.0 || need libpangoft2-1.0-0
  loads libharfbuzz-subset.so.0 || need libharfbuzz-subset0
  loads libfontconfig.so.1 || need libfontconfig1
  # What drives the browser in the tests is a program of its own that wants this library of the compiler's.
  [ "$want" != test ] || loads libatomic.so.1 || need libatomic1
fi
apt=no
command -v apt-get >/dev/null && apt=yes
fetch_browser=no
if [ "$want" = test ] && ! browser; then
  # Ubuntu packs Chromium only as a snap, which a test cannot drive. There, and without apt, playwright fetches its own.
  if [ $apt = yes ] && ! grep -qs '^ID=ubuntu' /etc/os-release; then need chromium; else fetch_browser=yes; fi
fi

if [ -n "$missing" ] && [ $apt = no ]; then
  printf 'set-up: this system has no apt. Please install these, by whatever names it knows them:\n' >&2
  for name in $missing; do
    case $name in
      python3-venv) printf '  Python with its venv and ensurepip modules\n' ;;
      libatomic1) printf '  libatomic, for the tests\n' ;;
      *) printf '  Pango with its FreeType part, HarfBuzz with its subset part, Fontconfig\n' ;;
    esac
  done | sort -u >&2
  case " $missing " in *" python3-venv "*) exit 1 ;; esac
  say "going on without them: the site can be written, the packet cannot"
elif [ -n "$missing" ]; then
  as_root=
  if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null ||
      fail "system packages are missing and this is not root" "as root: apt-get install$missing"
    as_root=sudo
  fi
  say "installing system packages:$missing"
  log=$(mktemp)
  apt_get() { # quiet unless it fails
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=120 "$@" >"$log" 2>&1 ||
      { tail -n 20 "$log" >&2; return 1; }
  }
  apt_get update || fail "apt-get update" "see above: the network, a proxy, or a line in /etc/apt/sources.list"
  # shellcheck disable=SC2086 # a list of package names
  apt_get install -y --no-install-recommends $missing ||
    fail "apt-get install$missing" "see above, then run this again"
  rm -f "$log"
fi

# --- The virtual environment

if [ -e .venv ] && ! new_enough .venv/bin/python; then
  say "the .venv here no longer works: making it anew"
  rm -rf .venv
fi
if [ ! -e .venv ]; then
  say "making .venv with $("$python" --version)"
  "$python" -m venv .venv || { rm -rf .venv; fail "making .venv" "install the venv module of $python (Debian: python3-venv)"; }
fi

state() { { cat pyproject.toml .ci/constraints.txt; pwd; .venv/bin/python --version; } | cksum; }

done_before() { # the tests' packages include those of publishing
  [ -x .venv/bin/dossier ] || return 1
  case $(cat .venv/set-up 2>/dev/null) in
    "$(state) test") ;;
    "$(state) ") [ "$want" != test ] ;;
    *) return 1 ;;
  esac
}

if done_before; then
  say "Python packages are in place"
else
  project=.
  [ "$want" = test ] && project='.[test]'
  say "installing Python packages into .venv (a minute or two the first time)"
  # PEP 517: an older pip would build the one package that has no wheel in a way of its own, with a warning.
  PIP_USE_PEP517=1 PIP_BUILD_CONSTRAINT=.ci/constraints.txt \
    .venv/bin/python -m pip --quiet install -c .ci/constraints.txt -e "$project" ||
    fail "pip install" "see above: the network, a proxy, or a certificate (PIP_CERT names your own authority)"
  printf '%s %s' "$(state)" "$want" >.venv/set-up
fi

# Compiled here, so that the first command answers as soon as later ones, also where Python may not write.
.venv/bin/python -m compileall -q dossier || say "could not compile the modules ahead; every command starts slower"

if [ $fetch_browser = yes ]; then
  say "fetching a browser for the tests"
  with_deps=
  [ $apt = yes ] && with_deps=--with-deps
  .venv/bin/python -m playwright install $with_deps chromium ||
    fail "fetching a browser" "install Chromium or Chrome, so that 'chromium' or 'google-chrome' can be called"
fi

if [ "$want" = test ]; then say "ready: .venv/bin/pytest"; else say "ready: .venv/bin/dossier"; fi
