/* Decimals by quantity. */
#include "table/shared/digits.h"

int table_decimals(table_quantity quantity) {
    static const int decimals[TABLE_N_QUANTITY] = {
        [TABLE_COUNT] = 0,
        [TABLE_METRE] = 3,
        [TABLE_MILLIMETRE] = 0,
        [TABLE_DEGREE] = 1,
        [TABLE_PERCENT] = 1,
        [TABLE_DECIBEL] = 1,
        [TABLE_NOISE_CRITERION] = 0,
        [TABLE_SECOND] = 2,
        [TABLE_HERTZ] = 0,
        [TABLE_MASS] = 1,
        [TABLE_AREA] = 2,
        [TABLE_LOSS_FACTOR] = 4,
        [TABLE_MEGAPASCAL] = 1,
        [TABLE_NOMINAL_HERTZ] = 1,
        [TABLE_INDEX] = 3,
    };
    return decimals[quantity];
}
