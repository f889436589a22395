/* Where the diffuse room is said to be wrong, and that it is: against radiosity, seat by seat. */
#include "acoustics/room/limits.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#include "acoustics/transfer/transfer.h"
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

/* Worst difference of the two methods at 500 Hz, over seats and elements. */
static double worst_db(chamber *c) {
    double rows[CHAMBER_SEATS * CHAMBER_ELEMENTS], worst = 0.0;
    c->model.room_patch_m = 3.0;
    gradin_transfer patches = transfer_of(c, GRADIN_ROOM_RADIOSITY);
    gradin_transfer diffuse = transfer_of(c, GRADIN_ROOM_DIFFUSE);
    gradin_transfer_rows(&diffuse, GRADIN_SHADES_OPEN, 10, 0, CHAMBER_SEATS, rows, NULL);
    for (int k = 0; k < CHAMBER_SEATS * CHAMBER_ELEMENTS; k++) {
        size_t at = gradin_transfer_at(&patches, 10, k / CHAMBER_ELEMENTS, k % CHAMBER_ELEMENTS);
        worst =
            fmax(worst, fabs(10.0 * log10(rows[k] / patches.whole_1m2[GRADIN_SHADES_OPEN][at])));
    }
    return worst;
}

static const char *note_of(const chamber *c) {
    static char note[GRADIN_TEXT_CHARS];
    cr_assert(gradin_diffuse_note(&c->model, note, NULL) == GRADIN_OK);
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
