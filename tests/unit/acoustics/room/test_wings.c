/* When one diffuse field is refused: plans whose parts lie round a corner. */
#include "acoustics/room/limits.h"

#include <criterion/criterion.h>
#include <string.h>

#include "gradin/acoustics/event.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

TestSuite(wings, .init = desk_open, .fini = desk_close);

static double off_db(const chamber *c, gradin_vec2 *corner_m) {
    gradin_vec2 scratch_m[16];
    return gradin_wing_off_db(&c->model, corner_m, scratch_m);
}

static void put_seats(chamber *c, double x_m, double y_m) {
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        c->floor_m[i] = (gradin_vec3){x_m + 0.1 * i, y_m, 0.0};
        c->eye_m[i] = (gradin_vec3){x_m + 0.1 * i, y_m, 1.2};
    }
}

/* 20 x 20 m less 10 x 10 m, 7 m high, even absorption of 0.3, a pane in the south wall of the east
 * leg and a vent beside it. */
static void make_ell(chamber *c, gradin_vec2 *ell) {
    const gradin_vec2 corner_m[6] = {{0, 0}, {20, 0}, {20, 10}, {10, 10}, {10, 20}, {0, 20}};
    memcpy(ell, corner_m, sizeof corner_m);
    chamber_make(c, 20, 20, 7, 0.3);
    c->model.footprint = (gradin_polygon){ell, 6};
    c->model.volume_m3 = 300.0 * 7.0;
    c->model.n_element = 1;
    c->surface[GRADIN_SURFACE_FLOOR].area_m2 -= 100.0;
    c->surface[GRADIN_SURFACE_CEILING].area_m2 -= 100.0;
    c->element[0].corner_m = (gradin_vec3){14.0, 0.0, 2.0};
    c->element[0].width_m = 5.0;
    c->model.room_method = GRADIN_ROOM_DIFFUSE;
    put_seats(c, 3.0, 17.0);
}

/* By hand: either leg has 2 x 100 m2 of floor and ceiling and 30 m x 7 m of wall: 410 m2 at nearly
 * 0.3 (less the glass) beside a cut of 70 m2, 10 lg(1 + 123/70) = 4.4 dB. */
Test(wings, a_leg_round_the_corner_is_refused_unless_it_is_insisted_on) {
    chamber c;
    gradin_vec2 ell[6], at_m = {0.0, 0.0};
    gradin_prepared_room room;
    gradin_error error = {0};
    make_ell(&c, ell);
    double db = off_db(&c, &at_m);
    cr_expect(db > 4.2 && db < 4.45, "%.2f dB", db);
    cr_expect(at_m.x == 10.0 && at_m.y == 10.0);
    cr_expect_eq(gradin_room_prepare(desk_arena, &c.model, NULL, &room, &error), GRADIN_BAD_INPUT);
    cr_expect_not_null(strstr(error.diagnostic[0].text, "room_diffuse_anyway: yes"));
    c.model.has_diffuse_anyway = true;
    cr_expect_eq(gradin_room_prepare(desk_arena, &c.model, NULL, &room, NULL), GRADIN_OK);
    c.model.has_diffuse_anyway = false;
    c.model.room_method = GRADIN_ROOM_RADIOSITY;
    c.model.room_patch_m = 4.0;
    cr_expect_eq(gradin_room_prepare(desk_arena, &c.model, NULL, &room, NULL), GRADIN_OK);
}

/* The other way round, mirrored, and turned by a corner: the same figure. */
Test(wings, the_order_of_the_corners_does_not_matter) {
    chamber c;
    gradin_vec2 ell[6], turned[6], at_m;
    make_ell(&c, ell);
    double db = off_db(&c, &at_m);
    for (int k = 0; k < 12; k++) {
        for (int i = 0; i < 6; i++) turned[i] = ell[(k < 6 ? k + i : k + 5 - i) % 6];
        c.model.footprint = (gradin_polygon){turned, 6};
        cr_expect_float_eq(off_db(&c, &at_m), db, 1e-9, "order %d", k);
    }
}

Test(wings, nothing_is_refused_where_little_is_parted) {
    chamber c;
    gradin_vec2 ell[6], at_m;
    make_ell(&c, ell);
    put_seats(&c, 14.0, 5.0);
    cr_expect_lt(off_db(&c, &at_m), 4.5);
    ell[2].y = ell[3].y = 18.0; /* a notch of 2 x 2 m in a corner */
    ell[3].x = ell[4].x = 18.0;
    cr_expect_lt(off_db(&c, &at_m), 3.0);
    const gradin_vec2 box[4] = {{0, 0}, {20, 0}, {20, 20}, {0, 20}};
    memcpy(ell, box, sizeof box);
    c.model.footprint = (gradin_polygon){ell, 4};
    cr_expect_eq(off_db(&c, &at_m), 0.0);
}

/* More absorption, and a longer leg behind the same cut, part more. */
Test(wings, more_that_takes_parts_more) {
    chamber c;
    gradin_vec2 ell[6], at_m;
    make_ell(&c, ell);
    double db = off_db(&c, &at_m);
    ell[4].y = ell[5].y = 17.5;
    cr_expect_lt(off_db(&c, &at_m), db + 1e-9);
    ell[4].y = ell[5].y = 20.0;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        for (int i = 0; i < GRADIN_N_SURFACE; i++) c.surface[i].absorption[b] = 0.6;
    cr_expect_gt(off_db(&c, &at_m), db + 1.0);
}
