/* Decimals by quantity. A length in feet or inches is converted before it is rounded: 1 ft = 0.3048
 * m exactly, 1 in = 25.4 mm (NIST SP 811, appendix B.6). 0.001 ft and 0.01 in are finer than the
 * metric table's millimetre. */
#include "table/shared/digits.h"

#include "gradin/base.h"

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

bool table_is_length(table_quantity quantity) {
    return quantity == TABLE_METRE || quantity == TABLE_MILLIMETRE;
}

double table_in_feet(table_quantity quantity, double value) {
    return quantity == TABLE_METRE ? value / GRADIN_FOOT_M : value / 25.4;
}

int table_decimals_in_feet(table_quantity quantity) {
    return quantity == TABLE_METRE ? 3 : 2;
}
