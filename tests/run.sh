#!/usr/bin/env bash
# Builds and tests everything: Release with gcc, Debug with the address and undefined-behaviour
# sanitizers, and a compilation with clang; warnings are errors in all three. Installs missing
# Debian packages first. The last line is "N passed, N failed" over all tests of both builds; exit
# status 0 only when all passed.
set -u
top=$(cd "$(dirname "$0")/.." && pwd) || exit 3
work=$top/build/tests
. "$top/tools/dev/packages.sh"
gradin_install_packages $GRADIN_PACKAGES_BUILD $GRADIN_PACKAGES_TEST || exit 3

python=/usr/bin/python3
[ -x "$python" ] || python=python3
jobs=$(nproc)
steps_passed=0
steps_failed=0

# step NAME COMMAND...: one line when it works, its output when it does not.
step() {
  local name=$1 log=$work/step.log
  shift
  if "$@" >"$log" 2>&1; then
    echo "$name: ok (${SECONDS} s)"
    steps_passed=$((steps_passed + 1))
  else
    tail -n 80 "$log"
    echo "$name: FAILED"
    steps_failed=$((steps_failed + 1))
    return 1
  fi
}

# build NAME OPTION...: configures and compiles $work/NAME.
build() {
  local folder=$work/$1
  shift
  cmake -S "$top" -B "$folder" -G Ninja -DGRADIN_WERROR=ON -DCMAKE_EXE_LINKER_FLAGS=-fuse-ld=mold "$@" && cmake --build "$folder" -j "$jobs" -- --quiet
}

# run_tests NAME OPTION...: ctest in $work/NAME; the results are counted at the end.
run_tests() {
  local name=$1
  shift
  ctest --test-dir "$work/$name" -j "$jobs" --output-junit "$work/$name.xml" --timeout 3600 "$@" \
    --test-output-size-passed 1000000 --test-output-size-failed 1000000 2>&1 |
    grep -E '^ *[0-9]+/[0-9]+ Test' || true
}

# The linear algebra takes a processor younger than itself for its oldest, and is slow. The command
# mends that at its start; the tests that call the library themselves need it said.
name_processor() {
  local core
  core=$(OPENBLAS_VERBOSE=2 "$work/release/gradin" version 2>&1 | head -n 1)
  if [ "$core" = "Core: Prescott" ] && grep -q -w avx2 /proc/cpuinfo; then export OPENBLAS_CORETYPE=Haswell; fi
}

rm -rf "$work"/*.xml "$work/reports"
mkdir -p "$work/reports" || exit 3

step "build Release with gcc" build release -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Release &&
  name_processor && run_tests release -LE sanitized
step "build Debug with sanitizers" build sanitize -DCMAKE_C_COMPILER=gcc \
  -DCMAKE_BUILD_TYPE=Debug -DCMAKE_C_FLAGS_DEBUG=-g1 -DGRADIN_SANITIZE=ON &&
  ASAN_OPTIONS=log_path=$work/reports/asan:detect_stack_use_after_return=1 \
    UBSAN_OPTIONS=log_path=$work/reports/ubsan:print_stacktrace=1:halt_on_error=1 \
    run_tests sanitize -LE plain
step "compile with clang" "$python" "$top/tests/dev/clang_check.py" "$work/release" "$jobs"

"$python" "$top/tools/dev/count_tests.py" release="$work/release.xml" \
  sanitize="$work/sanitize.xml" --reports "$work/reports" --steps "$steps_passed" "$steps_failed"
