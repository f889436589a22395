/* NC of 2019 and NR of a spectrum against the tabled curves. */
#include <criterion/criterion.h>

#include "gradin/acoustics/noise_rating.h"
#include "unit/acoustics/csv.h"

enum { N_NC = 12 };

static void silence(double *octave_db, int n) {
    for (int k = 0; k < n; k++) octave_db[k] = -40.0;
}

/* ANSI/ASA S12.2-2019 Table 1, second-hand copy. */
Test(room_criteria, nc_curves_of_2019) {
    csv table = csv_read("nc-curves/nc-2019.csv", N_NC, GRADIN_N_NC_OCTAVE + 1);
    for (int i = 0; i < N_NC; i++)
        for (int k = 0; k < GRADIN_N_NC_OCTAVE; k++) {
            double nc = table.cell[i][0], at_db = gradin_room_nc_level_db(nc, k);
            cr_assert(at_db == table.cell[i][k + 1], "NC-%g octave %d: %g", nc, k, at_db);
            if (i == 0) continue;
            double half_db = 0.5 * (table.cell[i - 1][k + 1] + table.cell[i][k + 1]);
            cr_assert(fabs(gradin_room_nc_level_db(nc - 2.5, k) - half_db) < 1e-12);
        }
    cr_assert(isnan(gradin_room_nc_level_db(30.0, -1)) && isnan(gradin_room_nc_level_db(30.0, 10)));
    cr_assert(gradin_room_nc_level_db(3.0, 2) == 47.0 && gradin_room_nc_level_db(99.0, 2) == 84.0);
}

/* Octaves 63 Hz to 8 kHz of the curve, A-weighted at their middles (IEC 61672-1). */
Test(room_criteria, a_very_quiet_hall_lies_on_nc_15) {
    double sum = 0.0, f_hz = 62.5;
    for (int k = 2; k < GRADIN_N_NC_OCTAVE; k++, f_hz *= 2.0)
        sum += pow(10.0, (gradin_room_nc_level_db(15.0, k) + gradin_a_weight_db(f_hz)) / 10.0);
    cr_assert_float_eq(10.0 * log10(sum), GRADIN_QUIET_HALL_DBA, 0.5, "%.2f", 10.0 * log10(sum));
}

/* A spectrum that lies on a curve has its number, and so has one that touches it in one octave
 * (tangency). Where curves meet, the lower one is not exceeded: 16 Hz from NC-60 on, and 31.5 Hz at
 * the top end has one curve alone. */
Test(room_criteria, nc_is_the_lowest_curve_not_exceeded) {
    for (int twice = 30; twice <= 140; twice++)
        for (int k = 0; k < GRADIN_N_NC_OCTAVE; k++) {
            double octave_db[GRADIN_N_NC_OCTAVE], nc = twice / 2.0;
            int at;
            silence(octave_db, GRADIN_N_NC_OCTAVE);
            octave_db[k] = gradin_room_nc_level_db(nc, k);
            double wanted = k == 0 && nc > 60.0 ? 60.0 : nc, got = gradin_room_nc(octave_db, &at);
            cr_assert(fabs(got - wanted) < 1e-9 && at == k, "NC-%g octave %d: %g", nc, k, got);
        }
}

Test(room_criteria, nc_ends) {
    double octave_db[GRADIN_N_NC_OCTAVE];
    int at = 5;
    silence(octave_db, GRADIN_N_NC_OCTAVE);
    cr_assert(gradin_room_nc(octave_db, &at) == -INFINITY && at == -1);
    octave_db[5] = 21.9;
    cr_assert(gradin_room_nc(octave_db, NULL) == -INFINITY);
    octave_db[5] = 72.1;
    octave_db[7] = 50.0;
    cr_assert(gradin_room_nc(octave_db, &at) == INFINITY && at == 5);
    octave_db[5] = NAN;
    cr_assert(fabs(gradin_room_nc(octave_db, &at) - 51.0) < 1e-9 && at == 7, "49 is NC-50");
    for (int k = 0; k < GRADIN_N_NC_OCTAVE; k++) octave_db[k] = NAN;
    cr_assert(isnan(gradin_room_nc(octave_db, &at)) && at == -1);
}

/* The published levels of NR 25 are its curve to a tenth of a decibel (reference/nr-curves). */
Test(room_criteria, nr_of_the_published_curve) {
    csv table = csv_read("nr-curves/nr.csv", GRADIN_N_NR_OCTAVE, 4);
    for (int k = 0; k < GRADIN_N_NR_OCTAVE; k++) {
        double octave_db[GRADIN_N_NR_OCTAVE];
        int at;
        silence(octave_db, GRADIN_N_NR_OCTAVE);
        octave_db[k] = table.cell[k][3];
        double nr = gradin_nr(octave_db, &at);
        cr_assert(fabs(nr - 25.0) < 0.1 && at == k, "octave %d: %g", k, nr);
        octave_db[k] = table.cell[k][1] + 80.0 * table.cell[k][2];
        cr_assert(fabs(gradin_nr(octave_db, NULL) - 80.0) < 1e-9, "octave %d", k);
        octave_db[k] = table.cell[k][1] - 0.1;
        cr_assert(gradin_nr(octave_db, &at) == -INFINITY && at == -1);
        octave_db[k] = table.cell[k][1] + 130.1 * table.cell[k][2];
        cr_assert(gradin_nr(octave_db, &at) == INFINITY && at == k);
    }
}
