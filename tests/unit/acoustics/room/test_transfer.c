/* The transfer in its three forms against sums written out, its size, and its refusals. */
#include <criterion/criterion.h>
#include <string.h>

#include "acoustics/room/room.h"
#include "acoustics/transfer/transfer.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

enum { N_TIME = 5, N_VALUE = CHAMBER_SEATS * GRADIN_N_BAND * N_TIME };

TestSuite(transfer, .init = desk_open, .fini = desk_close);

/* A chamber with a block and a shade half way, so that no two states are alike. */
static void make_room(chamber *c, gradin_shade *shade) {
    chamber_make(c, 9.0, 8.0, 5.0, 0.2);
    chamber_block(c, (gradin_box2){3.0, 3.0, 5.0, 5.0}, 2.0);
    *shade = (gradin_shade){.name = "drape", .closed = 0.5};
    for (int b = 0; b < GRADIN_N_BAND; b++) shade->absorption[b] = 0.1 + 0.03 * b;
    c->model.shade = shade;
    c->model.n_shade = 1;
    c->element[0].shade = 0;
    c->model.room_patch_m = 2.5;
}

static gradin_transfer transfer_of(const chamber *c, gradin_transfer_form form) {
    gradin_transfer made;
    gradin_error error = {0};
    cr_assert(gradin_transfer_make(desk_arena, &c->model, form, NULL, &made, &error) == GRADIN_OK,
              "%s", error.diagnostic[0].text);
    cr_assert(made.form == form);
    return made;
}

static gradin_powers some_powers(const gradin_transfer *t, gradin_shade_state state) {
    gradin_powers p = {.n_time = N_TIME,
                       .let_in = desk_numbers(CHAMBER_ELEMENTS * GRADIN_N_BAND * N_TIME),
                       .let_in_a = desk_numbers(CHAMBER_ELEMENTS * N_TIME),
                       .fed = desk_numbers(gradin_transfer_feed_size(t, N_TIME))};
    for (int i = 0; i < CHAMBER_ELEMENTS * GRADIN_N_BAND * N_TIME; i++) {
        int e = i / N_TIME / GRADIN_N_BAND, b = i / N_TIME % GRADIN_N_BAND;
        p.let_in[i] = 1.0 + (double)(i * 7919 % 101) / 50.0;
        p.let_in_a[e * N_TIME + i % N_TIME] +=
            pow(10.0, 0.1 * gradin_a_weight_db(gradin_band_mid_hz(b))) * p.let_in[i];
    }
    gradin_transfer_feed(t, state, &p);
    return p;
}

/* Sum over the elements of power times the whole factor, from the rows. */
static double plain(const gradin_transfer *t, gradin_shade_state state, const gradin_powers *p,
                    int seat, int band, int time) {
    double row[CHAMBER_ELEMENTS], sum = 0.0;
    double *scratch = desk_numbers(gradin_transfer_scratch(t, 1) + 1);
    gradin_transfer_rows(t, state, band, seat, 1, row, scratch);
    for (int e = 0; e < CHAMBER_ELEMENTS; e++)
        sum += row[e] * p->let_in[(e * GRADIN_N_BAND + band) * N_TIME + time];
    return sum;
}

static void expect_plain_sums(const gradin_transfer *t, gradin_shade_state state) {
    gradin_powers p = some_powers(t, state);
    double *square = desk_numbers(N_VALUE), *square_a = desk_numbers(CHAMBER_SEATS * N_TIME);
    double *scratch = desk_numbers(gradin_transfer_scratch(t, CHAMBER_SEATS) + 1);
    /* two blocks: a first seat other than 0 counts */
    gradin_transfer_hear(t, state, &p, 0, 3, square, scratch);
    gradin_transfer_hear(t, state, &p, 3, CHAMBER_SEATS - 3, square + 3 * GRADIN_N_BAND * N_TIME,
                         scratch);
    gradin_transfer_hear_a(t, state, &p, 0, 3, square_a, scratch);
    gradin_transfer_hear_a(t, state, &p, 3, CHAMBER_SEATS - 3, square_a + 3 * N_TIME, scratch);
    for (int seat = 0; seat < CHAMBER_SEATS; seat++)
        for (int k = 0; k < N_TIME; k++) {
            double sum_a = 0.0;
            for (int b = 0; b < GRADIN_N_BAND; b++) {
                double wanted = plain(t, state, &p, seat, b, k);
                double got = square[(seat * GRADIN_N_BAND + b) * N_TIME + k];
                cr_assert(fabs(got / wanted - 1.0) < 1e-12, "form %d, seat %d, band %d: %g, not %g",
                          t->form, seat, b, got, wanted);
                sum_a += pow(10.0, 0.1 * gradin_a_weight_db(gradin_band_mid_hz(b))) * wanted;
            }
            cr_assert(fabs(square_a[seat * N_TIME + k] / sum_a - 1.0) < 1e-12, "form %d, seat %d",
                      t->form, seat);
        }
}

static void expect_heard(const gradin_transfer *t, gradin_shade_state state) {
    double sum[CHAMBER_ELEMENTS][GRADIN_N_BAND], row[CHAMBER_ELEMENTS];
    double *scratch = desk_numbers(gradin_transfer_scratch(t, 1) + 1);
    cr_assert(gradin_transfer_heard(t, state, sum, NULL) == GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double wanted[CHAMBER_ELEMENTS] = {0.0};
        for (int seat = 0; seat < CHAMBER_SEATS; seat++) {
            gradin_transfer_rows(t, state, b, seat, 1, row, scratch);
            for (int e = 0; e < CHAMBER_ELEMENTS; e++) wanted[e] += row[e];
        }
        for (int e = 0; e < CHAMBER_ELEMENTS; e++)
            cr_assert(fabs(sum[e][b] / wanted[e] - 1.0) < 1e-12, "form %d, band %d", t->form, b);
    }
}

Test(transfer, every_form_is_its_plain_sum) {
    chamber c;
    gradin_shade shade;
    make_room(&c, &shade);
    for (int form = GRADIN_TRANSFER_BY_SIDE; form <= GRADIN_TRANSFER_BY_PATCH; form++) {
        c.model.room_method =
            form == GRADIN_TRANSFER_BY_SIDE ? GRADIN_ROOM_DIFFUSE : GRADIN_ROOM_RADIOSITY;
        gradin_transfer t = transfer_of(&c, (gradin_transfer_form)form);
        for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
            expect_plain_sums(&t, (gradin_shade_state)state);
            expect_heard(&t, (gradin_shade_state)state);
        }
    }
}

/* The whole and its two factors are the same numbers. */
Test(transfer, by_patch_equals_by_element) {
    chamber c;
    gradin_shade shade;
    make_room(&c, &shade);
    gradin_transfer whole = transfer_of(&c, GRADIN_TRANSFER_BY_ELEMENT);
    gradin_transfer parts = transfer_of(&c, GRADIN_TRANSFER_BY_PATCH);
    double a[CHAMBER_ELEMENTS], b[CHAMBER_ELEMENTS];
    double *scratch = desk_numbers(gradin_transfer_scratch(&parts, 1));
    cr_assert(whole.n_patch == parts.n_patch && parts.n_patch > 20);
    for (int i = 0; i < GRADIN_N_SHADE_STATE * GRADIN_N_BAND * CHAMBER_SEATS; i++) {
        gradin_shade_state state = (gradin_shade_state)(i % GRADIN_N_SHADE_STATE);
        int band = i / GRADIN_N_SHADE_STATE % GRADIN_N_BAND;
        int seat = i / GRADIN_N_SHADE_STATE / GRADIN_N_BAND;
        gradin_transfer_rows(&whole, state, band, seat, 1, a, scratch);
        gradin_transfer_rows(&parts, state, band, seat, 1, b, scratch);
        for (int e = 0; e < CHAMBER_ELEMENTS; e++)
            cr_assert(fabs(a[e] / b[e] - 1.0) < 1e-12, "state %d, band %d, seat %d", (int)state,
                      band, seat);
    }
}

/* Diffuse: direct field plus Eyring's reverberant field (divide.c and field.c have their own
 * tests), the same for every seat and element of an undivided room. */
Test(transfer, by_side_adds_the_reverberant_field) {
    chamber c;
    gradin_shade shade;
    gradin_room_field field;
    make_room(&c, &shade);
    c.model.room_method = GRADIN_ROOM_DIFFUSE;
    gradin_transfer t = transfer_of(&c, GRADIN_TRANSFER_BY_SIDE);
    double row[CHAMBER_ELEMENTS];
    cr_assert(gradin_room_field_make(&c.model, GRADIN_SHADES_SHUT, &field, NULL) == GRADIN_OK);
    for (int seat = 0; seat < CHAMBER_SEATS; seat++)
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            gradin_transfer_rows(&t, GRADIN_SHADES_SHUT, b, seat, 1, row, NULL);
            for (int e = 0; e < CHAMBER_ELEMENTS; e++) {
                double direct = t.direct_1m2[seat * CHAMBER_ELEMENTS + e];
                double wanted = direct + field.reverberant_1m2[0][0][b];
                cr_assert(fabs(row[e] / wanted - 1.0) < 1e-14, "seat %d, band %d", seat, b);
            }
        }
}

/* What the largest hall of a file needs: 20,000 seats, 2,000 elements, 21 bands. */
Test(transfer, the_largest_hall_fits) {
    double whole = 8.0 * 20000 * 2000 * 21 * 2;
    cr_assert(gradin_transfer_bytes(GRADIN_TRANSFER_BY_ELEMENT, GRADIN_MAX_SEAT, GRADIN_MAX_BAY, 0,
                                    2) == whole);
    cr_assert(whole > GRADIN_MAX_TRANSFER_BYTES, "what one number for each would take");
    cr_assert(gradin_transfer_bytes(GRADIN_TRANSFER_BY_SIDE, GRADIN_MAX_SEAT, GRADIN_MAX_BAY, 0,
                                    2) == 8.0 * 20000 * 2000);
    double parts =
        gradin_transfer_bytes(GRADIN_TRANSFER_BY_PATCH, GRADIN_MAX_SEAT, GRADIN_MAX_BAY, 3000, 2);
    cr_assert(parts == 8.0 * 20000 * 2000 + 8.0 * 3000 * (20000 + 21.0 * 2 * 2000));
    cr_assert(parts <= GRADIN_MAX_TRANSFER_BYTES && GRADIN_MAX_TRANSFER_BYTES < 4e9);
    chamber c;
    chamber_make(&c, 9.0, 8.0, 5.0, 0.2);
    c.model.seats.n_seat = GRADIN_MAX_SEAT;
    c.model.n_element = GRADIN_MAX_BAY;
    cr_assert(gradin_transfer_form_of(&c.model) == GRADIN_TRANSFER_BY_PATCH);
    c.model.n_element = 100;
    cr_assert(gradin_transfer_form_of(&c.model) == GRADIN_TRANSFER_BY_ELEMENT);
}

/* Told before anything is made. */
Test(transfer, more_than_fits_is_refused) {
    chamber c;
    gradin_transfer t;
    gradin_error error = {0};
    chamber_make(&c, 9.0, 8.0, 5.0, 0.2);
    c.model.room_method = GRADIN_ROOM_DIFFUSE;
    c.model.seats.n_seat = 200000;
    c.model.n_element = 2001;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_SIDE, NULL, &t,
                                   &error) == GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text,
                     "200000 seats times 2001 facade elements need 3.2 GB; "
                     "at most 3.2 GB are allowed");
}

/* 2,000 vents on a room of some 5,000 patches: 2 states x 21 bands x 2,000 x 5,000 numbers. */
Test(transfer, too_many_patches_for_the_elements) {
    chamber c;
    gradin_transfer t;
    gradin_error error = {0};
    chamber_make(&c, 30.0, 30.0, 15.0, 0.2);
    c.model.room_patch_m = 0.8;
    gradin_element *vent = gradin_arena_alloc(desk_arena, GRADIN_MAX_BAY, sizeof *vent);
    cr_assert(vent != NULL);
    for (int e = 0; e < GRADIN_MAX_BAY; e++) vent[e] = c.element[1];
    c.model.element = vent;
    c.model.n_element = GRADIN_MAX_BAY;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_PATCH, NULL, &t,
                                   &error) == GRADIN_BAD_INPUT);
    cr_assert(t.n_patch > 4762 && t.n_patch <= GRADIN_MAX_PATCH, "%d", t.n_patch);
    cr_assert(strstr(error.diagnostic[0].text, "a larger room_patch gives fewer patches") != NULL,
              "%s", error.diagnostic[0].text);
}
