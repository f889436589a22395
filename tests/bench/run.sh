#!/usr/bin/env bash
# Times the visibility kernel against Embree, a general ray tracer, on one core in one run, and
# prints every mode's figure. Takes some minutes; meaningful on an idle machine only, so the load is
# printed first. Installs missing Debian packages.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
. "$top/tools/dev/packages.sh"
gradin_install_packages $GRADIN_PACKAGES_BUILD $GRADIN_PACKAGES_TEST
build=${GRADIN_BENCH_BUILD:-$top/build/bench}
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build" --target bench >/dev/null
echo "processor: $(sed -n 's/^model name[^:]*: //p' /proc/cpuinfo | head -n 1), load $(cut -d' ' -f1-3 /proc/loadavg)"
exec env OMP_NUM_THREADS=1 taskset -c 0 "$build/tests/bench" "$top/demo"
