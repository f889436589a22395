#!/usr/bin/env bash
# Makes the Debian packages, looks at what is in them and what they need, unpacks them into an empty
# folder, and uses that copy: the command on its own demo, a user's program by pkg-config.
# usage: packages.sh BUILD_DIR SOURCE_DIR CPACK CC
set -eu
build=$1 source=$2 cpack=$3 cc=$4
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() {
  echo "FAILED: $*"
  exit 1
}

(cd "$build" && "$cpack" -G DEB -D CPACK_DEBIAN_COMPRESSION_TYPE=gzip -B "$work/made") >"$work/log" 2>&1 || { cat "$work/log"; fail cpack; }
for name in gradin libgradin0.1 libgradin-dev; do
  package=$(ls "$work/made/${name}_"*.deb) || fail "no package $name"
  dpkg-deb --field "$package" Package Depends | tee -a "$work/fields"
  dpkg-deb --extract "$package" "$work/root"
  dpkg-deb --contents "$package" | awk '$6 !~ /\/$/ {print $6}' >>"$work/files"
done
[ -z "$(sort "$work/files" | uniq -d)" ] || fail "a file is in two packages"
for needed in libcairo2 libyaml-0-2 libpng16 libopenblas fonts-dejavu-core 'libgradin0.1 (= ' libyaml-dev \
  libkissfft-dev libnlopt-dev; do
  grep -q "$needed" "$work/fields" || fail "nothing depends on $needed"
done

doc=$work/root/usr/share/doc/gradin
command=$work/root/usr/bin/gradin
"$command" check "$doc/demo/thrust.yaml" || fail "the demo in the package"
"$command" draft "$doc/demo/wishes/end_stage.yaml" --out - >/dev/null || fail "the wishes in the package"
[ "$(head -n 1 "$doc/copyright")" = "MIT License" ] || fail "no licence"
version=$("$command" version | cut -d' ' -f2)
[ "$(sed -n 's/^## \([0-9.]*\) .*/\1/p' "$doc/reference/changelog.md" | head -n 1)" = "$version" ] ||
  fail "the changelog does not begin with $version"
for page in "$doc"/reference/guide/*.md; do
  for link in $(grep -o '](\.\.[^)#]*' "$page" | cut -c3-); do
    [ -e "$doc/reference/guide/$link" ] || fail "$page: $link leads nowhere"
  done
done

export PKG_CONFIG_PATH LD_LIBRARY_PATH
PKG_CONFIG_PATH=$(dirname "$(find "$work/root" -name gradin.pc)")
LD_LIBRARY_PATH=$(dirname "$(find "$work/root" -name 'libgradin.so.0.1')")
# Lists of words.
"$cc" -std=c17 "$source/tests/install/small_hall.c" -o "$work/user" $(pkg-config --cflags --libs gradin)
"$work/user" | head -n 1 | grep -q '^seat,' || fail "a program made with the packages"
echo "3 packages"
