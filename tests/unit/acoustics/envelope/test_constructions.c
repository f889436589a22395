/* Generic constructions against the tables that they are taken from. */
#include "gradin/acoustics/buildup.h"
#include "support/reference.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const octave[GRADIN_N_OCTAVE] = {"63",   "125",  "250", "500",
                                                    "1000", "2000", "4000"};

static double figure(const reference *table, int row, const char *column) {
    return reference_text(table, row, column)[0] ? reference_number(table, row, column) : NAN;
}

static bool is_same(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

static int row_of(const reference *table, const char *element, int column) {
    for (int i = 0; i < table->n_row; i++)
        if (strcmp(table->cell[i][column], element) == 0) return i;
    return -1;
}

/* Three handbooks, second-hand copies: reference/envelope. */
Test(constructions, are_rows_of_the_handbooks) {
    reference table;
    int n;
    const gradin_construction *all = gradin_constructions(&n);
    reference_read("envelope/roofs-walls-octaves.csv", &table);
    cr_assert_eq(n, 18);
    for (int i = 0; i < n; i++) {
        const char *first = strncmp(all[i].source, "Ros", 3) == 0   ? "rossing"
                            : strncmp(all[i].source, "ASH", 3) == 0 ? "ashrae"
                                                                    : "bies";
        int row = row_of(&table, all[i].meaning, 1);
        cr_assert(row >= 0, "%s", all[i].meaning);
        cr_expect_eq(strncmp(table.cell[row][0], first, strlen(first)), 0, "%s", all[i].name);
        cr_expect(is_same(figure(&table, row, "surface_kgm2"), all[i].surface_kgm2), "%s",
                  all[i].name);
        for (int o = 0; o < GRADIN_N_OCTAVE; o++)
            cr_expect(is_same(figure(&table, row, octave[o]), all[i].octave_db[o]), "%s, %s Hz",
                      all[i].name, octave[o]);
        cr_expect_eq(gradin_construction_find(all[i].name), &all[i], "names are told apart");
    }
    cr_expect_null(gradin_construction_find("concrete"));
}

/* What stands in two tables must agree: the copies were made by different readers. */
Test(constructions, recur_alike_in_the_other_tables) {
    static const struct {
        const char *element, *thickness_mm, *name;
    } pair[] = {{"reinforced concrete", "100", "concrete_100"},
                {"reinforced concrete", "200", "concrete_200"},
                {"reinforced concrete", "300", "concrete_300"},
                {"single leaf brick plastered both sides", "125", "brick_125_plastered"},
                {"single leaf brick plastered both sides", "255", "brick_255_plastered"},
                {"0.9 mm galvanised steel sheet", "0.9", "steel_sheet_0_9"},
                {"2-skin metal door", "35", "metal_door_35"}};
    reference bies, other;
    reference_read("envelope/elements-bies-2017-table-7-6.csv", &bies);
    reference_read("envelope/elements-other-octaves.csv", &other);
    for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++) {
        int row = 0;
        while (row < bies.n_row && (strcmp(bies.cell[row][0], pair[k].element) != 0 ||
                                    strcmp(bies.cell[row][1], pair[k].thickness_mm) != 0))
            row++;
        cr_assert(row < bies.n_row, "%s", pair[k].name);
        for (int o = 0; o < GRADIN_N_OCTAVE; o++)
            cr_expect(is_same(figure(&bies, row, octave[o]),
                              gradin_construction_find(pair[k].name)->octave_db[o]),
                      "%s, %s Hz", pair[k].name, octave[o]);
    }
    int slab = row_of(&other, "150 mm concrete floor or ceiling", 1);
    int block = row_of(&other, "200 mm concrete block", 1);
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
        cr_expect_eq(figure(&other, slab, octave[o]),
                     gradin_construction_find("concrete_150")->octave_db[o]);
        cr_expect_eq(figure(&other, block, octave[o]),
                     gradin_construction_find("block_200")->octave_db[o]);
    }
}

/* Figures that a trade body calls values for random incidence are a formula's: no measurement, so
 * no construction of ours. */
Test(constructions, folded_plates_are_a_mass_law) {
    reference other;
    reference_read("envelope/elements-other-octaves.csv", &other);
    int row = row_of(&other, "single folded plate 0.8 mm steel bare", 1);
    static const double hz[3] = {125.0, 500.0, 4000.0};
    for (int k = 0; k < 3; k++) {
        char column[8];
        snprintf(column, sizeof column, "%.0f", hz[k]);
        double a = 3.14159265358979 * hz[k] * 6.28 / 413.0;
        double r_db = 10.0 * log10(a * a / log(1.0 + a * a));
        cr_expect_float_eq(r_db, reference_number(&other, row, column), 0.12, "%s Hz", column);
    }
}

Test(constructions, stand_in_a_build_up) {
    gradin_buildup made = {.name = "deck"};
    gradin_buildup_be(&made, gradin_construction_find("steel_deck_cellulose"));
    cr_expect(made.is_measured && made.is_octave);
    cr_expect_str_eq(made.generic, "steel_deck_cellulose");
    for (int b = 0; b < 3; b++) cr_expect_eq(made.measured_r_db[b], 11.0, "6 dB below 125 Hz");
    for (int b = 3; b < 6; b++) cr_expect_eq(made.measured_r_db[b], 17.0);
    for (int b = 18; b < 21; b++) cr_expect_eq(made.measured_r_db[b], 41.0);
    gradin_buildup_be(&made, gradin_construction_find("concrete_150"));
    cr_expect_eq(made.measured_r_db[0], 40.0, "stated at 63 Hz");
}
