#include "small_hall.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A 12 x 12 m room with four lift sections of 2 m, one tower, an arch, one glazed wall. Invented.
 */
static const char venue_text[] =
    "format: gradin-venue-1\n"
    "units: m\n"
    "name: Small room\n"
    "room:\n"
    "  footprint: [[0, 0], [12, 0], [12, 12], [0, 12]]\n"
    "  ceiling: 8\n"
    "  absorption:\n"
    "    floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]\n"
    "    ceiling: [0.3, 0.3, 0.3, 0.3, 0.3, 0.3]\n"
    "    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]\n"
    "    seating: [0.6, 0.7, 0.8, 0.9, 0.9, 0.8]\n"
    "  local_rules: {rail_min: 0.8}\n"
    "facade:\n"
    "  buildups:\n"
    "    - name: pane\n"
    "      layers: [{glass_mm: 8}]\n"
    "  shades:\n"
    "    - {name: dark, insertion_loss_db: [1, 1, 2, 3, 4, 5],\n"
    "       absorption: [0.1, 0.2, 0.3, 0.4, 0.5, 0.5], close_s: 90}\n"
    "  glazing:\n"
    "    - {name: west, start: [0, 2], bearing_deg: 0, count: 4,\n"
    "       width: 2, height: 3, sill: 1, buildup: pane, shade: dark}\n"
    "  doors:\n"
    "    - {name: door, start: [4, 0], bearing_deg: 90, width: 1,\n"
    "       height: 2, sill: 0, buildup: pane, joint_r_db: 40}\n"
    "machines:\n"
    "  lifts:\n"
    "    - {name: L, origin: [4, 2], columns: 2, rows: 2, size: [2, 2],\n"
    "       travel: [-1, 2], steps_max: 2, riser: [0, 0.5],\n"
    "       facings_deg: [0, 90], speed_ms: 0.05}\n"
    "  towers:\n"
    "    - name: T\n"
    "      front: [10, 4]\n"
    "      facing_deg: 270\n"
    "      width: 2.2\n"
    "      depth: 1.8\n"
    "      hoist: [0, 2]\n"
    "      hoist_speed_ms: 0.005\n"
    "      slide: {bearing_deg: 270, range: [0, 3], speed_ms: 0.02}\n"
    "      levels:\n"
    "        - {name: low, deck: 1, thickness: 0.2, rows: 2,\n"
    "           row_depth: 0.9, riser: 0.3, seat_width: 0.55,\n"
    "           rail: {kind: bar, height: 0.9}}\n"
    "  arch: {name: arch, line: [[0, 8], [12, 8]], thickness: 0.2,\n"
    "         opening: [4, 10], trim: [3, 6], speed_ms: 0.02}\n";

static const char layout_text[] = "format: gradin-layout-1\n"
                                  "units: m\n"
                                  "name: Small layout\n"
                                  "venue: venue.yaml\n"
                                  "form: end_stage\n"
                                  "axis_deg: 180\n"
                                  "brief: brief.yaml\n"
                                  "overflight: pass.yaml\n"
                                  "machines:\n"
                                  "  lifts:\n"
                                  "    - {from: L-A1, to: L-B2, height: 0.5,\n"
                                  "       terrace: {steps: 2, riser: 0.2, facing_deg: 0}}\n"
                                  "  towers:\n"
                                  "    - {name: T, hoist: 0, slide: 0}\n"
                                  "focus:\n"
                                  "  - {name: stage, polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}\n"
                                  "blocks:\n"
                                  "  - name: Stalls\n"
                                  "    stands_on: lifts\n"
                                  "    seat_width: 0.5\n"
                                  "    row_depth: 1.0\n"
                                  "    fill: {from: L-A1, to: L-B2}\n"
                                  "rails:\n"
                                  "  - {name: back, kind: bar, path: [[4.1, 2.05], [7.9, 2.05]],\n"
                                  "     height: 1.1}\n";

static const char brief_text[] = "format: gradin-brief-1\n"
                                 "units: m\n"
                                 "noise: {nc: 25}\n";

static const char pass_text[] =
    "format: gradin-overflight-1\n"
    "units: m\n"
    "name: pass\n"
    "track: {point: [-200, 0], altitude: 300, bearing_deg: 180, speed_ms: 70}\n"
    "spectrum:\n"
    "  reference_distance: 300\n"
    "  level_db: [70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70,\n"
    "             70, 70, 70, 70, 70, 70, 70]\n";

static char folder[64];

static void remove_folder(void) {
    const char *name[] = {"venue", "layout", "brief", "pass"};
    char path[128];
    for (int i = 0; i < 4; i++) {
        snprintf(path, sizeof path, "%s/%s.yaml", folder, name[i]);
        unlink(path);
    }
    rmdir(folder);
}

static void make_folder(void) {
    if (folder[0]) return;
    strcpy(folder, "/tmp/gradin-layout-XXXXXX");
    cr_assert(mkdtemp(folder));
    atexit(remove_folder);
}

static void write_changed(const char *name, const char *text, const change *changes) {
    char path[128];
    snprintf(path, sizeof path, "%s/%s.yaml", folder, name);
    char *now = strdup(text);
    for (int i = 0; i < 2; i++) {
        if (!changes[i].file || strcmp(changes[i].file, name) != 0) continue;
        char *found = strstr(now, changes[i].from);
        cr_assert(found, "the passage '%s' is not in the %s", changes[i].from, name);
        char *next = malloc(strlen(now) + strlen(changes[i].to) + 1);
        sprintf(next, "%.*s%s%s", (int)(found - now), now, changes[i].to,
                found + strlen(changes[i].from));
        free(now);
        now = next;
    }
    FILE *out = fopen(path, "w");
    cr_assert(out);
    fputs(now, out);
    fclose(out);
    free(now);
}

const char *hall_path(const char *name) {
    static char path[128];
    make_folder();
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

hall *hall_open(change first, change second) {
    change changes[2] = {first, second};
    make_folder();
    write_changed("venue", venue_text, changes);
    write_changed("layout", layout_text, changes);
    write_changed("brief", brief_text, changes);
    write_changed("pass", pass_text, changes);
    hall *h = calloc(1, sizeof *h);
    cr_assert(h);
    h->arena = gradin_arena_create();
    h->status = gradin_model_read(h->arena, hall_path("layout.yaml"), &h->model, &h->error);
    return h;
}

void hall_close(hall *h) {
    gradin_arena_destroy(h->arena);
    free(h);
}

const char *hall_first(const hall *h) {
    static char text[2048];
    text[0] = '\0';
    if (h->error.n_diagnostic > 0)
        gradin_diagnostic_format(&h->error.diagnostic[0], text, sizeof text);
    const char *name = strstr(text, folder);
    return name ? name + strlen(folder) + 1 : text;
}
