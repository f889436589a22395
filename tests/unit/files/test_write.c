/* Venues and layouts written to files: what reads back is the same, figure by figure. */
#include "gradin/files.h"
#include "unit/files/same_focus.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A folder that holds links to all files of another one. */
typedef struct desk {
    char folder[64];
    gradin_arena *arena;
    gradin_error error;
} desk;

static desk *desk_open(const char *from) {
    char command[600];
    desk *d = calloc(1, sizeof *d);
    strcpy(d->folder, "/tmp/gradin-write-XXXXXX");
    cr_assert(mkdtemp(d->folder));
    snprintf(command, sizeof command, "ln -s %s/%s/* %s/", GRADIN_SOURCE_DIR, from, d->folder);
    cr_assert_eq(system(command), 0);
    d->arena = gradin_arena_create();
    return d;
}

static void desk_close(desk *d) {
    char command[100];
    snprintf(command, sizeof command, "rm -r %s", d->folder);
    cr_assert_eq(system(command), 0);
    gradin_arena_destroy(d->arena);
    free(d);
}

static const char *path_of(desk *d, const char *name) {
    return gradin_arena_print(d->arena, "%s/%s", d->folder, name);
}

static void expect_ok(const desk *d, gradin_status status) {
    char line[1000] = "";
    if (d->error.n_diagnostic > 0)
        gradin_diagnostic_format(&d->error.diagnostic[0], line, sizeof line);
    cr_assert_eq(status, GRADIN_OK, "%s", line);
}

typedef struct hall {
    gradin_venue venue;
    gradin_layout layout;
    gradin_model model;
} hall;

static hall *hall_read(desk *d, const char *name) {
    hall *h = gradin_arena_alloc(d->arena, 1, sizeof *h);
    expect_ok(d, gradin_layout_read(d->arena, path_of(d, name), &h->venue, &h->layout, &d->error));
    expect_ok(d, gradin_model_build(d->arena, &h->venue, &h->layout, &h->model, &d->error));
    return h;
}

static const char *venue_text(desk *d, const hall *h, const char *units) {
    char *text = NULL;
    expect_ok(d, gradin_venue_write(d->arena, &h->venue, units, NULL, &text, &d->error));
    return text;
}

static const char *brief; /* a file that stays in its own unit; NULL: what it holds is written */
static const char *layout_text(desk *d, const hall *h, const char *overflight) {
    const gradin_layout_files files = {"new-venue.yaml", brief, overflight};
    char *text = NULL;
    expect_ok(d,
              gradin_layout_write(d->arena, &h->venue, &h->layout, &files, NULL, &text, &d->error));
    return text;
}

static void put(desk *d, const char *name, const char *text) {
    expect_ok(d, gradin_write_file(path_of(d, name), text, strlen(text), &d->error));
}

static hall *written(desk *d, const hall *h, const char *units, const char *overflight) {
    put(d, "new-venue.yaml", venue_text(d, h, units));
    put(d, "new-layout.yaml", layout_text(d, h, overflight));
    return hall_read(d, "new-layout.yaml");
}

static void same_numbers(const char *what, const void *a, const void *b, size_t bytes) {
    cr_assert(bytes == 0 || memcmp(a, b, bytes) == 0, "%s differs", what);
}

static void same_seats(const gradin_seats *a, const gradin_seats *b) {
    size_t n = (size_t)a->n_seat;
    cr_assert_eq(a->n_seat, b->n_seat);
    cr_assert(a->n_sheet == b->n_sheet && a->n_wheelchair == b->n_wheelchair);
    for (int i = 0; i < a->n_seat; i++) cr_assert_str_eq(a->id[i], b->id[i]);
    same_numbers("eye", a->eye_m, b->eye_m, n * sizeof *a->eye_m);
    same_numbers("floor", a->floor_m, b->floor_m, n * sizeof *a->floor_m);
    same_numbers("facing", a->facing_deg, b->facing_deg, n * sizeof(double));
    same_numbers("width", a->width_m, b->width_m, n * sizeof(double));
    same_numbers("depth", a->depth_m, b->depth_m, n * sizeof(double));
    same_numbers("section", a->section, b->section, n * sizeof(int));
    same_numbers("kind", a->kind, b->kind, n * sizeof *a->kind);
}

static void same_drive(const char *name, const gradin_drive *a, const gradin_drive *b) {
    cr_assert(a->speed_per_s == b->speed_per_s && a->accel_per_s2 == b->accel_per_s2 &&
                  a->prepare_s == b->prepare_s && a->mass_kg == b->mass_kg &&
                  a->power_kw == b->power_kw && a->crew == b->crew &&
                  a->are_people_near == b->are_people_near && a->at_once == b->at_once &&
                  a->turn_s == b->turn_s,
              "drive of %s", name);
}

static void same_machines(const gradin_machinery *a, const gradin_machinery *b) {
    cr_assert_eq(a->n_machine, b->n_machine);
    for (int i = 0; i < a->n_machine; i++) {
        const gradin_machine *m = &a->machine[i], *n = &b->machine[i];
        cr_assert_str_eq(m->name, n->name);
        same_drive(m->name, &m->drive, &n->drive);
        same_numbers(m->name, m->travel, n->travel, sizeof m->travel);
        cr_assert(gradin_setting_equal(&m->setting, &n->setting), "%s", m->name);
    }
    cr_assert_eq(a->n_interlock, b->n_interlock);
    for (int i = 0; i < a->n_interlock; i++) {
        const gradin_interlock *m = &a->interlock[i], *n = &b->interlock[i];
        cr_assert(m->n_mover == n->n_mover && m->n_holder == n->n_holder && m->has_at == n->has_at);
        same_numbers(m->name, m->within, n->within, sizeof m->within);
        same_numbers(m->name, m->mover, n->mover, (size_t)m->n_mover * sizeof(int));
    }
    cr_assert(a->crew == b->crew && a->power_kw == b->power_kw && a->rail_rate == b->rail_rate &&
              a->n_seating == b->n_seating && !a->store == !b->store);
    gradin_local_rules rules = b->rules;
    rules.wheelchair = a->rules.wheelchair; /* held by content */
    same_numbers("local rules", &a->rules, &rules, sizeof rules);
    same_numbers("table", a->rules.wheelchair, b->rules.wheelchair,
                 (size_t)rules.n_wheelchair * sizeof *rules.wheelchair);
    for (int i = 0; i < a->n_seating; i++)
        cr_assert(a->seating[i].set_rate == b->seating[i].set_rate &&
                  a->seating[i].seat_kg == b->seating[i].seat_kg &&
                  a->seating[i].is_stored == b->seating[i].is_stored);
    if (a->store) same_drive(a->store->name, &a->store->drive, &b->store->drive);
    same_numbers("live loads", a->loads.occupancy.load_kn_m2, b->loads.occupancy.load_kn_m2,
                 sizeof a->loads.occupancy.load_kn_m2);
}

static void same_elements(const gradin_model *a, const gradin_model *b) {
    cr_assert_eq(a->n_element, b->n_element);
    for (int i = 0; i < a->n_element; i++) {
        const gradin_element *e = &a->element[i], *f = &b->element[i];
        cr_assert_str_eq(e->name, f->name);
        same_numbers(e->name, &e->corner_m, &f->corner_m, sizeof e->corner_m);
        cr_assert(e->width_m == f->width_m && e->height_m == f->height_m &&
                  e->buildup == f->buildup && e->shade == f->shade && e->open == f->open &&
                  e->joint_r_db == f->joint_r_db && e->exit == f->exit);
        same_numbers("seals by band", e->joint_shape_db, f->joint_shape_db,
                     sizeof e->joint_shape_db);
    }
    for (int i = 0; i < a->n_surface; i++)
        same_numbers(a->surface[i].name, a->surface[i].absorption, b->surface[i].absorption,
                     sizeof a->surface[i].absorption);
}

static void same_layers(const char *name, const gradin_layer *a, const gradin_layer *b, int n) {
    for (int i = 0; i < n; i++)
        cr_assert(a[i].kind == b[i].kind && a[i].thickness_m == b[i].thickness_m &&
                      a[i].density_kgm3 == b[i].density_kgm3 && a[i].young_pa == b[i].young_pa &&
                      a[i].loss == b[i].loss && a[i].shear_pa == b[i].shear_pa &&
                      a[i].speed_ms == b[i].speed_ms &&
                      a[i].resistivity_pasm2 == b[i].resistivity_pasm2 &&
                      a[i].resistance_pasm == b[i].resistance_pasm &&
                      !a[i].relaxation == !b[i].relaxation,
                  "layer %d of %s", i, name);
}

static void same_glass(const gradin_model *a, const gradin_model *b) {
    cr_assert(a->n_buildup == b->n_buildup && a->n_shade == b->n_shade);
    for (int i = 0; i < a->n_buildup; i++) {
        const gradin_buildup *e = &a->buildup[i], *f = &b->buildup[i];
        cr_assert(e->n_layer == f->n_layer && e->temperature_c == f->temperature_c &&
                  e->is_measured == f->is_measured && e->frames == f->frames &&
                  e->has_lined_reveals == f->has_lined_reveals && e->is_flush == f->is_flush);
        same_layers(e->name, e->layer, f->layer, e->n_layer);
        if (e->is_measured)
            same_numbers(e->name, e->measured_r_db, f->measured_r_db, sizeof e->measured_r_db);
    }
    for (int i = 0; i < a->n_shade; i++) {
        same_layers(a->shade[i].name, a->shade[i].layer, b->shade[i].layer, a->shade[i].n_layer);
        same_numbers("loss", a->shade[i].insertion_loss_db, b->shade[i].insertion_loss_db,
                     sizeof a->shade[i].insertion_loss_db);
        cr_assert_eq(a->shade[i].closed, b->shade[i].closed);
    }
}

static void same_model(const gradin_model *a, const gradin_model *b) {
    same_seats(&a->seats, &b->seats);
    same_machines(a->machinery, b->machinery);
    same_elements(a, b);
    same_glass(a, b);
    cr_assert(a->volume_m3 == b->volume_m3 && a->rail_min_m == b->rail_min_m &&
              a->n_rail == b->n_rail && a->n_solid == b->n_solid && a->n_focus == b->n_focus);
    same_numbers("stock of each block", a->machinery->block_seating, b->machinery->block_seating,
                 (size_t)a->n_block * sizeof(int));
    cr_assert_eq(a->scene.n_occluder, b->scene.n_occluder);
    for (int i = 0; i < a->scene.n_occluder; i++) {
        const gradin_shape *s = &a->scene.occluder[i].shape, *t = &b->scene.occluder[i].shape;
        same_numbers("occluder", &s->bound_centre_m, &t->bound_centre_m, sizeof s->bound_centre_m);
        cr_assert(s->kind == t->kind && s->bound_radius_m == t->bound_radius_m);
    }
    for (int i = 0; i < a->n_focus; i++) same_focus(&a->focus[i], &b->focus[i]);
    same_numbers("audience", &a->audience, &b->audience, sizeof a->audience);
    cr_assert_eq(a->c_line != NULL, b->c_line != NULL);
    if (a->c_line) {
        cr_assert_str_eq(a->c_line->name, b->c_line->name);
        cr_assert(a->c_line->n_point == b->c_line->n_point && a->c_line->z_m == b->c_line->z_m);
        same_numbers("c_line", a->c_line->point_m, b->c_line->point_m,
                     (size_t)a->c_line->n_point * sizeof(gradin_vec2));
    }
    same_numbers("limits", &a->limits, &b->limits, offsetof(gradin_limits, is_stated));
}

/* Read, written, read: the same model, and the same text when written again. */
static void round_trip(const char *folder, const char *name, const char *overflight) {
    desk *d = desk_open(folder);
    hall *h = hall_read(d, name), *again = written(d, h, h->layout.units, overflight);
    same_model(&h->model, &again->model);
    cr_assert_str_eq(venue_text(d, again, h->layout.units), venue_text(d, h, h->layout.units));
    cr_assert_str_eq(layout_text(d, again, overflight), layout_text(d, h, overflight));
    desk_close(d);
}

Test(write, end_stage_and_thrust) {
    round_trip("demo", "end_stage.yaml", "approach.yaml");
    round_trip("demo", "thrust.yaml", "approach.yaml");
}

Test(write, round_and_traverse) {
    round_trip("demo", "round.yaml", "approach.yaml");
    round_trip("demo", "traverse.yaml", "approach.yaml");
}

Test(write, flat_floor_and_boxes) {
    round_trip("demo", "flat_floor.yaml", "approach.yaml");
    brief = "brief.yaml";
    round_trip("demo", "hexagon_stage.yaml", NULL);
}

Test(write, one_of_everything) {
    round_trip("tests/faults/hall", "layout.yaml", "pass.yaml");
    round_trip("tests/unit/files/rich", "layout.yaml", NULL);
}

/* A venue in metres written in feet has the same lengths to a rounding. */
Test(write, in_feet) {
    desk *d = desk_open("demo");
    hall *h = hall_read(d, "thrust.yaml");
    h->layout.units = "ft";
    hall *again = written(d, h, "ft", "approach.yaml");
    const gradin_seats *a = &h->model.seats, *b = &again->model.seats;
    cr_assert_eq(a->n_seat, b->n_seat);
    for (int i = 0; i < a->n_seat; i++)
        cr_assert_lt(gradin_norm(gradin_sub(a->eye_m[i], b->eye_m[i])), 1e-12);
    desk_close(d);
}

/* A room of 10 x 12 m with two lift sections and two rows of seats, made in memory. */
static void small_hall(desk *d, gradin_venue *v, gradin_layout *p) {
    static gradin_vec2 wall_m[] = {{0, 0}, {10, 0}, {10, 12}, {0, 12}};
    static gradin_vec2 stage_m[] = {{3, 8}, {7, 8}, {7, 10}, {3, 10}};
    static gradin_lift_grid grid;
    static gradin_block block;
    static gradin_focus focus;
    grid = gradin_lift_grid_defaults();
    grid.name = "L";
    grid.n_column = 2;
    grid.n_row = 1;
    grid.size_m[0] = grid.size_m[1] = 2.0;
    grid.travel_m[1] = 1.0;
    grid.drive.speed_per_s = 0.1 / 3.0;
    *v = gradin_venue_defaults();
    v->name = "Made";
    v->footprint = (gradin_polygon){wall_m, 4};
    v->ceiling_m = 6.0;
    v->rail_min_m = 0.8;
    v->grid = &grid;
    v->n_grid = 1;
    expect_ok(d, gradin_venue_complete(d->arena, v, &d->error));
    expect_ok(d, gradin_layout_defaults(d->arena, v, p, &d->error));
    block = gradin_block_defaults();
    block.name = "A";
    block.seat_width_m = 0.55;
    block.row_depth_m = 0.9;
    block.n_row = 2;
    block.n_seat = 5;
    block.front_m = (gradin_vec2){5.0, 6.0};
    block.facing_deg = 0.0;
    focus = gradin_focus_defaults();
    focus.name = "stage";
    focus.polygon = (gradin_polygon){stage_m, 4};
    p->name = "Made up";
    p->block = &block;
    p->n_block = 1;
    p->focus = &focus;
    p->n_focus = 1;
    p->machine[0].set.position = 1.0 / 3.0;
    p->machine[1].set.position = 1.0 / 3.0;
}

Test(write, a_layout_made_in_memory) {
    desk *d = desk_open("tests/faults/hall");
    hall *h = gradin_arena_alloc(d->arena, 1, sizeof *h);
    small_hall(d, &h->venue, &h->layout);
    expect_ok(d, gradin_model_build(d->arena, &h->venue, &h->layout, &h->model, &d->error));
    hall *again = written(d, h, "m", NULL);
    same_model(&h->model, &again->model);
    cr_assert_eq(again->layout.machine[1].set.position, 1.0 / 3.0);
    desk_close(d);
}

Test(write, one_entry) {
    desk *d = desk_open("tests/faults/hall");
    char *text = NULL;
    const gradin_lift_setting set[] = {{"L-A1", "L-B1", {1.0 / 3.0, 2, 0.25, 90.0}},
                                       {"L-A2", "L-A2", {-0.5, 1, 0.0, 0.0}}};
    const gradin_write_options rounded = {.is_rounded = true, .decimals = 4};
    expect_ok(d, gradin_lift_settings_write(d->arena, set, 2, "m", &rounded, &text, &d->error));
    cr_assert_str_eq(text, "    - {from: L-A1, to: L-B1, height: 0.3333, terrace: {steps: 2, "
                           "riser: 0.25, facing_deg: 90}}\n    - {from: L-A2, height: -0.5}\n");
    static const double rise_m[] = {0.0, 0.3048, 0.4572};
    expect_ok(
        d, gradin_block_rises_write(d->arena, 0.6096, rise_m, 3, "ft", &rounded, &text, &d->error));
    cr_assert_str_eq(text, "    base: 2\n    riser: [0, 1, 1.5]\n");
    gradin_rail_entry rail = gradin_rail_entry_defaults();
    static const gradin_vec2 path_m[] = {{0.3048, 0}, {3.048, 0}};
    rail.name = "rail 1, A south";
    rail.point_m = path_m;
    rail.n_point = 2;
    rail.height_m = 0.9144;
    expect_ok(d, gradin_rail_write(d->arena, &rail, "ft", NULL, &text, &d->error));
    cr_assert_str_eq(text, "  - {name: \"rail 1, A south\", kind: bar, path: [[1, 0], [10, 0]], "
                           "height: 3}\n");
    desk_close(d);
}

/* The reason that stands in the error. */
static void expect_misuse(desk *d, gradin_status status, const char *reason) {
    cr_assert_eq(status, GRADIN_BAD_USE);
    cr_assert_eq(d->error.n_diagnostic, 1);
    cr_assert(strstr(d->error.diagnostic[0].text, reason), "%s", d->error.diagnostic[0].text);
    gradin_error_clear(&d->error);
}

Test(write, what_no_file_can_state) {
    desk *d = desk_open("demo");
    hall *h = hall_read(d, "thrust.yaml");
    const gradin_layout_files files = {.venue = "hall.yaml"}, none = {NULL, NULL, "approach.yaml"};
    char *text = NULL;
    expect_misuse(
        d, gradin_layout_write(d->arena, &h->venue, &h->layout, &files, NULL, &text, &d->error),
        "overflight");
    expect_misuse(
        d, gradin_layout_write(d->arena, &h->venue, &h->layout, &none, NULL, &text, &d->error),
        "venue");
    ((gradin_buildup *)(uintptr_t)h->venue.buildup)[2].measured_file = NULL;
    expect_misuse(d, gradin_venue_write(d->arena, &h->venue, "m", NULL, &text, &d->error),
                  "measured_file");
    cr_assert_null(text);
    cr_assert_eq(gradin_venue_write(d->arena, NULL, "m", NULL, &text, NULL), GRADIN_BAD_USE);
    desk_close(d);
}

/* Each key has a value that is not its default. */
static const char list_layout[] =
    "format: gradin-layout-1\nunits: ft\nvenue: hall.yaml\nname: List\nform: flat_floor\n"
    "machines:\n  towers: [{name: N1, hoist: 24, seated: no}, {name: N2, hoist: 24, seated: no}]\n"
    "focus:\n  - {name: platform, polygon: [[30, 72], [68, 72], [68, 91], [30, 91]], z: 3}\n"
    "seat_lists:\n  - {file: list.csv, units: cm, separator: tab, decimal: comma, columns:\n     "
    "{place: [X 1, Y], eye: Z, facing: W, row: R, seat: S, block: B, level: L, kind: K},\n"
    "     only: [Left, \"Right, rear\"], facing_as: angle, origin: [3.3, 1.7], origin_height: "
    "0.7,\n"
    "     turn_deg: 12.5, y_down: yes, seat_width: 1.83, seat_depth: 1.1, row_depth: 3.07,\n"
    "     platform_kn_m2: 0.3, kinds: {seat: [P, Q], wheelchair: [W 1], companion: [C]}}\n"
    "  - {file: list.csv, name: All, level: upper, units: cm, separator: tab, decimal: comma,\n"
    "     columns: {place: [X 2, Y], row: R, seat: S}, faces: [50, 80], base: 0.3, row_depth: 3,\n"
    "     origin: [0, 80], seat_width: 1.7}\n";
static const char list_file[] =
    "X 1\tX 2\tY\tZ\tW\tR\tS\tB\tL\tK\n1200,5\t500\t-1000\t130,5\t90\tA\t1\tLeft\tone\tP\n"
    "1260\t610\t-1000\t130,5\t91\tA\t3\tLeft\tone\tW 1\n1320\t720\t-1000\t130,5\t92\tA\t5\tLeft"
    "\tone\tC\n1320\t830\t-1200\t140\t92\tB\t7b\tRight, rear\ttwo\tQ\n";

Test(write, seat_lists_with_columns_of_their_own) {
    desk *d = desk_open("demo");
    put(d, "list.csv", list_file);
    put(d, "list.yaml", list_layout);
    const hall *a = hall_read(d, "list.yaml");
    cr_assert_str_eq(a->model.seats.id[3], "Right, rear-B-7b");
    cr_assert_str_eq(a->model.seats.id[7], "All-B-7b");
    const hall *b = written(d, a, "m", NULL);
    same_seats(&a->model.seats, &b->model.seats);
    cr_assert_str_eq(layout_text(d, a, NULL), layout_text(d, b, NULL));
    desk_close(d);
}
