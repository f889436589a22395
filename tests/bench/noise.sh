#!/usr/bin/env bash
# Times of the room by radiosity and of a season of 200,000 events on the demo hall.
set -euo pipefail
top=$(cd "$(dirname "$0")/../.." && pwd)
build=${1:-$top/build/bench}
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build" --target bench_noise >/dev/null
echo "load $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) processors"
"$build/tests/bench_noise" "$top/demo/thrust.yaml" "$top/demo/season.yaml"
