/* Where the diffuse room is said to be wrong, and that it is: against radiosity, seat by seat. */
#include "acoustics/room/limits.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#include "acoustics/transfer/transfer.h"
#include "gradin/acoustics/event.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

TestSuite(limits, .init = desk_open, .fini = desk_close);

static gradin_transfer transfer_of(chamber *c, gradin_room_method method) {
    gradin_transfer made;
    gradin_error error = {0};
    c->model.room_method = method;
    cr_assert(gradin_transfer_make(desk_arena, &c->model,
                                   method == GRADIN_ROOM_DIFFUSE ? GRADIN_TRANSFER_BY_SIDE
                                                                 : GRADIN_TRANSFER_BY_ELEMENT,
                                   NULL, &made, &error) == GRADIN_OK,
              "%s", error.diagnostic[0].text);
    return made;
}

/* What is said of the room covers what its seats are off by, and not twice that where it is much.
 */
static void expect_covered(const chamber *c, double rms_db) {
    double beyond_db = NAN;
    char note[GRADIN_TEXT_CHARS];
    cr_assert(gradin_diffuse_note(&c->model, note, &beyond_db, NULL) == GRADIN_OK);
    cr_expect((beyond_db > 0.0) == (note[0] != '\0'));
    cr_expect(rms_db < fmax(beyond_db, 1.0) && (rms_db < 1.0 || beyond_db < 2.0 * rms_db),
              "%.2f dB rms, %.1f dB said", rms_db, beyond_db);
}

/* Worst difference of the two methods at 500 Hz, over seats and elements. */
static double worst_db(chamber *c) {
    double rows[CHAMBER_SEATS * CHAMBER_ELEMENTS], worst = 0.0, square = 0.0;
    c->model.room_patch_m = 3.0;
    gradin_transfer patches = transfer_of(c, GRADIN_ROOM_RADIOSITY);
    gradin_transfer diffuse = transfer_of(c, GRADIN_ROOM_DIFFUSE);
    gradin_transfer_rows(&diffuse, GRADIN_SHADES_OPEN, 10, 0, CHAMBER_SEATS, rows, NULL);
    for (int k = 0; k < CHAMBER_SEATS * CHAMBER_ELEMENTS; k++) {
        size_t at = gradin_transfer_at(&patches, 10, k / CHAMBER_ELEMENTS, k % CHAMBER_ELEMENTS);
        double off_db = 10.0 * log10(rows[k] / patches.whole_1m2[GRADIN_SHADES_OPEN][at]);
        worst = fmax(worst, fabs(off_db));
        square += off_db * off_db / (CHAMBER_SEATS * CHAMBER_ELEMENTS);
    }
    expect_covered(c, sqrt(square));
    return worst;
}

static const char *note_of(const chamber *c) {
    static char note[GRADIN_TEXT_CHARS];
    double beyond_db;
    cr_assert(gradin_diffuse_note(&c->model, note, &beyond_db, NULL) == GRADIN_OK);
    return note;
}

static void set_floor(chamber *c, double alpha) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        c->surface[GRADIN_SURFACE_FLOOR].absorption[b] =
            c->surface[GRADIN_SURFACE_SEATING].absorption[b] = alpha;
}

/* Long, broad and high, the floor's absorption, the rest's, and the least and most that seats may
 * differ by. Without a note at most 1.05 dB, with one more than 1 dB somewhere. */
Test(limits, boxes) {
    static const struct {
        double x_m, y_m, z_m, floor, rest, least_db, most_db;
        const char *why;
    } box[] = {
        {12, 10, 8, 0.3, 0.3, 0.0, 0.3, ""},        {20, 10, 8, 0.5, 0.5, 0.3, 0.9, ""},
        {23.9, 10, 8, 0.4, 0.4, 0.5, 1.05, ""},     {16, 16, 5.4, 0.3, 0.3, 0.5, 1.05, ""},
        {24, 24, 6, 0.3, 0.3, 1.2, 1.7, "as long"}, {30, 30, 6, 0.4, 0.4, 2.0, 2.4, "as long"},
        {50, 10, 8, 0.4, 0.4, 1.7, 2.1, "as long"}, {12, 10, 8, 0.9, 0.2, 1.0, 1.4, "half"}};
    for (size_t k = 0; k < sizeof box / sizeof *box; k++) {
        chamber c;
        chamber_make(&c, box[k].x_m, box[k].y_m, box[k].z_m, box[k].rest);
        set_floor(&c, box[k].floor);
        double db = worst_db(&c);
        printf("diffuse room of %g x %g x %g m: %.2f dB from radiosity\n", box[k].x_m, box[k].y_m,
               box[k].z_m, db);
        cr_expect(db >= box[k].least_db && db <= box[k].most_db, "box %zu: %.2f dB", k, db);
        const char *note = note_of(&c);
        cr_expect(box[k].why[0] ? strstr(note, box[k].why) != NULL : note[0] == '\0', "box %zu: %s",
                  k, note);
    }
}

/* An L that keeps three quarters of its outline, and a small notch that is none to speak of. */
Test(limits, plans_that_turn_inwards) {
    chamber c;
    gradin_vec2 ell[6] = {{0, 0}, {12, 0}, {12, 5}, {6, 5}, {6, 10}, {0, 10}};
    chamber_make(&c, 12, 10, 8, 0.3);
    cr_expect_str_empty(note_of(&c));
    c.model.footprint = (gradin_polygon){ell, 6};
    cr_expect(strstr(note_of(&c), "turns inwards") != NULL, "%s", note_of(&c));
    ell[2].y = ell[3].y = 9.0;
    ell[3].x = ell[4].x = 11.0;
    cr_expect_str_empty(note_of(&c));
}

/* 30 x 9 m but for a corner, whose edge alone has a nearly square rectangle round the plan: the
 * smallest counts, and 30 is more than 3 times 9. 26 x 9 m is not. */
Test(limits, the_smallest_rectangle_round_a_plan_tells_how_long_it_is) {
    chamber c;
    gradin_vec2 plan[5] = {{0, 1}, {0, 9}, {30, 9}, {30, 0}, {1, 0}};
    chamber_make(&c, 30, 9, 12, 0.3);
    c.model.footprint = (gradin_polygon){plan, 5};
    cr_expect(strstr(note_of(&c), "as long") != NULL, "%s", note_of(&c));
    plan[2].x = plan[3].x = 26.0;
    cr_expect_str_empty(note_of(&c));
}

/* An L with walls of its own, 20 x 20 m less 10 x 10 m: pane and vent feed one leg, and half of the
 * seats lie round the corner, where a diffuse field would be as loud. */
Test(limits, a_diffuse_room_is_wrong_round_a_corner_and_says_so) {
    chamber c;
    gradin_vec2 ell[6] = {{0, 0}, {20, 0}, {20, 10}, {10, 10}, {10, 20}, {0, 20}};
    chamber_make(&c, 20, 20, 7, 0.3);
    c.model.footprint = (gradin_polygon){ell, 6};
    c.model.volume_m3 = 300.0 * 7.0;
    c.surface[GRADIN_SURFACE_FLOOR].area_m2 -= 100.0;
    c.surface[GRADIN_SURFACE_CEILING].area_m2 -= 100.0;
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        gradin_vec3 at_m = i < 4 ? (gradin_vec3){12.0 + 2.0 * i, 3.0, 1.2}
                                 : (gradin_vec3){3.0, 2.5 * i + 1.0, 1.2};
        c.eye_m[i] = at_m;
        c.floor_m[i] = (gradin_vec3){at_m.x, at_m.y, 0.0};
    }
    c.element[0].corner_m = (gradin_vec3){14.0, 0.0, 2.0};
    c.element[0].width_m = 5.0;
    c.element[1].corner_m = (gradin_vec3){20.0, 5.0, 3.0};
    c.element[1].along = (gradin_vec2){0.0, 1.0};
    c.element[1].outward = (gradin_vec2){1.0, 0.0};
    double db = worst_db(&c);
    printf("diffuse room in an L of 20 x 20 m: %.2f dB from radiosity\n", db);
    cr_expect(db > 5.0 && db < 6.0, "%.2f dB", db);
    cr_expect(strstr(note_of(&c), "turns inwards") != NULL, "%s", note_of(&c));
    gradin_prepared_room room;
    c.model.has_diffuse_anyway = true; /* it is refused else: test_wings.c */
    c.model.room_method = GRADIN_ROOM_DIFFUSE;
    cr_assert(gradin_room_prepare(desk_arena, &c.model, NULL, &room, NULL) == GRADIN_OK);
    cr_expect_float_eq(room.uncertainty.room_db, hypot(2.0, 4.0), 1e-9);
    c.model.room_method = GRADIN_ROOM_RADIOSITY;
    cr_assert(gradin_room_prepare(desk_arena, &c.model, NULL, &room, NULL) == GRADIN_OK);
    cr_expect_float_eq(room.uncertainty.room_db, 2.0, 1e-9);
}
