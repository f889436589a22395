#!/usr/bin/env bash
# Every public header compiles alone, as C17 and as C++17, without a warning; gradin.h has all.
# usage: run.sh HEADER_DIR CC CXX
set -u
dir=$1 cc=$2 cxx=$3
passed=0
failed=0

check() { # NAME COMMAND...
  local name=$1
  shift
  if "$@"; then
    passed=$((passed + 1))
  else
    echo "$name: FAILED"
    failed=$((failed + 1))
  fi
}

for name in $(cd "$dir" && find gradin -name '*.h' | sort); do
  for language in "c c17 $cc" "c++ c++17 $cxx"; do
    set -- $language
    check "$name as $2" "$3" -x "$1" -std="$2" -Wall -Wextra -Wpedantic -Wshadow -Werror \
      -fsyntax-only -I "$dir" - <<<"#include \"$name\"
typedef int alone;"
  done
  [ "$name" = gradin/gradin.h ] ||
    check "$name in gradin/gradin.h" grep -qxF "#include \"$name\"" "$dir/gradin/gradin.h"
done
echo "$passed passed, $failed failed"
[ "$passed" -gt 0 ] && [ "$failed" -eq 0 ]
