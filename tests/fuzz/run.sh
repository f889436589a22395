#!/usr/bin/env bash
# Fuzzes the readers and what follows them, then whole runs of the command, for a while; not part of
# the suite. Needs clang. What is found lies in build/fuzz/found.
# usage: run.sh MINUTES [KIND]...     kinds: those of kinds.c, and verbs; all without any
set -eu
minutes=${1:?usage: run.sh MINUTES [KIND]...}
shift
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$top/build/fuzz
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug \
  -DGRADIN_SANITIZE=ON -DGRADIN_FUZZ=ON >/dev/null
cmake --build "$build" --target fuzz_read gradin -- --quiet
[ $# -gt 0 ] || set -- yaml yaml yaml seats curve spectra events track outside drawing obj stl journal verbs verbs verbs
seconds=$((minutes * 60 / $#))
for kind in "$@"; do
  mkdir -p "$build/corpus/$kind" "$build/found/$kind"
  echo "$kind: $seconds s"
  if [ "$kind" = verbs ]; then
    /usr/bin/python3 "$top/tests/fuzz/verbs.py" "$build/gradin" "$seconds" "$RANDOM" "$build/found/verbs"
    continue
  fi
  seeds=("$top/tests/fuzz/corpus/$kind")
  [ -d "${seeds[0]}" ] || seeds=()
  [ "$kind" != yaml ] || seeds=("$top/tests/faults/hall" "$top/tests/fuzz/hall")
  GRADIN_FUZZ_KIND=$kind "$build/tests/fuzz_read" -max_total_time=$seconds -max_len=20000 \
    -timeout=60 -rss_limit_mb=4096 -dict="$top/tests/fuzz/words.dict" -verbosity=0 -print_final_stats=1 \
    -artifact_prefix="$build/found/$kind/" "$build/corpus/$kind" "${seeds[@]}" 2>&1 | tail -n 30
done
