#!/bin/sh
# Installs what is missing, builds the program and draws the demo bow. Run it again as often as you like.
set -eu
cd "$(dirname "$0")/.."
sh examples/install_packages.sh g++ cmake ninja-build pkg-config libeigen3-dev libspectra-dev libfmt-dev \
    libtomlplusplus-dev libceres-dev libcli11-dev nlohmann-json3-dev libhdf5-dev libvtk9-dev libgtest-dev \
    libjs-chart.js
[ "${1-}" != "--packages-only" ] || exit 0
cmake -S . -B build -G Ninja -DSTRICT=ON
cmake --build build --target limbwright lean
build/bin/limbwright draw examples/crossed.toml --folder build/demo
