#!/usr/bin/env bash
# Times of the verbs that decide, on the demo: usage tests/bench/studies.sh [BUILD [LAYOUTS]]
set -euo pipefail
top=$(cd "$(dirname "$0")/../.." && pwd)
build=${1:-$top/build/bench}
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build" --target gradin >/dev/null
echo "load $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) processors"
OMP_WAIT_POLICY=passive python3 "$top/tests/bench/studies.py" "$build/gradin" "$top/demo" "${2:-1000}"
