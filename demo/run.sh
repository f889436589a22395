#!/usr/bin/env bash
# Builds gradin and assesses the invented hall's five layouts. Installs missing Debian packages first.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
. "$top/tools/dev/packages.sh"
gradin_install_packages $GRADIN_PACKAGES_BUILD

build=$top/build/demo
results=$top/demo/results
log=$build/build.log
mkdir -p "$build"
echo "building gradin (Release) ..."
if ! { cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DGRADIN_TESTS=OFF &&
  cmake --build "$build"; } >"$log" 2>&1; then
  tail -n 40 "$log" >&2
  echo "the build failed; see $log" >&2
  exit 3
fi

cd "$top/demo"
mkdir -p "$results"
"$build/gradin" check hall.yaml approach.yaml brief.yaml
for wishes in end_stage thrust round traverse flat_floor; do
  "$build/gradin" draft "wishes/$wishes.yaml" --out "$results/drafted_$wishes.yaml" --replace --quiet
  echo "wishes/$wishes.yaml: drafted"
done
for layout in end_stage round traverse flat_floor; do
  "$build/gradin" assess "$layout.yaml" --out "$results/$layout" --quiet
  echo "$layout.yaml: assessed"
done
"$build/gradin" check hexagon.yaml
"$build/gradin" assess hexagon_stage.yaml --out "$results/hexagon_stage" --quiet
"$build/gradin" assess hexagon_opera.yaml --out "$results/hexagon_opera" --quiet
echo "hexagon_opera.yaml, surtitles and a conductor: assessed"
"$build/gradin" rake hexagon_stage.yaml --block Stalls --c 0.2 --out "$results/hexagon_rake" --quiet
"$build/gradin" fit hexagon_stage.yaml --out "$results/hexagon_checks" --quiet
echo "hexagon_stage.yaml, a hall without lifts in feet, a raked stage and a passage: assessed, raked, checked"
"$build/gradin" outlook thrust.yaml --from street.csv --shades up --out "$results/outlook" --quiet
echo "thrust.yaml: what the street sees with every shade up"
"$build/gradin" changeover thrust.yaml flat_floor.yaml --start 2027-03-04T22:30 --out "$results/changeover" --quiet
echo "thrust.yaml to flat_floor.yaml: changeover planned for a night, with cue sheets (changeover/cues.pdf)"
"$build/gradin" programme march.yaml --out "$results/march" --quiet
echo "march.yaml: six shows have their layouts; march/programme.ics is a calendar"
"$build/gradin" spectrum fan.csv >"$results/fan.txt"
echo "fan.csv: spectra of the hall's own noise rated"
"$build/gradin" listen thrust.yaml --seat South-1-1 --out "$results/seat.wav" --quiet
echo "thrust.yaml: the overflight at a seat written as sound, seat.wav"
"$build/gradin" compare thrust.yaml round.yaml --out "$results/compare" --quiet
echo "thrust.yaml beside round.yaml: compared"
"$build/gradin" fit thrust.yaml --out "$results/checks" --quiet
echo "thrust.yaml: rough checks done; its routes are on the plan in checks/fit.png"
# Ends with 1: none of these build-ups surely keeps what is asked.
"$build/gradin" sweep glass.yaml --out "$results/glass" --quiet || [ $? -eq 1 ]
"$build/gradin" sweep settings.yaml --seek --samples 256 --out "$results/settings" --quiet
echo "glass.yaml: 18 facades tried; settings.yaml: 60 settings of banks and towers searched"
"$build/gradin" assess thrust.yaml --out "$results/thrust"
"$build/gradin" overflight thrust.yaml --traffic season.yaml --out "$results/season" --quiet

echo
echo "For each of the five layouts there is a folder in $results"
echo "with seats.csv (one line per seat), seats_short.csv, summary.json and the heat maps:"
ls "$results/thrust" | grep '\.png$' | sed 's/^/  /'
echo "Beside them: compare, outlook, checks (routes and exits), changeover, march, season and hexagon_* (a second hall),"
echo "each with its tables and pictures; drafted_*.yaml, seat.wav (the overflight at a seat) and fan.txt."
