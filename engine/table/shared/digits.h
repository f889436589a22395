/* table/shared/digits.h: how many decimals a quantity is written with, the same in every output. A
 * level gets one decimal, a length in metres three (a millimetre), an angle one. */
#ifndef GRADIN_TABLE_DIGITS_H
#define GRADIN_TABLE_DIGITS_H

#include <stdbool.h>

typedef enum table_quantity {
    TABLE_COUNT,
    TABLE_METRE,
    TABLE_MILLIMETRE,
    TABLE_DEGREE,
    TABLE_PERCENT,
    TABLE_DECIBEL,
    TABLE_NOISE_CRITERION,
    TABLE_SECOND,
    TABLE_HERTZ,
    TABLE_MASS,
    TABLE_AREA,
    TABLE_LOSS_FACTOR,
    TABLE_MEGAPASCAL,
    TABLE_NOMINAL_HERTZ, /* of a band, such as 31.5 */
    TABLE_INDEX,         /* of speech, 0 to 1 */
    TABLE_N_QUANTITY
} table_quantity;

int table_decimals(table_quantity quantity);

/* Of a length in feet or inches. */
bool table_is_length(table_quantity quantity);
double table_in_feet(table_quantity quantity, double value);
int table_decimals_in_feet(table_quantity quantity);

#endif
