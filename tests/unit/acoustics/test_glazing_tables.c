/* The one choice of materials and method against published tables of glass: the generic values of
 * EN 12758 (from memory: reference/en-12758) and the single glass of UFC 3-450-01 Table 4-8
 * (reference/ufc-glass). Octave R by the energy mean of tau over three thirds, Rw by ISO 717-1 from
 * thirds. The comparison is printed as CSV and kept in reference/.
 *
 * Five figures (limiting angle, flow resistivity of the gap, share of the edge, loss of mounted
 * glass, shear modulus of PVB) were chosen on the 18 builds of EN 12758, so that agreement says how
 * well one method fits, not how well it foretells. The bounds lie a little above what is reached.
 *
 * Where they part: provenance.md beside each table. In short: the dip of thick panes is deeper in
 * theory, and UFC's single glass is a smooth envelope for windows in place, without a dip and with
 * leaks, which lies up to 13 dB below a tight pane at 4 kHz and as far from EN 12758 (3.6 dB on
 * average between the two tables' nearest panes): no method can come near both. */
#include "glass.h"

#include <criterion/criterion.h>
#include <stdlib.h>

enum { N_OCTAVE = 6, FIRST_OCTAVE = 1, FIRST_THIRD = 3, MAX_ROW = 32, KEPT_CELL = 9 };

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

static void theory(const gradin_layer *layer, int n_layer, comparison *c) {
    gradin_buildup buildup = {
        .name = "table", .layer = layer, .n_layer = n_layer, .temperature_c = 20.0};
    double r_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
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
static void compare_generic(const double *cell, char *name, size_t size, comparison *c) {
    gradin_layer layer[7];
    int n = add_pane(layer, cell[0], cell[1] != 0.0);
    if (cell[2] != 0.0) {
        layer[n++] = glass_air(12.0);
        n += add_pane(&layer[n], cell[3], cell[4] != 0.0);
    }
    for (int o = 0; o < N_OCTAVE; o++) c->table_db[o] = cell[5 + o];
    c->table_rw_db = (int)cell[11];
    theory(layer, n, c);
    int used = snprintf(name, size, "%g%s", cell[0], cell[1] != 0.0 ? " lam" : "");
    if (cell[2] != 0.0)
        snprintf(name + used, size - (size_t)used, "/6-16/%g%s", cell[3],
                 cell[4] != 0.0 ? " lam" : "");
}

Test(glazing_tables, generic_glazing_of_en_12758) {
    comparison c[MAX_ROW];
    double cell[GLASS_MAX_CELL];
    char word[32], name[64];
    int n = 0, n_near = 0;
    FILE *file = glass_csv_open("en-12758/values.csv");
    puts("build,125,250,500,1000,2000,4000,mean_abs_db,rw_minus_table_db");
    for (; n < MAX_ROW && glass_csv_row(file, cell, word); n++) {
        compare_generic(cell, name, sizeof name, &c[n]);
        print(name, &c[n]);
        n_near += abs(c[n].rw_db - c[n].table_rw_db) <= 1;
        cr_assert_lt(c[n].mean_abs_db, 3.3, "%s", name); /* 3.2 reached, 12 mm */
    }
    glass_csv_close(file);
    printf("mean,%.3f,Rw within 1 dB,%d,of,%d\n", mean_of(c, n), n_near, n);
    cr_assert_eq(n, 18);
    cr_assert_lt(mean_of(c, n), 1.45); /* 1.38 reached */
    cr_assert_eq(n_near, 18);
    compare_kept("en-12758/comparison.csv", c, n);
}

/* thickness_in,lb/ft2,9 octaves 31..8000,STC (compared with Rw: both re 500 Hz, other bands) */
Test(glazing_tables, single_glass_of_ufc_3_450_01) {
    comparison c[MAX_ROW];
    double cell[GLASS_MAX_CELL];
    char word[32];
    int n = 0;
    FILE *file = glass_csv_open("ufc-glass/values.csv");
    puts("thickness_in,125,250,500,1000,2000,4000,mean_abs_db,rw_minus_stc_db");
    for (; n < MAX_ROW && glass_csv_row(file, cell, word); n++) {
        gradin_layer pane = glass_pane(25.4 * cell[0]);
        for (int o = 0; o < N_OCTAVE; o++) c[n].table_db[o] = cell[4 + o];
        c[n].table_rw_db = (int)cell[11];
        theory(&pane, 1, &c[n]);
        print(word, &c[n]);
        for (int o = 0; o < 2; o++) /* no leak and no coincidence there but for 3/4 in at 250 Hz */
            cr_assert_float_eq(c[n].octave_db[o], c[n].table_db[o], n == 3 ? 5.0 : 3.0, "%s in",
                               word);
    }
    glass_csv_close(file);
    printf("mean,%.3f\n", mean_of(c, n));
    cr_assert_eq(n, 4);
    cr_assert_lt(mean_of(c, n), 3.55); /* 3.47 reached */
    compare_kept("ufc-glass/comparison.csv", c, n);
}
