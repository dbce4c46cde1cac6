#!/bin/sh
# Builds what is missing and makes every number and picture of cam_lean_study.md again:
#
#     sh examples/cam_lean_study.sh [--update] [FOLDER]
#
# Tables (.txt) and pictures (.svg) go to FOLDER, build/cam_lean_study if none is given. --update also puts them into
# the text and beside it.
set -eu
cd "$(dirname "$0")/.."
update=""
if [ "${1-}" = "--update" ]; then
    update=yes
    shift
fi
folder="${1:-build/cam_lean_study}"
sh examples/draw_demo.sh --packages-only
cmake -S . -B build -G Ninja -DSTRICT=ON
cmake --build build --target cam_lean_study
build/bin/cam_lean_study examples "$folder"
[ -n "$update" ] || exit 0
awk -v folder="$folder" '
    /^<!-- table: / {
        print; print "```text"
        while ((getline line < (folder "/" $3 ".txt")) > 0) print line
        print "```"
        inside = 1
    }
    /^<!-- end -->/ { inside = 0 }
    !inside { print }
' examples/cam_lean_study.md > "$folder/cam_lean_study.md"
cp "$folder/cam_lean_study.md" "$folder"/cam_lean_study_*.svg examples/
