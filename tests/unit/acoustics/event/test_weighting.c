/* Exponential time weighting: tonebursts of IEC 61672-1, exact responses, an independent
 * integration. */
#include <criterion/criterion.h>

#include "acoustics/event/weighting.h"
#include "unit/acoustics/csv.h"

static const double fast_s = 0.125, slow_s = 1.0;

/* A burst as moments with steep edges, and as a source that stays for as long. */
static void expect_burst(double length_s, double tau_s, double wanted_db) {
    const double edge_s = 1e-9;
    const double time_s[5] = {-1.0, 0.0, edge_s, length_s, length_s + edge_s};
    const double square[5] = {0.0, 0.0, 1.0, 1.0, 0.0};
    gradin_steps moving = {5, time_s, 0.0}, held = {1, time_s, length_s};
    const double steady[1] = {1.0};
    double got_db = 10.0 * log10(gradin_weighted_peak(&moving, square, tau_s).square);
    double held_db = 10.0 * log10(gradin_weighted_peak(&held, steady, tau_s).square);
    cr_assert(fabs(got_db - wanted_db) < 0.06, "%g s, tau %g s: %.3f, not %.1f dB", length_s, tau_s,
              got_db, wanted_db);
    cr_assert(fabs(held_db - got_db) < 1e-4, "%g s: held %.6f, moving %.6f", length_s, held_db,
              got_db);
}

/* IEC 61672-1:2013, table 4, from memory. */
Test(weighting, tonebursts) {
    cr_assert(gradin_weighting_s(GRADIN_WEIGHTING_FAST) == fast_s);
    cr_assert(gradin_weighting_s(GRADIN_WEIGHTING_SLOW) == slow_s);
    csv table = csv_read("iec-61672/toneburst.csv", 12, 3);
    for (int i = 0; i < table.n_row; i++) {
        const double *row = table.cell[i];
        expect_burst(row[0] / 1000.0, fast_s, row[1]);
        if (!isnan(row[2])) expect_burst(row[0] / 1000.0, slow_s, row[2]);
    }
}

/* IEC 61672-1, 5.8: after a steady tone ends, F falls by 34.7 dB and S by 4.3 dB a second. */
Test(weighting, decay) {
    double fast = gradin_weighted_after(1.0, 0.0, 0.0, 1.0, fast_s);
    double slow = gradin_weighted_after(1.0, 0.0, 0.0, 1.0, slow_s);
    cr_assert(fabs(-10.0 * log10(fast) - 34.7) < 0.06, "%.3f", -10.0 * log10(fast));
    cr_assert(fabs(-10.0 * log10(slow) - 4.3) < 0.06, "%.3f", -10.0 * log10(slow));
}

enum { N = 40, FINE = 4000 };

typedef struct any {
    double time_s[N], square[N];
    gradin_steps history;
} any;

static void make_any(any *a, unsigned seed) {
    double at_s = 0.0;
    for (int i = 0; i < N; i++) {
        seed = seed * 1664525u + 1013904223u;
        at_s += 0.01 + (seed >> 16) / 65536.0;
        seed = seed * 1664525u + 1013904223u;
        a->time_s[i] = at_s;
        a->square[i] = pow(10.0, 3.0 * (seed >> 16) / 65536.0);
    }
    a->history = (gradin_steps){N, a->time_s, 0.0};
}

/* Midpoint rule on tau dy/dt = x - y. */
static double fine_peak(const any *a, double tau_s) {
    double y = a->square[0], most = y;
    for (int i = 0; i + 1 < N; i++) {
        double step_s = (a->time_s[i + 1] - a->time_s[i]) / FINE;
        double slope = (a->square[i + 1] - a->square[i]) / FINE;
        for (int k = 0; k < FINE; k++) {
            double x = a->square[i] + slope * k;
            double half = y + 0.5 * step_s / tau_s * (x - y);
            y += step_s / tau_s * (x + 0.5 * slope - half);
            most = fmax(most, y);
        }
    }
    return most;
}

Test(weighting, any_history_against_small_steps) {
    for (unsigned seed = 1; seed <= 20; seed++)
        for (int slow = 0; slow < 2; slow++) {
            any a;
            double tau_s = slow ? slow_s : fast_s, share[N], sum = 0.0, whole = 0.0;
            make_any(&a, seed);
            gradin_peak peak = gradin_weighted_peak(&a.history, a.square, tau_s);
            double fine = fine_peak(&a, tau_s);
            cr_assert(fabs(peak.square / fine - 1.0) < 1e-5, "seed %u: %.8g, by small steps %.8g",
                      seed, peak.square, fine);
            gradin_weighted_shares(&a.history, peak, tau_s, share);
            for (int i = 0; i < N; i++) {
                cr_assert(share[i] >= 0.0);
                sum += share[i] * a.square[i];
                whole += share[i];
            }
            cr_assert(fabs(sum / peak.square - 1.0) < 1e-12, "seed %u: shares give %.12g of %.12g",
                      seed, sum, peak.square);
            cr_assert(fabs(whole - 1.0) < 1e-12);
            gradin_weighted_course(&a.history, tau_s, a.square);
            for (int i = 0; i < N; i++) cr_assert(a.square[i] <= peak.square * (1.0 + 1e-12));
        }
}

Test(weighting, none_is_the_largest_moment) {
    any a;
    double share[N];
    make_any(&a, 7);
    gradin_peak peak = gradin_weighted_peak(&a.history, a.square, 0.0);
    gradin_weighted_shares(&a.history, peak, 0.0, share);
    for (int i = 0; i < N; i++) {
        cr_assert(a.square[i] <= peak.square);
        cr_assert(share[i] == (a.square[i] == peak.square ? 1.0 : 0.0), "%d: %g", i, share[i]);
    }
}

/* A level that does not change weighs as itself. */
Test(weighting, steady) {
    const double time_s[3] = {0.0, 0.3, 5.0}, square[3] = {2.5, 2.5, 2.5};
    gradin_steps history = {3, time_s, 0.0};
    cr_assert(fabs(gradin_weighted_peak(&history, square, slow_s).square - 2.5) < 1e-14);
}
