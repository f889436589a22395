/* Every bad input is refused with one exact line: file, line, column, key, text. */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct refusal {
    change what;
    const char *text;
} refusal;

static const refusal refusals[] = {
    /* YAML */
    {{"layout", "units: m\n", "units:\tm\n"}, "layout.yaml:2:7: holds a tab; indent with spaces"},
    {{"layout", "name: Small layout", "name: &a Small layout"},
     "layout.yaml:3:7: name: uses an anchor or alias; write the value out"},
    {{"layout", "axis_deg: 180", "axis_deg: 180\naxis_deg: 90"},
     "layout.yaml:7:1: axis_deg: stands twice; first in line 6"},
    {{"layout", "rails:\n", "---\nrails:\n"},
     "layout.yaml:23:1: starts a second document; one file holds one"},
    {{"layout", "focus:\n", "focus: [\n"},
     "layout.yaml:16:3: is no valid YAML: did not find expected node content"},
    /* the arch's closing element */
    {{"layout", "focus:\n", "  arch: {in: yes, opening: 6, trim: 4, closed: 1}\nfocus:\n"},
     "layout.yaml:15:9: machines.arch.closed: arch has nothing that closes it"},
    /* the envelope */
    {{"venue", "  doors:\n", "  walls:\n    - {name: w, from: [0, 0]}\n  doors:\n"},
     "venue.yaml:24:7: facade.walls[1].from: needs both from and to"},
    {{"venue", "  doors:\n", "  walls:\n    - {name: w, from: [1, 0], to: [1, 9]}\n  doors:\n"},
     "venue.yaml:24:7: facade.walls[1]: w does not lie on an edge of the room's footprint"},
    {{"venue", "  doors:\n", "  walls:\n    - {name: a}\n    - {name: b}\n  doors:\n"},
     "venue.yaml:25:7: facade.walls[2]: b covers what a already covers: only one may be without a "
     "place"},
    {{"venue", "  doors:\n",
      "  roofs:\n    - {name: r, polygon: [[1, 1], [9, 1], [9, 13]]}\n  doors:\n"},
     "venue.yaml:24:7: facade.roofs[1]: r reaches outside the room's footprint"},
    {{"venue", "  doors:\n",
      "  roofs:\n    - {name: r, polygon: [[1, 1], [9, 1], [9, 9]]}\n"
      "    - {name: q, polygon: [[1, 1], [9, 1], [1, 9]]}\n  doors:\n"},
     "venue.yaml:25:7: facade.roofs[2]: q overlaps r"},
    {{"venue", "  doors:\n",
      "  site_measurement:\n    outside_2m_db: [80, 80, 80, 80, 80, 80]\n"
      "    inside_db: [40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40]\n"
      "    reverberation_s: [1, 1, 1, 1, 1, 1]\n  doors:\n"},
     "venue.yaml:24:5: facade.site_measurement.inside_db: needs as many bands as outside_2m_db"},
    {{"venue", "  doors:\n",
      "  site_measurement: {d2m_nt_db: [40, 40, 40, 40, 40, 40, 40]}\n  doors:\n"},
     "venue.yaml:23:33: facade.site_measurement.d2m_nt_db: has 7 values; 6 octaves 125-4000 Hz, 16 "
     "thirds 100-3150 Hz or 21 thirds 50-5000 Hz are needed"},
    {{"venue", "sill: 1, buildup", "sill: 6, tilt_deg: 20, buildup"},
     "venue.yaml:21:7: facade.glazing[1]: west reaches above the ceiling"},
    {{"venue", "sill: 1, buildup", "sill: 8, tilt_deg: 91, buildup"},
     "venue.yaml:22:48: facade.glazing[1].tilt_deg: is 91; allowed: 0 to 90"},
    {{"venue", "layers: [{glass_mm: 8}]", "generic: straw"},
     "venue.yaml:16:16: facade.buildups[1].generic: is 'straw'; allowed: steel_deck_cellulose, "
     "wood_shingle_roof, wood_shingle_roof_lined, concrete_100, concrete_150, concrete_200, "
     "concrete_300, block_200, brick_102, brick_125_plastered, brick_255_plastered, "
     "fluted_steel_1_2, steel_sheet_0_9, steel_sheet_1_6, wood_door_44, metal_door_44, "
     "metal_door_35, acoustic_door_100"},
    {{"venue", "layers: [{glass_mm: 8}]", "layers: [{glass_mm: 8}]\n      generic: concrete_150"},
     "venue.yaml:15:7: facade.buildups[1].generic: stands beside layers; one of them is enough"},
    /* fields */
    {{"layout", "form: end_stage", "form: endstage"},
     "layout.yaml:5:7: form: unknown value 'endstage'; did you mean 'end_stage'?"},
    {{"layout", "axis_deg: 180", "axis: 180"},
     "layout.yaml:6:1: axis: unknown key 'axis'; did you mean 'axis_deg'?"},
    {{"layout", "axis_deg: 180", "axis_deg: .nan"},
     "layout.yaml:6:11: axis_deg: is '.nan'; a plain finite number is needed"},
    {{"layout", "axis_deg: 180", "axis_deg: 1e999"},
     "layout.yaml:6:11: axis_deg: is '1e999'; a plain finite number is needed"},
    {{"layout", "axis_deg: 180", "axis_deg: 400"},
     "layout.yaml:6:11: axis_deg: is 400; allowed: 0 to 360"},
    {{"layout", "row_depth: 1.0", "row_depth: 1.0m"},
     "layout.yaml:21:16: blocks[1].row_depth: is '1.0m'; a plain finite number is needed"},
    {{"layout", "units: m", "units: yd"}, "layout.yaml:2:8: units: is 'yd'; allowed: m, ft"},
    {{"layout", "format: gradin-layout-1", "format: gradin-layout-9"},
     "layout.yaml:1:9: format: is 'gradin-layout-9'; 'gradin-layout-1' is needed"},
    {{"layout", "venue: venue.yaml\n", ""}, "layout.yaml:1:1: venue: is missing"},
    {{"layout", "[[3, 9], [9, 9], [9, 11], [3, 11]]", "[[3, 9], [9, 11], [9, 9], [3, 11]]"},
     "layout.yaml:16:28: focus[1].polygon: is no simple polygon; edges cross, corners repeat or it "
     "has no area"},
    /* focus areas of three kinds */
    {{"layout", "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}", "z: 1}"},
     "layout.yaml:16:5: focus[1]: needs polygon (a floor), line (an upright) or point"},
    {{"layout", "[3, 11]]}", "[3, 11]], slope: 0.04, z: 0}"},
     "layout.yaml:16:5: focus[1].slope: needs uphill_deg beside it"},
    {{"layout", "[3, 11]]}", "[3, 11]], uphill_deg: 0}"},
     "layout.yaml:16:5: focus[1].uphill_deg: needs slope beside it"},
    {{"layout", "[3, 11]]}", "[3, 11]], slope: 0.04, uphill_deg: 0}"},
     "layout.yaml:16:5: focus[1].slope: needs z, the height of the lowest corner, beside it"},
    {{"layout", "[3, 11]]}", "[3, 11]], top: 2}"},
     "layout.yaml:16:64: focus[1].top: unknown key 'top'; allowed: name, polygon, z, slope, "
     "uphill_deg, weight"},
    {{"layout", "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}",
      "line: [[3, 9], [9, 9]], bottom: 4}"},
     "layout.yaml:16:5: focus[1].top: is missing"},
    {{"layout", "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}",
      "line: [[3, 9], [9, 9]], bottom: 4, top: 4}"},
     "layout.yaml:16:5: focus[1]: focus stage has its top not above its bottom"},
    {{"layout", "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}",
      "line: [[3, 9], [3, 9]], bottom: 4, top: 5}"},
     "layout.yaml:16:5: focus[1]: focus stage has a line without length"},
    {{"layout", "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}", "point: [3, 99], z: 1}"},
     "layout.yaml:16:5: focus[1]: focus stage lies outside the room's footprint"},
    {{"layout", "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}",
      "polygon: [[3, 9], [9, 9], [9, 11], [3, 11]], point: [3, 9]}"},
     "layout.yaml:16:64: focus[1].point: unknown key 'point'; allowed: name, polygon, z, slope, "
     "uphill_deg, weight"},
    /* names that are none */
    {{"venue", "sill: 1, buildup: pane, shade", "sill: 1, buildup: [pane], shade"},
     "venue.yaml:22:47: facade.glazing[1].buildup: must be a single value, not a list"},
    {{"venue", "shade: dark", "shade: {dark: 1}"},
     "venue.yaml:22:60: facade.glazing[1].shade: must be a single value, not a map"},
    {{"layout", "{name: T, hoist", "{name: [T], hoist"},
     "layout.yaml:14:14: machines.towers[1].name: must be a single value, not a list"},
    /* machines */
    {{"layout", "height: 0.5,", "height: 1.9,"},
     "layout.yaml:11:7: machines.lifts[1].terrace: L-A1 would be at 2.100 m; its travel is -1.000 "
     "to "
     "2.000 m"},
    {{"layout", "facing_deg: 0", "facing_deg: 180"},
     "layout.yaml:12:17: machines.lifts[1].terrace.facing_deg: L-A1 cannot terrace towards this "
     "bearing"},
    {{"layout", "steps: 2", "steps: 3"},
     "layout.yaml:12:17: machines.lifts[1].terrace.steps: L-A1 makes at most 2 treads"},
    {{"layout", "riser: 0.2", "riser: 0.6"},
     "layout.yaml:12:17: machines.lifts[1].terrace.riser: the treads of L-A1 would stand 0.600 m "
     "apart; "
     "it makes 0.000 to 0.500 m"},
    {{"layout", "{name: T, hoist: 0, slide: 0}",
      "{name: T, hoist: 0, slide: 0}\n    - {name: T, hoist: 1, slide: 0}"},
     "layout.yaml:15:7: machines.towers[2]: sets T again; first in line 14"},
    {{"layout", "{name: T, hoist: 0, slide: 0}",
      "{name: T, hoist: 0, slide: 0}\n  shades:\n    - {name: dark, closed: 0.5}\n"
      "    - {name: dark, closed: 0}"},
     "layout.yaml:17:7: machines.shades[2]: sets dark again; first in line 16"},
    {{"venue", "  arch: {name: arch,",
      "  interlocks:\n    - {name: itself, machine: T hoist, while: T hoist, within: [0, 1]}\n"
      "  arch: {name: arch,"},
     "venue.yaml:45:7: machines.interlocks[1].while: names T hoist, which the interlock itself "
     "holds"},
    {{"venue", "  arch: {name: arch,",
      "  interlocks:\n    - {name: itself, machine: L-B1, while: L, within: [0, 1]}\n"
      "  arch: {name: arch,"},
     "venue.yaml:45:7: machines.interlocks[1].while: names L-B1, which the interlock itself holds"},
    {{"layout", "from: L-A1, to: L-B2, height", "from: L-A1, to: L-Z9, height"},
     "layout.yaml:11:7: machines.lifts[1].to: unknown lift section 'L-Z9'; sections are named "
     "GRID-ColumnRow, such as L-A1"},
    {{"layout", "hoist: 0", "hoist: 2.5"},
     "layout.yaml:14:7: machines.towers[1].hoist: T would be at 2.500 m; its travel is 0.000 to "
     "2.000 m"},
    {{"layout", "{name: T,", "{name: U,"},
     "layout.yaml:14:14: machines.towers[1].name: unknown tower 'U'; allowed: T"},
    /* seats */
    {{"layout", "fill: {from: L-A1, to: L-B2}",
      "straight: {front: [6, 3.0], facing_deg: 0, rows: 1, seats: 3}"},
     "layout.yaml:18:5: blocks[1]: Stalls row 1 seat 1 is unsupported: it stands over an edge "
     "between "
     "two heights (and 2 more of this block)"},
    {{"layout", "fill: {from: L-A1, to: L-B2}",
      "straight: {front: [2, 3.5], facing_deg: 0, rows: 1, seats: 3}"},
     "layout.yaml:18:5: blocks[1]: Stalls row 1 seat 1 is unsupported: no lift is under it (and 2 "
     "more of this block)"},
    {{"layout",
      "stands_on: lifts\n    seat_width: 0.5\n    row_depth: 1.0\n    fill: {from: L-A1, to: L-B2}",
      "stands_on: floor\n    seat_width: 0.5\n    row_depth: 1.0\n"
      "    straight: {front: [6, 3.5], facing_deg: 0, rows: 1, seats: 2}"},
     "layout.yaml:18:5: blocks[1]: Stalls row 1 seat 1 is unsupported: the lift under it is not at "
     "floor level; write 'stands_on: lifts' (and 1 more of this block)"},
    {{"layout",
      "stands_on: lifts\n    seat_width: 0.5\n    row_depth: 1.0\n    fill: {from: L-A1, to: L-B2}",
      "stands_on: floor\n    seat_width: 0.5\n    row_depth: 1.0\n"
      "    straight: {front: [0.3, 1], facing_deg: 0, rows: 1, seats: 2}"},
     "layout.yaml:18:5: blocks[1]: Stalls row 1 seat 1 lies outside the room's footprint"},
    {{"layout",
      "stands_on: lifts\n    seat_width: 0.5\n    row_depth: 1.0\n    fill: {from: L-A1, to: L-B2}",
      "stands_on: floor\n    seat_width: 0.5\n    row_depth: 0.4\n"
      "    straight: {front: [2, 1], facing_deg: 0, rows: 1, seats: 2}\n"
      "  - name: Other\n    stands_on: floor\n    seat_width: 0.5\n    row_depth: 0.9\n"
      "    straight: {front: [2, 1.1], facing_deg: 0, rows: 1, seats: 1}"},
     "layout.yaml:18:5: blocks[1]: Stalls row 1 seat 1 overlaps Other row 1 seat 1"},
    {{"layout",
      "stands_on: lifts\n    seat_width: 0.5\n    row_depth: 1.0\n    fill: {from: L-A1, to: L-B2}",
      "stands_on: floor\n    seat_width: 0.5\n    row_depth: 1.0\n"
      "    straight: {front: [11, 4], facing_deg: 270, rows: 1, seats: 1}"},
     "layout.yaml:18:5: blocks[1]: Stalls row 1 seat 1 stands inside T low"},
    {{"layout", "seat_width: 0.5", "seat_width: 2.5"},
     "layout.yaml:18:5: blocks[1]: fills no seat: row_depth or seat_width is larger than a tread"},
    /* rails, facade */
    {{"layout", "height: 1.1", "height: 0.7"},
     "layout.yaml:24:5: rails[1].height: is below the 0.800 m that the venue's own local rules "
     "allow; "
     "local code and a licensed professional decide"},
    {{"venue", "buildup: pane, shade", "buildup: pain, shade"},
     "venue.yaml:22:47: facade.glazing[1].buildup: unknown build-up 'pain'; did you mean 'pane'?"},
    {{"venue", "start: [0, 2]", "start: [1, 2]"},
     "venue.yaml:21:7: facade.glazing[1]: west does not lie on an edge of the room's footprint"},
    {{"venue", "layers: [{glass_mm: 8}]", "layers: [{glass: 8}]"},
     "venue.yaml:16:16: facade.buildups[1].layers[1]: needs one of glass_mm, plate_mm, "
     "interlayer_mm, gap_mm, porous_mm, sheet_kgm2"},
    {{"venue", "layers: [{glass_mm: 8}]",
      "layers: [{glass_mm: 8}, {interlayer_mm: 0.76, loss: 0.3}, {glass_mm: 8}]"},
     "venue.yaml:16:31: facade.buildups[1].layers[2].loss: belongs to a constant modulus; give it "
     "under shear_mpa"},
    {{"venue", "layers: [{glass_mm: 8}]", "layers: [{glass_mm: 8}]\n      temperature_c: 70"},
     "venue.yaml:17:22: facade.buildups[1].temperature_c: is 70; allowed: -20 to 60"},
    {{"venue", "facade:\n", "facade:\n  temperature_c: -30\n"},
     "venue.yaml:14:18: facade.temperature_c: is -30; allowed: -20 to 60"},
    {{"venue", "facade:\n", "facade:\n  finite_panes: 2\n"},
     "venue.yaml:14:17: facade.finite_panes: is '2'; allowed: yes, no"},
    {{"venue", "layers: [{glass_mm: 8}]",
      "layers: [{interlayer_mm: 1, relaxation: {instant_mpa: 9, terms: [[2, 1]], wlf: [9, 90]}}]"},
     "venue.yaml:16:71: facade.buildups[1].layers[1].relaxation.terms: has shares that add up to "
     "more than 1"},
    {{"venue", "layers: [{glass_mm: 8}]",
      "layers: [{interlayer_mm: 1, relaxation: {instant_mpa: 9, terms: [[1, 0]], wlf: [9, 90]}}]"},
     "venue.yaml:16:72: facade.buildups[1].layers[1].relaxation.terms[1]: has a time of 0; [share, "
     "time in s]"},
    {{"venue", "layers: [{glass_mm: 8}]",
      "layers: [{interlayer_mm: 1, relaxation: {instant_mpa: 9, terms: [[1, 1]], wlf: [9, 30]}}]"},
     "venue.yaml:16:86: facade.buildups[1].layers[1].relaxation.wlf: does not reach down to -20 "
     "degC: [C1, C2 in K], C2 above reference_c + 20"},
    {{"venue", "layers: [{glass_mm: 8}]", "layers: [{porous_mm: 50}]"},
     "venue.yaml:16:16: facade.buildups[1].layers[1].resistivity_pasm2: is missing"},
    {{"venue", "layers: [{glass_mm: 8}]", "layers: [{sheet_kgm2: 1, resistance_pasm: 0}]"},
     "venue.yaml:16:49: facade.buildups[1].layers[1].resistance_pasm: is 0; allowed: 1 to "
     "10000000"},
    {{"venue", "insertion_loss_db: [1, 1, 2, 3, 4, 5],", ""},
     "venue.yaml:18:7: facade.shades[1]: needs insertion_loss_db, layers, or both"},
    {{"venue", "insertion_loss_db: [1, 1, 2, 3, 4, 5],", "layers: [],"},
     "venue.yaml:18:28: facade.shades[1].layers: has 0 layers; 1 to 8 are allowed"},
    {{"venue", "layers: [{glass_mm: 8}]", "measured: none.csv"}, NULL},
    {{"pass", "70, 70, 70, 70, 70, 70, 70]", "70, 70, 70, 70, 70, 70]"},
     "pass.yaml:7:13: spectrum.level_db: needs 21 thirds 50-5000 Hz or 7 octaves 63-4000 Hz"},
    {{"pass", "  reference_distance: 300\n", "  reference_distance: 300\n  level_file: none.csv\n"},
     "pass.yaml:6:3: spectrum: needs either level_db or level_file"},
    {{"layout", "axis_deg: 180\n",
      "axis_deg: 180\nreverberation: {measured_s: [1, 1, 1, 1, 1, 70]}\n"},
     "layout.yaml:7:45: reverberation.measured_s[6]: is 70; allowed: 0.05 to 60"},
    {{"brief", "nc: 25", "nc: 5"}, "brief.yaml:3:13: noise.nc: is 5; allowed: 15 to 70"},
};

Test(refusals, each_bad_input_gives_its_exact_line) {
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        hall *h = hall_open(refusals[i].what, (change){0});
        cr_expect_eq(h->status, GRADIN_BAD_INPUT, "'%s' was accepted", refusals[i].what.to);
        if (refusals[i].text) cr_expect_str_eq(hall_first(h), refusals[i].text);
        hall_close(h);
    }
}

Test(refusals, missing_measured_file_is_named) {
    hall *h =
        hall_open((change){"venue", "layers: [{glass_mm: 8}]", "measured: none.csv"}, (change){0});
    cr_expect_eq(h->status, GRADIN_BAD_INPUT);
    cr_expect(strstr(hall_first(h), "none.csv cannot be opened: No such file or directory"), "%s",
              hall_first(h));
    hall_close(h);
}

Test(refusals, clashing_machines_are_named) {
    hall *h = hall_open((change){"layout", "height: 0.5,", "height: 0.9,"},
                        (change){"layout", "slide: 0}", "slide: 2.5}"});
    cr_expect_str_eq(hall_first(h),
                     "layout.yaml:11:7: machines.lifts[1]: machines clash: T low meets "
                     "L-B1 between 0.80 m and 0.90 m");
    hall_close(h);
    h = hall_open((change){"venue", "front: [10, 4]", "front: [1, 4]"},
                  (change){"venue", "facing_deg: 270", "facing_deg: 90"});
    cr_expect_str_eq(hall_first(h), "layout.yaml:14:7: machines.towers[1]: machines clash: T low "
                                    "stands outside the room's footprint");
    hall_close(h);
}

Test(refusals, several_errors_come_at_once) {
    hall *h = hall_open((change){"layout", "axis_deg: 180", "axis_deg: x"},
                        (change){"layout", "seat_width: 0.5", "seat_wide: 0.5"});
    cr_expect_eq(h->error.n_diagnostic, 2); /* axis, the slip in the key */
    hall_close(h);
}

static void expect_at(const hall *h, int i, int line, int column, const char *key) {
    const gradin_diagnostic *d = &h->error.diagnostic[i];
    cr_expect(d->line == line && d->column == column && strcmp(d->key, key) == 0, "%d:%d: %s: %s",
              d->line, d->column, d->key, d->text);
}

/* An unknown key stands at its own place, also where its value is on another line or in a flow map.
 * The required key that it plainly stands for is not missing as well; any other one is. */
Test(refusals, unknown_keys_stand_where_they_are) {
    hall *h = hall_open((change){"layout", "seat_width: 0.5", "seat_wide: 0.5"},
                        (change){"layout", "riser: 0.2", "risr: 0.2"});
    cr_expect_eq(h->error.n_diagnostic, 2);
    expect_at(h, 0, 12, 28, "machines.lifts[1].terrace.risr");
    expect_at(h, 1, 20, 5, "blocks[1].seat_wide");
    hall_close(h);
    h = hall_open((change){"layout", "seat_width: 0.5", "upholstery: 0.5"}, (change){0});
    cr_expect_eq(h->error.n_diagnostic, 2);
    expect_at(h, 0, 20, 5, "blocks[1].upholstery");
    expect_at(h, 1, 18, 5, "blocks[1].seat_width");
    hall_close(h);
}

Test(refusals, deep_nesting_stops_early) {
    char deep[4000] = "axis_deg: ";
    for (int i = 0; i < 1500; i++) strcat(deep, "[");
    hall *h = hall_open((change){"layout", "axis_deg: 180", deep}, (change){0});
    cr_expect_eq(h->status, GRADIN_BAD_INPUT);
    cr_expect(strstr(hall_first(h), "nested deeper than 32 levels"), "%s", hall_first(h));
    hall_close(h);
}

Test(refusals, missing_file) {
    gradin_error error = {0};
    const char *kind;
    cr_expect_eq(gradin_file_check("/nonexistent.yaml", -1, &kind, &error), GRADIN_BAD_INPUT);
    cr_expect_str_eq(error.diagnostic[0].text, "cannot be opened: No such file or directory");
}
