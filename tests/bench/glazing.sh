#!/usr/bin/env bash
# Times R of 10,000 random build-ups against dense linear systems in the same run.
set -euo pipefail
top=$(cd "$(dirname "$0")/../.." && pwd)
build=${1:-$top/build/bench}
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build" --target bench_glazing >/dev/null
echo "load $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) processors"
OPENBLAS_NUM_THREADS=1 "$build/tests/bench_glazing"
