#!/usr/bin/env bash
# The Debian packages in a clean root: nothing of the tree and nothing but what they depend on. As root;
# fetches a base system by debootstrap, so it is no part of the suite.
# usage: clean_root.sh BUILD_DIR [SUITE [MIRROR]]
set -eu
source=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$1" && pwd) suite=${2:-bookworm} mirror=${3:-http://deb.debian.org/debian}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
root=$work/root
(cd "$build" && cpack -G DEB -B "$work/made") >/dev/null
debootstrap --variant=minbase "$suite" "$root" "$mirror" >"$work/log" 2>&1 || { tail "$work/log"; exit 1; }
cp "$work"/made/*.deb "$source"/tests/install/{small_hall,user}.c "$root/root/"
cp /etc/resolv.conf "$root/etc/resolv.conf"
inside() { chroot "$root" /usr/bin/env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin DEBIAN_FRONTEND=noninteractive "$@"; }
inside apt-get update -q >"$work/log" 2>&1 || { tail "$work/log"; exit 1; }

inside sh -c 'apt-get install -q -y --no-install-recommends /root/gradin_*.deb' >"$work/log" 2>&1 ||
  { tail "$work/log"; exit 1; }
demo=/usr/share/doc/gradin/demo
[ -z "$(inside dpkg -L gradin | grep '\.so')" ]
inside gradin assess $demo/hexagon_stage.yaml --out /root/out | head -n 2
inside gradin fit $demo/hexagon_stage.yaml >/dev/null || [ $? -eq 1 ]
[ -n "$(ls "$root"/root/out/*.png)" ]
echo "the command runs alone: $(ls "$root/root/out" | wc -l) files"

inside sh -c 'apt-get install -q -y --no-install-recommends gcc libc6-dev pkg-config /root/libgradin*.deb' \
  >"$work/log" 2>&1 || { tail "$work/log"; exit 1; }
inside sh -c 'cc -std=c17 /root/small_hall.c -o /root/small $(pkg-config --cflags --libs gradin) &&
  /root/small | wc -l'
inside sh -c 'cc -std=c17 /root/user.c -o /root/user $(pkg-config --cflags --libs gradin) &&
  /root/user /usr/share/doc/gradin/demo/end_stage.yaml'
inside apt-get remove -q -y gradin libgradin0.1 libgradin-dev >"$work/log" 2>&1
[ -z "$(find "$root/usr" -name '*gradin*')" ] || { echo "left behind:"; find "$root/usr" -name '*gradin*'; exit 1; }
echo "removed without a trace"
