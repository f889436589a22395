#!/usr/bin/env bash
# Installs into a temporary prefix and uses the installed copy as others would: user.c and the example
# small_hall.c through pkg-config and through the CMake package, each with the shared and the static
# library, the headers from C++, and the installed command.
# usage: run.sh BUILD_DIR SOURCE_DIR CMAKE PYTHON CC CXX [FLAG...]
set -eu
build=$1 source=$2 cmake=$3 python=$4 cc=$5 cxx=$6
shift 6
flags=("$@")
tests=$source/tests/install
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

"$cmake" --install "$build" --prefix "$work/first" >/dev/null
# The installed tree moves: nothing may point back into the build or the first prefix.
mv "$work/first" "$work/usr"
export PKG_CONFIG_PATH LD_LIBRARY_PATH
PKG_CONFIG_PATH=$(dirname "$(find "$work/usr" -name gradin.pc)")
LD_LIBRARY_PATH=$(dirname "$PKG_CONFIG_PATH")
passed=0

fail() {
  echo "FAILED: $*"
  exit 1
}


# links PROGRAM {shared|static}: it needs the shared library or does not.
links() {
  local needs=shared
  readelf -d "$1" | grep -q 'NEEDED.*libgradin\.so' || needs=static
  [ "$needs" = "$2" ] || fail "$1 uses the $needs library"
  passed=$((passed + 1))
}

# runs_user PROGRAM {shared|static}
runs_user() {
  "$1" "$source/demo/end_stage.yaml" >"$work/out" || fail "$1 does not run"
  grep -Eqx '[1-9][0-9]* seats, map visible, table of some size' "$work/out" || fail "$1"
  links "$1" "$2"
}

# runs_hall PROGRAM {shared|static}: 128 seats, and in the middle the C that the rake was made for.
runs_hall() {
  "$1" >"$work/table.csv" || fail "$1 does not run"
  "$python" "$tests/check_table.py" "$work/table.csv" || fail "$1 prints another table"
  links "$1" "$2"
}

warnings="-Wall -Wextra -Wpedantic -Werror"
shared=$(pkg-config --cflags --libs gradin)
static=$(pkg-config --static --cflags --libs gradin | sed 's/-lgradin\b/-l:libgradin.a/')
version=$(pkg-config --modversion gradin)
[ "gradin $version" = "$("$work/usr/bin/gradin" version)" ] || fail "versions differ"

for linking in shared static; do
  # $shared and $static are lists of words.
  "$cc" -std=c17 $warnings "${flags[@]}" "$tests/user.c" -o "$work/c_$linking" ${!linking}
  runs_user "$work/c_$linking" $linking
  "$cc" -std=c17 $warnings "${flags[@]}" "$tests/small_hall.c" -o "$work/hall_$linking" ${!linking}
  runs_hall "$work/hall_$linking" $linking
  "$cxx" -x c++ -std=c++17 $warnings "${flags[@]}" "$tests/header.cpp" -o "$work/cpp_$linking" \
    -x none ${!linking}
  [ "$("$work/cpp_$linking")" = "$version" ] || fail "C++ $linking"
done

"$cmake" -S "$tests" -B "$work/cmake" -DCMAKE_C_COMPILER="$cc" -DCMAKE_C_FLAGS="${flags[*]}" \
  -DCMAKE_PREFIX_PATH="$work/usr" -DGRADIN_WANTED="$version" >"$work/log" 2>&1 &&
  "$cmake" --build "$work/cmake" >>"$work/log" 2>&1 || { cat "$work/log"; fail "find_package"; }
for linking in shared static; do
  runs_user "$work/cmake/user_$linking" $linking
  runs_hall "$work/cmake/small_hall_$linking" $linking
done

"$work/usr/bin/gradin" check "$source/demo/end_stage.yaml"
for file in man/man1/gradin.1 man/man1/gradin-assess.1 bash-completion/completions/gradin \
  zsh/site-functions/_gradin; do
  [ -s "$work/usr/share/$file" ] || fail "$file is not installed"
done
echo "$passed programs ran"
