/* Words of a sweep. */
#include "table/sweep/sweep.h"

const char *table_sweep_keeps(gradin_verdict verdict) {
    return verdict == GRADIN_VERDICT_WITHIN ? "yes"
           : verdict == GRADIN_VERDICT_OVER ? "no"
                                            : "too near to tell";
}

const gradin_study_figure_form *table_sweep_form(const gradin_study *study, int column) {
    return gradin_study_figure_of(study->figure[column]);
}

/* By its decimals. */
table_quantity table_sweep_quantity(const gradin_study *study, int column) {
    static const table_quantity by_decimals[] = {TABLE_COUNT, TABLE_MASS, TABLE_AREA, TABLE_METRE,
                                                 TABLE_LOSS_FACTOR};
    return by_decimals[table_sweep_form(study, column)->decimals];
}

const char *table_sweep_value(const gradin_sweep_result *result, int row, int key) {
    return result->value[row * result->study->n_varied + key];
}

bool table_sweep_has_bounds(const gradin_sweep_result *result, int column) {
    for (int i = 0; i < result->n_row; i++) {
        const gradin_known *k = result->row[i].refused ? NULL : &result->row[i].figure[column];
        if (k && !isnan(k->value) && (k->low != k->value || k->high != k->value)) return true;
    }
    return false;
}
