#!/bin/sh
# Installs what the tests need, builds everything with warnings as errors and runs every test. Add --sanitize for a
# second build under the address and undefined-behaviour sanitizers.
set -eu
cd "$(dirname "$0")/.."
sh examples/draw_demo.sh --packages-only
sh examples/install_packages.sh hdf5-tools python3 python3-h5py calculix-ccx valgrind chromium chromium-driver \
    python3-selenium
folder=build
options="-DSTRICT=ON"
if [ "${1-}" = "--sanitize" ]; then
    folder=build-sanitize
    options="-DSTRICT=ON -DSANITIZE=ON -DCMAKE_BUILD_TYPE=RelWithDebInfo"
fi
# shellcheck disable=SC2086
cmake -S . -B "$folder" -G Ninja $options
cmake --build "$folder"
ctest --test-dir "$folder" --output-on-failure -j "$(nproc)"
