# Installs the Debian packages named, those that are missing. Sourced by
# cmd/start and cmd/test.

# To build the window: a C compiler and the headers of OpenGL and X11.
window_packages="gcc libc6-dev pkg-config libgl-dev libx11-dev libxcursor-dev libxrandr-dev libxinerama-dev libxi-dev libxxf86vm-dev"

# To show the window: the OpenGL and X11 libraries that are loaded at run time.
screen_packages="libgl1-mesa-dri libgl1 libx11-6 libxcursor1 libxrandr2 libxinerama1 libxi6 libxxf86vm1"

# To hold the program against things outside it: a general graph library, the
# steam tables, an SVG renderer, readers of PDF, DXF and XLSX, a screen without a
# monitor, a hand that moves mouse and keys, and an account of what a program asks the
# system for.
test_packages="python3 python3-networkx python3-iapws librsvg2-bin poppler-utils qpdf python3-ezdxf python3-openpyxl xvfb xdotool imagemagick strace"

# install_missing PACKAGE... installs what is not there yet, or says what to do.
install_missing() {
  missing=""
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "Needed and not found:$missing (install them with this system's package manager)" >&2
    return 1
  fi
  as_root=""
  if [ "$(id -u)" != 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
      echo "Please run as root: apt-get install --no-install-recommends$missing" >&2
      return 1
    fi
    as_root="sudo"
  fi
  echo "Installing:$missing"
  log=$(mktemp)
  if ! { $as_root apt-get update && $as_root env DEBIAN_FRONTEND=noninteractive \
         apt-get install -y --no-install-recommends $missing; } >"$log" 2>&1; then
    tail -n 20 "$log" >&2
    echo "The packages could not be installed; the whole log is $log" >&2
    return 1
  fi
  rm -f "$log"
}

# install_engine brings the general network engine that the flow solver is held
# against. It serves tests and benchmarks only.
install_engine() {
  command -v npm >/dev/null 2>&1 || install_missing nodejs npm
  [ -d model/hydraulic/testdata/engine/node_modules ] && return 0
  (cd model/hydraulic/testdata/engine && npm install --no-package-lock --no-audit --no-fund --loglevel=error)
}

need_go() {
  command -v go >/dev/null 2>&1 && return 0
  echo "Go 1.26 or newer is needed: https://go.dev/doc/install" >&2
  return 1
}
