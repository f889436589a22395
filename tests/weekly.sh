#!/usr/bin/env bash
# What takes too long for each change: other compilers' options, analysers, data races, valgrind,
# coverage, many faults and kills, fuzzing. Build folders lie under build/weekly; each step prints
# one line, or the end of what it said. Exit status 0 only when all steps passed.
# usage: weekly.sh [STEP]...    all steps without any
set -u
top=$(cd "$(dirname "$0")/.." && pwd) || exit 3
work=$top/build/weekly
jobs=$(nproc)
python=/usr/bin/python3
hall=$top/tests/faults/hall
failed=0
. "$top/tools/dev/packages.sh"
gradin_install_packages $GRADIN_PACKAGES_BUILD $GRADIN_PACKAGES_TEST clang-tidy cppcheck valgrind || exit 3
mkdir -p "$work"

build() { # NAME TARGETS OPTION...
  local folder=$work/$1 targets=$2
  shift 2
  cmake -S "$top" -B "$folder" -G Ninja -DGRADIN_WERROR=ON "$@" >/dev/null &&
    cmake --build "$folder" -j "$jobs" --target $targets -- --quiet
}
release() { build release "all" -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Release; }

# Every loop at the highest level: warnings appear that -O2 does not see.
step_o3() {
  build o3 "all" -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Release -DCMAKE_C_FLAGS_RELEASE="-O3 -DNDEBUG"
}

# What each change runs without sanitizers only, for it takes long with them.
step_sanitized() {
  build sanitize "unit_studies unit_render gradin" -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_C_FLAGS_DEBUG=-g1 -DGRADIN_SANITIZE=ON || return 1
  export LSAN_OPTIONS=suppressions=$top/tests/leaks.supp:print_suppressions=0
  export ASAN_OPTIONS=log_path=$work/report.asan UBSAN_OPTIONS=log_path=$work/report.ubsan:print_stacktrace=1
  rm -f "$work"/report.*
  "$work/sanitize/tests/unit_studies" && "$work/sanitize/tests/unit_render" || return 1
  ctest --test-dir "$work/sanitize" -R '^cli_(edges|doubts|guards|levels|seat_list|spectrum|seat_columns|rows)$' \
    -j "$jobs" --timeout 3600 || return 1
  ! cat "$work"/report.* 2>/dev/null
}

# Threads: clang's runtime of OpenMP tells the sanitizer of its locks through Archer; gcc's does not.
step_races() {
  build races gradin -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug -DGRADIN_TESTS=OFF \
    -DCMAKE_C_FLAGS="-fsanitize=thread -O1 -g" -DCMAKE_EXE_LINKER_FLAGS=-fsanitize=thread \
    -DCMAKE_SHARED_LINKER_FLAGS=-fsanitize=thread || return 1
  local out=$work/races/out
  export TSAN_OPTIONS="ignore_noninstrumented_modules=1 exitcode=66" OMP_NUM_THREADS=4
  "$work/races/gradin" assess "$hall/layout.yaml" --samples 64 --draws 20 --out "$out" --quiet &&
    "$work/races/gradin" rails "$hall/layout.yaml" --out "$out" --quiet &&
    "$work/races/gradin" view "$hall/layout.yaml" --seat Stalls-1-1 --size 320x240 --out "$out/view.png" --quiet
}

# The address sanitizer sees nothing of memory that was never written; valgrind does.
step_valgrind() {
  release || return 1
  local out=$work/valgrind check
  for check in "check $hall/layout.yaml" "rake $hall/layout.yaml --block Stalls --c 0.06 --out $out" \
    "assess $hall/layout.yaml --samples 16 --out $out --threads 1 --quiet"; do
    OPENBLAS_NUM_THREADS=1 OPENBLAS_CORETYPE=Haswell valgrind --quiet --error-exitcode=66 --leak-check=no \
      --suppressions="$top/tests/valgrind.supp" "$work/release/gradin" $check
    [ $? -le 1 ] || return 1
  done
}

step_tidy() {
  release && "$python" "$top/tests/dev/analysers.py" tidy "$work/release" "$jobs"
}
step_cppcheck() {
  release && "$python" "$top/tests/dev/analysers.py" cppcheck "$work/release" "$jobs"
}

# Lines and branches that the whole suite reaches, by folder.
step_coverage() {
  build coverage "all" -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_C_FLAGS="--coverage -fprofile-update=atomic" || return 1
  find "$work/coverage" -name '*.gcda' -delete
  ctest --test-dir "$work/coverage" -j "$jobs" -E 'tree_|hardened|packages|faults_' --timeout 3600 >"$work/coverage.log"
  "$python" "$top/tests/dev/coverage.py" "$work/coverage"
}

# Projects that take most of the processor time of their kind.
step_projects() {
  release && GRADIN_COSTLY=1 "$work/release/tests/unit_studies" --filter 'projects/*'
}
# The tool that changes the code to see whether its tests notice, on a small project.
step_mutations() {
  GRADIN_COSTLY=1 "$python" "$top/tests/dev/test_mutate.py"
}

step_memory() {
  release && "$python" "$top/tests/faults/test_memory.py" "$work/release/gradin" \
    "$work/release/tests/libheap_preload.so" "${GRADIN_FAULTS:-2000}"
}
step_io() {
  release && "$python" "$top/tests/faults/test_io.py" "$work/release/gradin" \
    "$work/release/tests/libio_preload.so" 24
}
step_kills() {
  release && "$python" "$top/tests/faults/test_kills.py" "$work/release/gradin" 40 10
}
step_fuzz() {
  bash "$top/tests/fuzz/run.sh" "${GRADIN_FUZZ_MINUTES:-120}"
}

[ $# -gt 0 ] || set -- o3 sanitized races valgrind tidy cppcheck coverage projects mutations memory io kills fuzz
for name in "$@"; do
  if ("step_$name") >"$work/$name.log" 2>&1; then
    echo "$name: ok ($SECONDS s): $(tail -n 1 "$work/$name.log")"
  else
    tail -n 60 "$work/$name.log"
    echo "$name: FAILED ($SECONDS s)"
    failed=1
  fi
done
exit $failed
