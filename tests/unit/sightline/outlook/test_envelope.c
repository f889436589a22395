/* Rooms that are no rectangle, places of complaints, and memory that runs out. */
#include "base/faults.h"
#include "unit/sightline/outlook/glass_room.h"

#include <criterion/criterion.h>
#include <string.h>

static glass_room r;

static void add_west_pane(double x_m, double outward_x) {
    gradin_element *e = room_pane(&r, x_m, 0.0, 8.0, 4.0);
    e->along = (gradin_vec2){0.0, 1.0};
    e->outward = (gradin_vec2){outward_x, 0.0};
}

/* Two wings with a court between them, joined at the north. From the west one looks through the
 * west wing's outer and inner glass, the court, and the east wing's inner glass: each wall on the
 * way must be open. */
static const gradin_vec2 court[8] = {{0.0, 0.0}, {4.0, 0.0},  {4.0, 8.0},   {8.0, 8.0},
                                     {8.0, 0.0}, {12.0, 0.0}, {12.0, 12.0}, {0.0, 12.0}};

static void start_court(int n_pane) {
    static const double x_m[3] = {0.0, 4.0, 8.0};
    room_start(&r);
    r.hall.model.footprint = (gradin_polygon){court, 8};
    for (int i = 0; i < n_pane; i++) add_west_pane(x_m[i], i == 1 ? 1.0 : -1.0);
    room_point(&r, -4.0, 4.0, 1.6);
    hall_focus(&r.hall, 10.0, 4.0, 2.0, 4.0, 0.0, 1.0);
}

Test(outlook_envelope, every_wall_on_the_way_must_be_open) {
    for (int n_pane = 0; n_pane <= 3; n_pane++) {
        start_court(n_pane);
        gradin_outlook o = room_look(&r, false);
        cr_assert(o.standing[0] == (n_pane == 3 ? 1.0 : 0.0), "%d: %.3f", n_pane, o.standing[0]);
        room_end(&r);
    }
}

/* In the court one is outside, also where the plan's box would have it inside. */
Test(outlook_envelope, a_court_is_outside) {
    start_court(3);
    room_point(&r, 6.0, 4.0, 1.6);
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.standing[1] == 1.0 && fabs(o.away_m[1] - 2.0) < 1e-12);
    room_end(&r);
}

/* A pane that hangs over the end of its edge opens both edges of a straight wall. */
Test(outlook_envelope, a_pane_opens_all_edges_that_it_lies_on) {
    static const gradin_vec2 split[5] = {
        {0.0, 0.0}, {5.0, 0.0}, {10.0, 0.0}, {10.0, 8.0}, {0.0, 8.0}};
    room_start(&r);
    r.hall.model.footprint = (gradin_polygon){split, 5};
    room_pane(&r, 1.0, 0.0, 8.0, 4.0);
    room_point(&r, 5.0, -2.0, 1.6);
    hall_focus(&r.hall, 5.0, 2.0, 2.0, 2.0, 0.0, 1.0);
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.standing[0] == 1.0 && o.area[0] == 1.0);
    room_end(&r);
}

Test(outlook_envelope, a_complaint_names_the_points_place) {
    static const gradin_place at = {.file = "street.csv", .line = 7};
    gradin_outlook o;
    gradin_error error = {0};
    start_court(3);
    r.point[0].eye_m.x = 2.0;
    r.point[0].at = &at;
    gradin_status status =
        gradin_outlook_compute(r.arena, &r.hall.model, &r.outside, NULL, &o, &error);
    cr_assert_eq(status, GRADIN_BAD_INPUT);
    cr_assert(error.diagnostic[0].line == 7 && strcmp(error.diagnostic[0].file, "street.csv") == 0);
    room_end(&r);
}

/* Whichever allocation fails, it is told; then all goes well again. */
Test(outlook_envelope, memory_that_runs_out_is_told) {
    gradin_outlook o;
    gradin_status status = GRADIN_NO_MEMORY;
    int n = 0;
    start_court(3);
    for (int i = 0; i < 3; i++) hall_seat(&r.hall, 1.0 + i, 2.0, 1.2);
    for (; status == GRADIN_NO_MEMORY && n < 1000; n++) {
        gradin_error error = {0};
        gradin_alloc_fail_at(n + 1);
        status = gradin_outlook_compute(r.arena, &r.hall.model, &r.outside, NULL, &o, &error);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || error.n_diagnostic == 1, "%d", n);
    }
    cr_assert_eq(status, GRADIN_OK);
    cr_assert(n > 30 && o.standing[0] == 1.0 && o.most > 0.0);
    room_end(&r);
}

/* So many occluders that rays go through the tree: bricks below the floor change nothing. */
Test(outlook_envelope, many_occluders_are_met_as_few_are) {
    static gradin_occluder many[6100];
    start_court(3);
    for (int i = 0; i < 3; i++) {
        hall_seat(&r.hall, 1.0 + i, 4.0, 1.2);
        r.hall.facing_deg[i] = 270.0;
    }
    hall_heads(&r.hall);
    gradin_outlook few = room_look(&r, false);
    gradin_scene *scene = &r.hall.model.scene;
    memcpy(many, scene->occluder, (size_t)scene->n_occluder * sizeof *many);
    for (int i = scene->n_occluder; i < 6100; i++)
        many[i] = (gradin_occluder){
            gradin_box((gradin_vec3){i % 12, i % 11, -50.0 - i}, 0.0, 0.1, 0.1, 0.1),
            GRADIN_CAUSE_STRUCTURE, GRADIN_NO_OWNER, 0};
    *scene = (gradin_scene){many, 6100};
    gradin_outlook o = room_look(&r, false);
    for (int i = 0; i < 3; i++)
        cr_assert(o.open_glass[i] == few.open_glass[i] && o.head[i] == few.head[i] &&
                  o.outline[i] == few.outline[i]);
    cr_assert(few.open_glass[2] > 0.0 && few.open_glass[2] < few.glass_ahead[2] &&
              few.outline[0] > 0.0 && few.outline[2] < 1.0);
    room_end(&r);
}
