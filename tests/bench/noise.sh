#!/usr/bin/env bash
# Times of a season of 200,000 events on the demo's thrust, and time and error of the room by radiosity
# beside each other on its five layouts: error against patches half the size.
set -euo pipefail
top=$(cd "$(dirname "$0")/../.." && pwd)
build=${1:-$top/build/bench}
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build" --target bench_noise bench_patches >/dev/null
echo "load $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) processors"
"$build/tests/bench_noise" "$top/demo/thrust.yaml" "$top/demo/season.yaml"
"$build/tests/bench_patches" 2.8 2 "$top"/demo/{thrust,traverse,round,end_stage,flat_floor}.yaml
