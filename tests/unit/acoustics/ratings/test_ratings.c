/* Single-number ratings and curves of room noise: published tables, a slow independent rating in
 * plain doubles, invariants. */
#include <criterion/criterion.h>

#include "gradin/acoustics.h"
#include "unit/acoustics/csv.h"

enum { N_THIRD = 16, N_OCTAVE = 5, N_OITC = 18, N_CURVE = 400 };

/* A repeatable curve of one-decimal values, rough, rising from about 15 to 45 dB. */
static void make_curve(unsigned seed, double *r_db, int n) {
    unsigned state = seed * 2654435761u + 12345u;
    for (int i = 0; i < n; i++) {
        state = state * 1664525u + 1013904223u;
        r_db[i] = round(10.0 * (15.0 + 30.0 * i / n + (state >> 16) % 1400 / 100.0)) / 10.0;
    }
}

/* The definition, tried from above in steps of 1 dB; the reference curve comes from the file. */
static int slow_rating(const csv *table, const double *r_db, double limit_db, int at_500) {
    for (int shift = 200; shift > -200; shift--) {
        double sum_db = 0.0;
        for (int i = 0; i < table->n_row; i++)
            sum_db += fmax(0.0, table->cell[i][1] + shift - r_db[i]);
        if (sum_db <= limit_db + 1e-9) return (int)table->cell[at_500][1] + shift;
    }
    return -1000;
}

static int slow_term(const csv *table, const double *r_db, int column, int rating_db) {
    double sum = 0.0;
    for (int i = 0; i < table->n_row; i++)
        sum += pow(10.0, (table->cell[i][column] - r_db[i]) / 10.0);
    return (int)lround(-10.0 * log10(sum)) - rating_db;
}

Test(ratings, iso_717_against_the_definition) {
    csv thirds = csv_read("iso-717-1/thirds.csv", N_THIRD, 4);
    csv octaves = csv_read("iso-717-1/octaves.csv", N_OCTAVE, 4);
    for (unsigned seed = 0; seed < N_CURVE; seed++) {
        double r_db[N_THIRD];
        make_curve(seed, r_db, N_THIRD);
        gradin_weighted w = gradin_rate_thirds(r_db), o = gradin_rate_octaves(r_db);
        int rw = slow_rating(&thirds, r_db, 32.0, 7), ro = slow_rating(&octaves, r_db, 10.0, 2);
        cr_assert(w.rating_db == rw, "curve %u: Rw %d, not %d", seed, w.rating_db, rw);
        cr_assert(w.c_db == slow_term(&thirds, r_db, 2, rw), "curve %u: C %d", seed, w.c_db);
        cr_assert(w.ctr_db == slow_term(&thirds, r_db, 3, rw), "curve %u: Ctr %d", seed, w.ctr_db);
        cr_assert(o.rating_db == ro, "curve %u: octaves %d, not %d", seed, o.rating_db, ro);
        cr_assert(o.c_db == slow_term(&octaves, r_db, 2, ro), "curve %u: octaves C", seed);
        cr_assert(o.ctr_db == slow_term(&octaves, r_db, 3, ro), "curve %u: octaves Ctr", seed);
    }
}

/* ISO 717-1 Annex C, worked example; confirmed, sums recomputed. */
Test(ratings, iso_717_annex_c) {
    csv table = csv_read("iso-717-1/annex-c.csv", N_THIRD, 3);
    double r_db[N_THIRD];
    for (int i = 0; i < N_THIRD; i++) r_db[i] = table.cell[i][1];
    gradin_weighted w = gradin_rate_thirds(r_db);
    cr_assert(w.rating_db == 30 && w.c_db == -2 && w.ctr_db == -3 && w.shift_db == -22,
              "%d(%d;%d) shift %d", w.rating_db, w.c_db, w.ctr_db, w.shift_db);
    cr_assert(w.unfavourable_sum_db == 31.8, "%.17g", w.unfavourable_sum_db);
    cr_assert(fabs(w.x_c_db - 28.3086) < 5e-5 && fabs(w.x_ctr_db - 26.8600) < 5e-5);
    for (int i = 0; i < N_THIRD; i++)
        cr_assert(w.deviation_db[i] == table.cell[i][2], "band %d: %.17g", i, w.deviation_db[i]);
}

Test(ratings, iso_717_moves_with_the_curve) {
    for (unsigned seed = 0; seed < 50; seed++) {
        double r_db[N_THIRD], up_db[N_THIRD], better_db[N_THIRD];
        make_curve(seed, r_db, N_THIRD);
        for (int i = 0; i < N_THIRD; i++) {
            up_db[i] = r_db[i] + 7.0;
            better_db[i] = r_db[i] + (i == (int)(seed % N_THIRD) ? 5.0 : 0.0);
        }
        gradin_weighted w = gradin_rate_thirds(r_db), up = gradin_rate_thirds(up_db);
        cr_assert(up.rating_db == w.rating_db + 7 && up.c_db == w.c_db && up.ctr_db == w.ctr_db);
        gradin_weighted better = gradin_rate_thirds(better_db);
        cr_assert(better.rating_db >= w.rating_db && better.x_ctr_db > w.x_ctr_db, "seed %u", seed);
        double sum_db = 0.0;
        for (int i = 0; i < N_THIRD; i++) sum_db += w.deviation_db[i];
        cr_assert(fabs(sum_db - w.unfavourable_sum_db) < 1e-9 && sum_db <= 32.0 + 1e-9);
    }
}

/* Half a tenth goes up (ISO 717-1, 4.4), also when a sum comes out just under it: 1.05 + 0.1 * 324
 * is a little less than 33.45. */
Test(ratings, iso_717_rounds_tenths_half_up) {
    csv table = csv_read("iso-717-1/thirds.csv", N_THIRD, 4);
    double r_db[N_THIRD];
    for (int step = 0; step < 200; step++) {
        for (int i = 0; i < N_THIRD; i++) r_db[i] = table.cell[i][1] + 2.0 * step - 0.05;
        gradin_weighted w = gradin_rate_thirds(r_db);
        cr_assert(w.unfavourable_sum_db == 32.0 && w.shift_db == 2 + 2 * step, "step %d", step);
    }
    for (int step = 0; step < 400; step++) {
        double summed_db[N_THIRD], whole_db[N_THIRD];
        for (int i = 0; i < N_THIRD; i++) {
            summed_db[i] = 1.05 + 0.1 * step;
            whole_db[i] = (11 + step) / 10.0;
        }
        gradin_weighted summed = gradin_rate_thirds(summed_db), w = gradin_rate_thirds(whole_db);
        cr_assert(summed.unfavourable_sum_db == w.unfavourable_sum_db && summed.x_c_db == w.x_c_db,
                  "%.2f dB", 1.05 + 0.1 * step);
    }
}

Test(ratings, values_out_of_any_range) {
    double r_db[N_OITC];
    for (int i = 0; i < N_OITC; i++) r_db[i] = INFINITY;
    gradin_weighted high = gradin_rate_thirds(r_db);
    cr_assert(high.rating_db > 300, "%d", high.rating_db);
    cr_assert(gradin_stc(r_db, NULL) > 300 && gradin_oitc(r_db) > 300);
    for (int i = 0; i < N_OITC; i++) r_db[i] = -INFINITY;
    cr_assert(gradin_rate_thirds(r_db).rating_db < -300 && gradin_stc(r_db, NULL) < -300);
    cr_assert(gradin_oitc(r_db) < -300);
}

/* ASTM E413: contour confirmed; 32 dB, 8 dB and whole decibels from memory. */
static int slow_stc(const csv *contour, const double *tl_db) {
    for (int stc = 200; stc > -200; stc--) {
        double sum_db = 0.0, worst_db = 0.0;
        for (int i = 0; i < N_THIRD; i++) {
            double lack_db = fmax(0.0, contour->cell[i][1] + stc - floor(tl_db[i] + 0.5));
            sum_db += lack_db;
            worst_db = fmax(worst_db, lack_db);
        }
        if (sum_db <= 32.0 && worst_db <= 8.0) return stc;
    }
    return -1000;
}

Test(ratings, stc_against_the_definition) {
    csv contour = csv_read("astm-e413/contour.csv", N_THIRD, 2);
    int n_limited = 0;
    for (unsigned seed = 0; seed < N_CURVE; seed++) {
        double tl_db[N_THIRD], freed_db[N_THIRD];
        int band;
        make_curve(seed, tl_db, N_THIRD);
        int stc = gradin_stc(tl_db, &band), wanted = slow_stc(&contour, tl_db);
        cr_assert(stc == wanted, "curve %u: %d, not %d", seed, stc, wanted);
        if (band < 0) continue;
        n_limited++;
        for (int i = 0; i < N_THIRD; i++) freed_db[i] = tl_db[i] + (i == band ? 1.0 : 0.0);
        double lack_db = contour.cell[band][1] + stc + 1 - floor(tl_db[band] + 0.5);
        cr_assert(lack_db == 9.0, "curve %u: band %d lacks %g", seed, band, lack_db);
        cr_assert(gradin_stc(freed_db, NULL) >= stc);
    }
    cr_assert(n_limited > 20 && n_limited < N_CURVE - 20, "%d", n_limited);
}

/* ASTM E1332: source levels and constant from memory. */
Test(ratings, oitc_against_the_definition) {
    csv table = csv_read("astm-e1332/spectrum.csv", N_OITC, 2);
    csv weight = csv_read("iec-61672/a-weighting.csv", 27, 3); /* 80 Hz is its row 5 */
    for (unsigned seed = 0; seed < N_CURVE; seed++) {
        double tl_db[N_OITC], sum = 0.0;
        make_curve(seed, tl_db, N_OITC);
        for (int i = 0; i < N_OITC; i++)
            sum += pow(10.0, (table.cell[i][1] + weight.cell[i + 5][2] - tl_db[i]) / 10.0);
        int wanted = (int)lround(100.13 - 10.0 * log10(sum));
        cr_assert(gradin_oitc(tl_db) == wanted, "curve %u: %d, not %d", seed, gradin_oitc(tl_db),
                  wanted);
    }
}

/* ISO/R 1996:1971 as reprinted; confirmed. */
Test(ratings, nr_curves) {
    csv table = csv_read("nr-curves/nr.csv", 9, 4);
    for (int o = 0; o < 9; o++) {
        double nr25_db = gradin_nr_level_db(25.0, o);
        cr_assert(fabs(nr25_db - table.cell[o][3]) < 0.06, "octave %d: %.3f", o, nr25_db);
        for (double nr = 0.0; nr <= 130.0; nr += 6.5)
            cr_assert(fabs(gradin_nr_level_db(nr, o) - table.cell[o][1] - table.cell[o][2] * nr) <
                      1e-12);
    }
    cr_assert(isnan(gradin_nr_level_db(25.0, -1)) && isnan(gradin_nr_level_db(25.0, 9)));
}

/* ANSI/ASA S12.2-2019, Table 1; a second-hand copy. */
Test(ratings, nc_curves) {
    csv table = csv_read("nc-curves/nc-2019.csv", 12, 11);
    for (int i = 0; i < table.n_row; i++)
        for (int o = 0; o < 8; o++) {
            double nc = table.cell[i][0], at_db = gradin_nc_level_db(nc, o);
            cr_assert(at_db == table.cell[i][o + 3], "NC-%g octave %d: %g", nc, o, at_db);
            if (i == 0) continue;
            double half_db = 0.5 * (table.cell[i - 1][o + 3] + table.cell[i][o + 3]);
            cr_assert(fabs(gradin_nc_level_db(nc - 2.5, o) - half_db) < 1e-12);
        }
    for (int o = 0; o < 8; o++) {
        cr_assert(gradin_nc_level_db(3.0, o) == table.cell[0][o + 3], "held at NC-15");
        cr_assert(gradin_nc_level_db(99.0, o) == table.cell[11][o + 3], "held at NC-70");
    }
    cr_assert(isnan(gradin_nc_level_db(30.0, -1)) && isnan(gradin_nc_level_db(30.0, 8)));
    cr_assert(isnan(gradin_nc_level_db(NAN, 3)));
}

/* Tangency is the inverse of the curves: lift any one octave to NC x over a quiet rest. */
Test(ratings, nc_is_the_inverse_of_its_curves) {
    for (double nc = 15.0; nc <= 70.0; nc += 0.7)
        for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
            double octave_db[GRADIN_N_OCTAVE];
            int at = -1;
            for (int k = 0; k < GRADIN_N_OCTAVE; k++)
                octave_db[k] = k == o ? gradin_nc_level_db(nc, k) : -20.0;
            double got = gradin_nc(octave_db, &at);
            cr_assert(fabs(got - nc) < 1e-9 && at == o, "NC %g octave %d: %g at %d", nc, o, got,
                      at);
            octave_db[o] += 1.0;
            cr_assert(nc > 69.0 || gradin_nc(octave_db, NULL) > got, "NC %g octave %d", nc, o);
        }
}

Test(ratings, nc_ends) {
    double octave_db[GRADIN_N_OCTAVE] = {-INFINITY, -INFINITY, -INFINITY, -INFINITY,
                                         -INFINITY, -INFINITY, -INFINITY};
    cr_assert(gradin_nc(octave_db, NULL) == 15.0, "silence");
    octave_db[3] = 21.0;
    int at = -1;
    cr_assert(gradin_nc(octave_db, &at) == 15.0 && at == 3, "nearest to its curve: %d", at);
    octave_db[5] = 120.0;
    cr_assert(gradin_nc(octave_db, &at) == 70.0 && at == 5, "above all curves: %d", at);
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) octave_db[o] = gradin_nc_level_db(30.0, o);
    cr_assert(gradin_nc(octave_db, &at) == 30.0 && at == 0, "the lowest of equals: %d", at);
}
