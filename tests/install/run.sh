#!/usr/bin/env bash
# Installs into a temporary prefix, compiles user.c against it through pkg-config, and runs both it
# and the installed command.
# usage: run.sh BUILD_DIR SOURCE_DIR CC [CFLAG...]
set -eu
build=$1 source=$2 cc=$3
shift 3
prefix=$(mktemp -d)
trap 'rm -rf "$prefix"' EXIT

cmake --install "$build" --prefix "$prefix/usr" >/dev/null
export PKG_CONFIG_PATH
PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name gradin.pc)")
[ "$(pkg-config --modversion gradin)" = "$("$prefix/usr/bin/gradin" version | cut -d' ' -f2)" ]

"$cc" -std=c17 -Wall -Wextra -Werror "$@" "$source/tests/install/user.c" -o "$prefix/user" \
  $(pkg-config --cflags --libs gradin)
# The installed tree moves: nothing may point back into the build or the first prefix.
mv "$prefix/usr" "$prefix/moved"
"$prefix/user" "$source/demo/end_stage.yaml" | tee "$prefix/out"
grep -Eqx '[1-9][0-9]* seats, map visible, table of some size' "$prefix/out"
"$prefix/moved/bin/gradin" check "$source/demo/end_stage.yaml"
