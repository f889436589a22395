#!/usr/bin/env bash
# Installs into a temporary prefix and uses the installed copy as others would: user.c through
# pkg-config and through the CMake package, each with the shared and the static library, in C and in
# C++, beside functions of its own that have names of ours inside; and the installed command.
# usage: run.sh BUILD_DIR SOURCE_DIR CMAKE CC CXX [FLAG...]
set -eu
build=$1 source=$2 cmake=$3 cc=$4 cxx=$5
shift 5
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


# runs NAME PROGRAM {shared|static}: it works, and it needs the shared library or does not.
runs() {
  local needs=shared
  "$2" "$source/demo/end_stage.yaml" >"$work/$1.out" || fail "$1 does not run"
  grep -Eqx '[1-9][0-9]* seats, map visible, table of some size' "$work/$1.out" || fail "$1"
  readelf -d "$2" | grep -q 'NEEDED.*libgradin\.so' || needs=static
  [ "$needs" = "$3" ] || fail "$1 uses the $needs library"
  passed=$((passed + 1))
}

warnings="-Wall -Wextra -Wpedantic -Werror"
shared=$(pkg-config --cflags --libs gradin)
static=$(pkg-config --static --cflags --libs gradin | sed 's/-lgradin\b/-l:libgradin.a/')
version=$(pkg-config --modversion gradin)
[ "gradin $version" = "$("$work/usr/bin/gradin" version)" ] || fail "versions differ"

for linking in shared static; do
  # $shared and $static are lists of words.
  "$cc" -std=c17 $warnings "${flags[@]}" "$tests/user.c" -o "$work/c_$linking" ${!linking}
  runs "pkg-config-c-$linking" "$work/c_$linking" $linking
  "$cxx" -x c++ -std=c++17 $warnings "${flags[@]}" "$tests/header.cpp" -o "$work/cpp_$linking" \
    -x none ${!linking}
  [ "$("$work/cpp_$linking")" = "$version" ] || fail "C++ $linking"
done

"$cmake" -S "$tests" -B "$work/cmake" -DCMAKE_C_COMPILER="$cc" -DCMAKE_C_FLAGS="${flags[*]}" \
  -DCMAKE_PREFIX_PATH="$work/usr" -DGRADIN_WANTED="$version" >"$work/log" 2>&1 &&
  "$cmake" --build "$work/cmake" >>"$work/log" 2>&1 || { cat "$work/log"; fail "find_package"; }
for linking in shared static; do
  runs "cmake-$linking" "$work/cmake/user_$linking" $linking
done

"$work/usr/bin/gradin" check "$source/demo/end_stage.yaml"
for file in man/man1/gradin.1 man/man1/gradin-assess.1 bash-completion/completions/gradin \
  zsh/site-functions/_gradin; do
  [ -s "$work/usr/share/$file" ] || fail "$file is not installed"
done
echo "$passed programs ran"
