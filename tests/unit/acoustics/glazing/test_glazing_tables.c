/* Materials and method against published tables of glass: the generic values of EN 12758 (from
 * memory: reference/en-12758) and the single glass of UFC 3-450-01 Table 4-8 (reference/ufc-glass).
 * Octave R by the energy mean of tau over three thirds, Rw by ISO 717-1 from thirds. The comparison
 * is printed as CSV and kept in reference/.
 *
 * EN 12758 is one of the sources that four values of the method were chosen on, so that this is a
 * fit; test_glazing_left_out.c says how near the method comes when it is left out. The joint round
 * a window in place was chosen on UFC's table, a fit too. UFC's single glass is a smooth envelope
 * for windows in place, without a dip and with leaks, and lies up to 13 dB below a tight pane at 4
 * kHz and as far from EN 12758 (3.6 dB on average between the two tables' nearest panes): without
 * the joint no method can come near both. */
#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>
#include <stdlib.h>

enum { N_OCTAVE = 6, FIRST_OCTAVE = 1, FIRST_THIRD = 3, MAX_ROW = 32, KEPT_CELL = 9 };

typedef enum mounting { LABORATORY, IN_PLACE, N_MOUNTING } mounting;

typedef struct comparison {
    double octave_db[N_OCTAVE], table_db[N_OCTAVE], mean_abs_db; /* 125 .. 4000 Hz */
    int rw_db, table_rw_db;
} comparison;

static int add_pane(gradin_layer *layer, double thickness_mm, bool is_laminated) {
    if (!is_laminated) {
        layer[0] = glass_pane(thickness_mm);
        return 1;
    }
    layer[0] = layer[2] = glass_pane(0.5 * thickness_mm);
    layer[1] = glass_pvb(0.76);
    return 3;
}

static void find_r(const gradin_buildup *buildup, mounting how, double *r_db) {
    cr_assert_eq(gradin_glazing_r_db(buildup, r_db, NULL), GRADIN_OK);
    for (int b = 0; how == IN_PLACE && b < GRADIN_N_BAND; b++)
        r_db[b] = gradin_jointed_r_db(r_db[b], GRADIN_IN_PLACE_JOINT_DB, GRADIN_IN_PLACE_WIDTH_M,
                                      GRADIN_IN_PLACE_HEIGHT_M);
}

static void theory(const gradin_layer *layer, int n_layer, mounting how, comparison *c) {
    gradin_buildup buildup = {
        .name = "table", .layer = layer, .n_layer = n_layer, .temperature_c = 20.0};
    double r_db[GRADIN_N_BAND];
    find_r(&buildup, how, r_db);
    c->mean_abs_db = 0.0;
    for (int o = 0; o < N_OCTAVE; o++) {
        double tau = 0.0;
        for (int i = 0; i < 3; i++)
            tau += pow(10.0, -r_db[3 * (o + FIRST_OCTAVE) + i] / 10.0) / 3.0;
        c->octave_db[o] = -10.0 * log10(tau);
        c->mean_abs_db += fabs(c->octave_db[o] - c->table_db[o]) / N_OCTAVE;
    }
    c->rw_db = gradin_rate_thirds(&r_db[FIRST_THIRD]).rating_db;
}

static void print(const char *name, const comparison *c) {
    printf("%s", name);
    for (int o = 0; o < N_OCTAVE; o++) printf(",%.1f", c->octave_db[o]);
    printf(",%.2f,%d\n", c->mean_abs_db, c->rw_db - c->table_rw_db);
}

/* The kept file must be what this run computes: a name, six octaves, mean difference, Rw's. */
static void compare_kept(const char *file_name, const comparison *c, int n) {
    double cell[GLASS_MAX_CELL];
    char word[32];
    FILE *file = glass_csv_open(file_name);
    for (int i = 0; i < n; i++) {
        cr_assert_eq(glass_csv_row(file, cell, word), KEPT_CELL, "%s row %d", file_name, i + 1);
        for (int o = 0; o < N_OCTAVE; o++)
            cr_assert_float_eq(cell[1 + o], c[i].octave_db[o], 0.06, "%s row %d octave %d",
                               file_name, i + 1, o);
        cr_assert_float_eq(cell[7], c[i].mean_abs_db, 0.006, "%s row %d", file_name, i + 1);
        cr_assert_eq(cell[8], c[i].rw_db - c[i].table_rw_db, "%s row %d", file_name, i + 1);
    }
    cr_assert_eq(glass_csv_row(file, cell, word), 0, "%s has more rows", file_name);
    glass_csv_close(file);
}

static double mean_of(const comparison *c, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) sum += c[i].mean_abs_db / n;
    return sum;
}

/* outer_mm,outer_laminated,has_gap,inner_mm,inner_laminated,6 octaves,Rw,C,Ctr; the gap of the
 * generic units is 6 to 16 mm, 12 mm stands for it. */
static void compare_generic(const double *cell, mounting how, char *name, size_t size,
                            comparison *c) {
    gradin_layer layer[7];
    int n = add_pane(layer, cell[0], cell[1] != 0.0);
    if (cell[2] != 0.0) {
        layer[n++] = glass_air(12.0);
        n += add_pane(&layer[n], cell[3], cell[4] != 0.0);
    }
    for (int o = 0; o < N_OCTAVE; o++) c->table_db[o] = cell[5 + o];
    c->table_rw_db = (int)cell[11];
    theory(layer, n, how, c);
    int used = snprintf(name, size, "%g%s", cell[0], cell[1] != 0.0 ? " lam" : "");
    if (cell[2] != 0.0)
        snprintf(name + used, size - (size_t)used, "/6-16/%g%s", cell[3],
                 cell[4] != 0.0 ? " lam" : "");
}

static int read_generic(comparison *c, int *n_near) {
    double cell[GLASS_MAX_CELL];
    char word[32], name[64];
    int n = 0;
    FILE *file = glass_csv_open("en-12758/values.csv");
    for (*n_near = 0; n < MAX_ROW && glass_csv_row(file, cell, word); n++) {
        compare_generic(cell, LABORATORY, name, sizeof name, &c[n]);
        print(name, &c[n]);
        *n_near += abs(c[n].rw_db - c[n].table_rw_db) <= 1;
    }
    glass_csv_close(file);
    return n;
}

Test(glazing_tables, generic_glazing_of_en_12758) {
    comparison c[MAX_ROW];
    int n_near;
    puts("build,125,250,500,1000,2000,4000,mean_abs_db,rw_minus_table_db");
    int n = read_generic(c, &n_near);
    printf("mean,%.3f,Rw within 1 dB,%d,of,%d\n", mean_of(c, n), n_near, n);
    for (int i = 0; i < n; i++) cr_assert_lt(c[i].mean_abs_db, 2.8, "row %d", i + 1);
    cr_assert_eq(n, 18);
    cr_assert_lt(mean_of(c, n), 1.45); /* 1.38 reached */
    cr_assert_geq(n_near, 16);
    compare_kept("en-12758/comparison.csv", c, n);
}

/* thickness_in,lb/ft2,9 octaves 31..8000,STC (compared with Rw: both re 500 Hz, other bands) */
static int read_single(mounting how, comparison *c) {
    double cell[GLASS_MAX_CELL];
    char word[32];
    int n = 0;
    FILE *file = glass_csv_open("ufc-glass/values.csv");
    puts("thickness_in,125,250,500,1000,2000,4000,mean_abs_db,rw_minus_stc_db");
    for (; n < MAX_ROW && glass_csv_row(file, cell, word); n++) {
        gradin_layer pane = glass_pane(25.4 * cell[0]);
        for (int o = 0; o < N_OCTAVE; o++) c[n].table_db[o] = cell[4 + o];
        c[n].table_rw_db = (int)cell[11];
        theory(&pane, 1, how, &c[n]);
        print(word, &c[n]);
    }
    glass_csv_close(file);
    printf("mean,%.3f\n", mean_of(c, n));
    return n;
}

Test(glazing_tables, single_glass_of_ufc_3_450_01_sealed) {
    comparison c[MAX_ROW];
    int n = read_single(LABORATORY, c);
    cr_assert_eq(n, 4);
    for (int i = 0; i < n; i++)
        for (int o = 0; o < 2; o++) /* no leak there; thick panes are weaker than by any theory */
            cr_assert_float_eq(c[i].octave_db[o], c[i].table_db[o], i > 1 ? 6.0 : 3.0, "row %d", i);
    cr_assert_lt(mean_of(c, n), 3.8); /* 3.73 reached */
    compare_kept("ufc-glass/comparison.csv", c, n);
}

Test(glazing_tables, single_glass_of_ufc_3_450_01_in_place) {
    comparison c[MAX_ROW];
    int n = read_single(IN_PLACE, c);
    cr_assert_eq(n, 4);
    cr_assert_lt(mean_of(c, n), 2.5); /* the aim */
    compare_kept("ufc-glass/comparison-in-place.csv", c, n);
}

/* Mean slope from 125 Hz to 4 kHz, dB an octave: windows measured in place near 3 (Tsukamoto et
 * al., UCL Open Environment). The sealed 6 mm pane has 2.4 by itself, dip and all, so that this
 * slope does not tell the two apart; it must not leave it. */
Test(glazing_tables, in_place_the_slope_flattens) {
    gradin_layer pane = glass_pane(6);
    gradin_buildup buildup = {.name = "pane", .layer = &pane, .n_layer = 1};
    double r_db[N_MOUNTING][GRADIN_N_BAND], slope_db[N_MOUNTING];
    for (int how = 0; how < 2; how++) {
        find_r(&buildup, (mounting)how, r_db[how]);
        double sum = 0.0, norm = 0.0;
        for (int b = 4; b < 20; b++) {
            double octaves = (b - 11.5) / 3.0;
            sum += octaves * r_db[how][b];
            norm += octaves * octaves;
        }
        slope_db[how] = sum / norm;
    }
    printf("6 mm: %.1f dB an octave sealed, %.1f in place\n", slope_db[0], slope_db[1]);
    cr_assert_lt(slope_db[IN_PLACE], slope_db[LABORATORY]);
    cr_assert_float_eq(slope_db[IN_PLACE], 3.0, 1.0);
}
