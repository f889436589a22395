#!/usr/bin/env bash
# Fuzzes the reader and what follows it for a while; not part of the suite. Needs clang.
# usage: run.sh MINUTES [OPTION OF LIBFUZZER]...
set -eu
minutes=${1:?usage: run.sh MINUTES}
shift
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$top/build/fuzz
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug \
  -DGRADIN_SANITIZE=ON -DGRADIN_FUZZ=ON >/dev/null
cmake --build "$build" --target fuzz_read -- --quiet
mkdir -p "$build/corpus" "$build/found"
exec "$build/tests/fuzz_read" -max_total_time=$((minutes * 60)) -max_len=20000 -timeout=60 \
  -dict="$top/tests/fuzz/words.dict" -artifact_prefix="$build/found/" "$@" \
  "$build/corpus" "$top/tests/faults/hall" "$top/demo"
