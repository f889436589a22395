/* How well levels inside are known: parts by band, and what they make of a sum of bands. */
#include <criterion/criterion.h>

#include "acoustics/envelope/element.h"
#include "gradin/acoustics/event.h"
#include "support/reference.h"
#include "unit/acoustics/hall.h"

/* ISO 12999-1:2020, Table 2, situation A, with annex A's 1.0 and 0.8 dB; what is predicted: as the
 * glazing says, and no better than facades with estimated elements scattered. */
Test(uncertainty, of_an_element) {
    reference table, said;
    hall h;
    hall_make(&h);
    gradin_glass glass[HALL_ELEMENTS];
    reference_read("iso-12999-1/airborne.csv", &table);
    reference_read("noise-prediction/statements.csv", &said);
    cr_assert_eq(table.n_row, GRADIN_N_BAND);
    h.element[0].buildup = HALL_MEASURED;
    h.element[1].buildup = HALL_SINGLE;
    gradin_arena *arena = gradin_arena_create();
    cr_assert_eq(gradin_glass_make(arena, &h.model, NULL, glass, NULL), GRADIN_OK);
    double least_db = reference_number(
        &said,
        reference_row(&said,
                      "computed less measured Rw of facades in buildings with estimated elements"),
        "spread_db");
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double a_db = reference_number(&table, b, "situation_a_db"), got_db[3];
        static const int of[3] = {0, 1, HALL_VENT};
        for (int k = 0; k < 3; k++)
            got_db[k] =
                gradin_element_uncertainty_db(&h.model, &h.element[of[k]], &glass[of[k]], b);
        cr_assert_eq(reference_number(&table, b, "third_hz"), gradin_band_nominal_hz(b));
        cr_assert(fabs(got_db[0] - sqrt(a_db * a_db + 1.0 + 0.64)) < 1e-9, "band %d", b);
        cr_assert_eq(got_db[2], got_db[0]);
        cr_assert_eq(got_db[1], least_db);
        glass[1].uncertainty_db[b] = 6.0;
        got_db[1] = gradin_element_uncertainty_db(&h.model, &h.element[1], &glass[1], b);
        cr_assert(fabs(got_db[1] - sqrt(37.64)) < 1e-9);
    }
    gradin_arena_destroy(arena);
}

/* What stands in for a source that states none: the budget's parts make its sum. */
Test(uncertainty, of_a_source) {
    reference said;
    double square = 0.0;
    reference_read("noise-prediction/statements.csv", &said);
    for (int i = 3; i < said.n_row; i++)
        square += pow(reference_number(&said, i, "spread_db"), 2.0);
    cr_assert(fabs(sqrt(square) - reference_number(&said, 2, "spread_db")) < 0.005);
    cr_assert(fabs(gradin_pass_defaults().source_uncertainty_db - sqrt(square)) < 0.05);
    cr_assert(fabs(gradin_pass_defaults().scatter_db - 0.5 * (3.8 + 4.9)) < 0.051, "Bishop 1975");
}

/* ISO 12999-1:2020, annex B: Rw + C and Rw + Ctr from 50 to 5000 Hz; ISO 717-1's spectra hold the
 * A-weighting, which is taken off again. */
Test(uncertainty, bands_err_together) {
    static const double spectrum_db[2][GRADIN_N_BAND] = {
        {-41, -37, -34, -30, -27, -24, -22, -20, -18, -16, -14,
         -13, -12, -11, -10, -10, -10, -10, -10, -10, -10},
        {-25, -23, -21, -20, -20, -18, -16, -15, -14, -13, -12,
         -11, -9,  -8,  -9,  -10, -11, -13, -15, -16, -18}};
    reference table, sum;
    reference_read("iso-12999-1/annex-b.csv", &table);
    reference_read("iso-12999-1/correlated.csv", &sum);
    for (int k = 0; k < 2; k++) {
        double band_db[GRADIN_N_BAND];
        gradin_uncertainty u = {.source_db = 0.0};
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            u.envelope_db[b] = reference_number(&table, b, "u_a_db");
            band_db[b] = spectrum_db[k][b] - reference_number(&table, b, "r_db") -
                         gradin_a_weight_db(gradin_band_mid_hz(b));
        }
        double got_db = gradin_envelope_uncertainty_db(&u, band_db);
        cr_assert(fabs(-gradin_level_a_db(band_db) - reference_number(&sum, k, "value_db")) < 0.06);
        cr_assert(fabs(got_db - reference_number(&sum, k, "correlated_db")) < 0.06, "%.3f", got_db);
        u.source_db = 3.0;
        u.room_db = 4.0;
        cr_assert(fabs(gradin_systematic_db(&u, band_db) - hypot(5.0, got_db)) < 1e-12);
    }
    gradin_uncertainty u = {.source_db = 3.0, .scatter_db = 12.0, .room_db = 4.0};
    for (int b = 0; b < GRADIN_N_BAND; b++) u.envelope_db[b] = b;
    cr_assert(fabs(gradin_band_uncertainty_db(&u, 3, 5) - sqrt(169.0 + 16.0)) < 1e-12);
    cr_assert(isnan(gradin_band_uncertainty_db(&u, 3, GRADIN_N_BAND)));
}

/* Predicted panes err together, measured ones apart from them; each by what the seats hear of it.
 */
Test(uncertainty, of_an_envelope) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    gradin_prepared_room room;
    hall_make(&h);
    cr_assert_eq(gradin_room_prepare(arena, &h.model, NULL, &room, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double part[2] = {0.0}, whole = 0.0;
        for (int e = 0; e < HALL_ELEMENTS; e++) {
            double heard = room.tau_m2[e][b] * room.heard_1m2[e][b];
            int k = e == HALL_VENT || h.buildup[h.element[e].buildup].is_measured;
            part[k] +=
                heard * gradin_element_uncertainty_db(&h.model, &h.element[e], &room.glass[e], b);
            whole += heard;
        }
        cr_assert(fabs(room.uncertainty.envelope_db[b] - hypot(part[0], part[1]) / whole) < 1e-9);
    }
    gradin_arena_destroy(arena);
}

/* One flight: systematic and scatter; a seat is over when an octave or the level is. */
Test(uncertainty, of_a_pass) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    h.pass.source_uncertainty_db = 1.5;
    h.pass.scatter_db = 2.5;
    gradin_noise bare = hall_noise(arena, &h);
    for (int k = 0; k < 3; k++) {
        h.model.criterion = (gradin_criterion){k == 1 ? NAN : 40.0, k == 2 ? NAN : 45.0, 0.84};
        gradin_noise noise = hall_noise(arena, &h);
        for (int i = 0; i < HALL_SEATS; i++) {
            const double *band_db = noise.band_db + i * GRADIN_N_BAND;
            double octave_db[GRADIN_N_OCTAVE], level_db = bare.lamax_db[0][i];
            gradin_verdict wanted = GRADIN_VERDICT_NONE;
            cr_assert_eq(noise.uncertainty.source_db, 1.5);
            cr_assert(fabs(noise.systematic_db[i] -
                           gradin_systematic_db(&noise.uncertainty, band_db)) < 1e-12);
            cr_assert(fabs(noise.uncertainty_db[i] - hypot(noise.systematic_db[i], 2.5)) < 1e-12);
            if (k != 2) wanted = gradin_verdict_of(level_db - 45.0, noise.uncertainty_db[i], 0.84);
            gradin_octaves_db(band_db, octave_db);
            for (int o = 0; o < GRADIN_N_OCTAVE && k != 1; o++)
                wanted = gradin_verdict_both(
                    wanted,
                    gradin_verdict_of(
                        octave_db[o] - gradin_nc_level_db(40.0, o),
                        gradin_band_uncertainty_db(&noise.uncertainty, 3 * o, 3 * o + 2), 0.84));
            cr_assert_eq(noise.verdict[i], wanted, "seat %d", i);
            cr_assert_neq(wanted, GRADIN_VERDICT_NONE);
        }
    }
    gradin_arena_destroy(arena);
}
