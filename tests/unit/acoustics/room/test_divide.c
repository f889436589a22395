/* Two coupled rooms: the balance of powers, its limits, and the decay stepped through in time. */
#include "acoustics/room/divide.h"

#include <criterion/criterion.h>

#include "acoustics/envelope/element.h"

static const gradin_coupled rooms = {{3000.0, 7000.0}, {250.0, 600.0}, 80.0};

static double off(double a, double b) {
    return fabs(a / b - 1.0);
}

/* Solved by hand for k = 80: (330 g1 - 80 g2 = 4, 680 g2 = 80 g1) g1 = 4*680/(330*680 - 6400). */
Test(divide, balance_of_powers) {
    double g11 = 4.0 * 680.0 / (330.0 * 680.0 - 6400.0);
    cr_expect_lt(off(gradin_coupled_1m2(&rooms, 0, 0), g11), 1e-12);
    cr_expect_lt(off(gradin_coupled_1m2(&rooms, 1, 0), g11 * 80.0 / 680.0), 1e-12);
    cr_expect_lt(off(gradin_coupled_1m2(&rooms, 1, 0), gradin_coupled_1m2(&rooms, 0, 1)), 1e-12);
    for (int from = 0; from < 2; from++) /* what is fed in is what is absorbed */
        cr_expect_lt(off(gradin_coupled_1m2(&rooms, 0, from) * 250.0 +
                             gradin_coupled_1m2(&rooms, 1, from) * 600.0,
                         4.0),
                     1e-12);
}

Test(divide, shut_they_are_two_rooms_and_undivided_one) {
    gradin_coupled shut = rooms, whole = rooms;
    shut.coupling_m2 = 0.0;
    whole.coupling_m2 = 1e9;
    cr_expect_lt(off(gradin_coupled_1m2(&shut, 0, 0), 4.0 / 250.0), 1e-12);
    cr_expect_lt(off(gradin_coupled_1m2(&shut, 1, 1), 4.0 / 600.0), 1e-12);
    cr_expect_eq(gradin_coupled_1m2(&shut, 1, 0), 0.0);
    for (int room = 0; room < 2; room++) {
        cr_expect_lt(off(gradin_coupled_reverberation_s(&shut, room, 343.2),
                         gradin_reverberation_s(rooms.volume_m3[room], rooms.absorption_m2[room])),
                     1e-6);
        cr_expect_lt(off(gradin_coupled_reverberation_s(&whole, room, 343.2),
                         gradin_reverberation_s(10000.0, 850.0)),
                     1e-5);
        cr_expect_lt(off(gradin_coupled_1m2(&whole, room, 0), 4.0 / 850.0), 1e-5);
    }
}

/* Small openings couple by their own area (the textbook's k), the whole section without end. The
 * half fields: what runs at the wall is 1 and 0.3; each room's mean is that of what runs to and
 * from the wall; what passes is tau (1 - 0.3) S/4, and must be k/4 times the difference of the
 * means. */
Test(divide, coupling_of_an_opening) {
    cr_expect_lt(off(gradin_coupling_m2(300.0, 0.03), 0.03), 1.1e-4);
    cr_expect_eq(gradin_coupling_m2(300.0, 0.0), 0.0);
    cr_expect_gt(gradin_coupling_m2(300.0, 300.0), 1e8);
    for (double tau = 0.1; tau < 0.95; tau += 0.1) {
        double one = 1.0, other = 0.3;
        double mean = 0.5 * (one + (1.0 - tau) * one + tau * other);
        double other_mean = 0.5 * (other + (1.0 - tau) * other + tau * one);
        double k = gradin_coupling_m2(300.0, 300.0 * tau);
        cr_expect_lt(off(k * (mean - other_mean), tau * 300.0 * (one - other)), 1e-9);
    }
}

/* Steps E' = -(c/4V)((A + k) E - k E_other) from the steady state, and reads -5 and -35 dB. */
Test(divide, decay_as_stepped_through_in_time) {
    for (int room = 0; room < 2; room++) {
        double step_s = 1e-5, t_s = 0.0, t5_s = 0.0, e[2];
        for (int i = 0; i < 2; i++) e[i] = gradin_coupled_1m2(&rooms, i, room);
        double first = e[room];
        for (; e[room] > first * pow(10.0, -3.5); t_s += step_s) {
            double rate[2];
            for (int i = 0; i < 2; i++)
                rate[i] = 343.2 / 4.0 / rooms.volume_m3[i] *
                          ((rooms.absorption_m2[i] + rooms.coupling_m2) * e[i] -
                           rooms.coupling_m2 * e[1 - i]);
            for (int i = 0; i < 2; i++) e[i] -= step_s * rate[i];
            if (e[room] > first * pow(10.0, -0.5)) t5_s = t_s + step_s;
        }
        cr_expect_lt(off(gradin_coupled_reverberation_s(&rooms, room, 343.2), 2.0 * (t_s - t5_s)),
                     3e-4, "room %d", room);
    }
}

typedef struct box {
    gradin_vec2 corner_m[4];
    gradin_surface surface[GRADIN_N_SURFACE + 1];
    gradin_element door;
    gradin_divide divide;
    gradin_model model;
} box;

/* 20 x 30 x 10 m, everything at one absorption, cut at y = 20; a door of 6 m2 in the north wall. */
static void box_make(box *h, double alpha) {
    *h = (box){.corner_m = {{0, 0}, {20, 0}, {20, 30}, {0, 30}},
               .surface = {{"floor", 600.0, {0}},
                           {"ceiling", 600.0, {0}},
                           {"walls", 994.0, {0}},
                           {"seats", 0.0, {0}},
                           {"more", 30.0, {0}}}};
    for (int s = 0; s <= GRADIN_N_SURFACE; s++)
        for (int b = 0; b < GRADIN_N_BAND; b++) h->surface[s].absorption[b] = alpha;
    h->door = (gradin_element){.kind = GRADIN_ELEMENT_DOOR,
                               .corner_m = {8, 30, 0},
                               .along = {1, 0},
                               .outward = {0, 1},
                               .width_m = 2,
                               .height_m = 3,
                               .shade = -1};
    h->divide = (gradin_divide){.line_m = {{0, 20}, {20, 20}}, .section_m2 = 200.0};
    h->model = (gradin_model){.footprint = {h->corner_m, 4},
                              .ceiling_m = 10.0,
                              .volume_m3 = 6000.0,
                              .surface = h->surface,
                              .n_surface = GRADIN_N_SURFACE + 1,
                              .element = &h->door,
                              .n_element = 1,
                              .divide = &h->divide};
}

static gradin_room_field field_of(const box *h) {
    gradin_room_field field;
    cr_assert_eq(gradin_room_field_make(&h->model, GRADIN_SHADES_AS_SET, &field, NULL), GRADIN_OK);
    return field;
}

/* Shut off: the north is a room of 20 x 10 x 10 m on its own: 200 floor, 200 ceiling, 400 - 6
 * walls, a third of the 30 m2 more, 6 door at 0.03 (heavy glass, 1 kHz), 200 partition; the south
 * likewise. */
Test(divide, a_wall_makes_two_rooms) {
    enum { KILOHERTZ = 13 };
    box h;
    box_make(&h, 0.2);
    gradin_room_field field = field_of(&h);
    double air = gradin_room_air_4m(gradin_band_mid_hz(KILOHERTZ));
    double north_m2 = 200.0 + 200.0 + 400.0 + 10.0 + 200.0,
           south_m2 = 400.0 + 400.0 + 600.0 + 20.0 + 200.0;
    double north_alpha = ((north_m2 - 6.0) * 0.2 + 6.0 * 0.03) / north_m2;
    double north = gradin_eyring_m2(north_m2, north_alpha, 2000.0, air);
    double lost_m2[2] = {north_m2 * north_alpha + 2000.0 * air, south_m2 * 0.2 + 4000.0 * air};
    cr_expect_lt(
        off(field.reverberant_1m2[0][0][KILOHERTZ], 4.0 * (1.0 - north_alpha) / lost_m2[0]), 1e-9);
    cr_expect_lt(off(field.reverberant_1m2[1][1][KILOHERTZ], 4.0 * 0.8 / lost_m2[1]), 1e-9);
    cr_expect_eq(field.reverberant_1m2[1][0][KILOHERTZ], 0.0);
    cr_expect_lt(off(field.reverberation_s[0][KILOHERTZ], gradin_reverberation_s(2000.0, north)),
                 1e-6);
    cr_expect_eq(gradin_element_side(&h.model, &h.door), 0);
    cr_expect_eq(gradin_room_side(&h.model, (gradin_vec3){10, 5, 1}), 1);
}

/* Open over the whole section: what one undivided room gives, but for the door's own absorption,
 * which Eyring's logarithm takes in the smaller room. */
Test(divide, an_opening_as_wide_as_the_hall_divides_nothing) {
    box h;
    box_make(&h, 0.2);
    h.divide.opening_m2 = 200.0;
    gradin_room_field divided = field_of(&h);
    h.model.divide = NULL;
    gradin_room_field one = field_of(&h);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        for (int side = 0; side < 2; side++) {
            cr_expect_lt(off(divided.reverberation_s[side][b], one.reverberation_s[0][b]), 1e-4);
            for (int from = 0; from < 2; from++)
                cr_expect_lt(fabs(10.0 * log10(divided.reverberant_1m2[side][from][b] /
                                               one.reverberant_1m2[0][0][b])),
                             0.01);
        }
}

/* The wider the opening, the less apart the two sides; a closing element of R dB lets through as
 * much as an opening smaller by that. */
Test(divide, openings_and_what_closes_them) {
    box h;
    box_make(&h, 0.2);
    double before_db = 1e9;
    for (double open_m2 = 1.0; open_m2 < 200.0; open_m2 *= 2.0) {
        h.divide.opening_m2 = open_m2;
        gradin_room_field f = field_of(&h);
        double drop_db = 10.0 * log10(f.reverberant_1m2[1][1][10] / f.reverberant_1m2[0][1][10]);
        cr_expect(drop_db > 0.0 && drop_db < before_db);
        before_db = drop_db;
    }
    h.divide.opening_m2 = 100.0;
    h.divide.closed = 1.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        h.divide.closing_r_db[b] = 20.0;
        h.divide.closing_absorption[b] = 0.2;
    }
    gradin_room_field curtain = field_of(&h);
    h.divide.opening_m2 = 1.0;
    h.divide.closed = 0.0;
    gradin_room_field hole = field_of(&h);
    cr_expect_lt(
        fabs(10.0 * log10(curtain.reverberant_1m2[1][0][10] / hole.reverberant_1m2[1][0][10])),
        0.05); /* the hole takes 1 m2 of wall */
}

/* A slanting line: the parts' areas and walls add up to the whole's. */
Test(divide, nothing_is_lost_on_a_slanting_line) {
    box h;
    box_make(&h, 0.2);
    h.divide.line_m[0] = (gradin_vec2){0, 12};
    h.divide.line_m[1] = (gradin_vec2){20, 24};
    h.divide.opening_m2 = h.divide.section_m2 = hypot(20, 12) * 10.0;
    gradin_room_field divided = field_of(&h);
    h.model.divide = NULL;
    cr_expect_lt(off(divided.reverberation_s[1][10], field_of(&h).reverberation_s[1][10]), 1e-4);
    cr_expect_lt(off(divided.absorption_m2[10], field_of(&h).absorption_m2[10]), 1e-4);
}

/* Shut off along the same slanting line, by hand: the cut trapezoid south of it is 20 x (12 + 24) /
 * 2 = 360 m2 of plan, so the north has 240 m2 of floor and of ceiling, 18 + 20 + 6 = 44 m of wall,
 * 2/5 of the 30 m2 more, and the partition. */
Test(divide, a_slanting_wall_makes_two_rooms) {
    enum { KILOHERTZ = 13 };
    box h;
    box_make(&h, 0.2);
    h.divide.line_m[0] = (gradin_vec2){0, 12};
    h.divide.line_m[1] = (gradin_vec2){20, 24};
    h.divide.section_m2 = hypot(20, 12) * 10.0;
    gradin_room_field field = field_of(&h);
    double air = gradin_room_air_4m(gradin_band_mid_hz(KILOHERTZ));
    double north_m2 = 240.0 + 240.0 + 440.0 + 12.0 + h.divide.section_m2;
    double south_m2 = 360.0 + 360.0 + 560.0 + 18.0 + h.divide.section_m2;
    double north_alpha = ((north_m2 - 6.0) * 0.2 + 6.0 * 0.03) / north_m2;
    double lost_m2[2] = {north_m2 * north_alpha + 2400.0 * air, south_m2 * 0.2 + 3600.0 * air};
    cr_expect_lt(
        off(field.reverberant_1m2[0][0][KILOHERTZ], 4.0 * (1.0 - north_alpha) / lost_m2[0]), 1e-9);
    cr_expect_lt(off(field.reverberant_1m2[1][1][KILOHERTZ], 4.0 * 0.8 / lost_m2[1]), 1e-9);
}
