/* table/sweep/sweep.h: what every output of a sweep shares. */
#ifndef GRADIN_TABLE_SWEEP_H
#define GRADIN_TABLE_SWEEP_H

#include "gradin/studies/sweep.h"
#include "table/shared/text.h"

/* "yes", "too near to tell", "no". */
const char *table_sweep_keeps(gradin_verdict verdict);
const gradin_study_figure_form *table_sweep_form(const gradin_study *study, int column);
table_quantity table_sweep_quantity(const gradin_study *study, int column);
/* The value of a key in a row. */
const char *table_sweep_value(const gradin_sweep_result *result, int row, int key);
/* Is any bound of the column apart from its figure? */
bool table_sweep_has_bounds(const gradin_sweep_result *result, int column);

#endif
