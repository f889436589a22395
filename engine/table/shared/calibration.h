/* table/shared/calibration.h: a measurement at the site beside the prediction, in words and JSON.
 */
#ifndef GRADIN_TABLE_SHARED_CALIBRATION_H
#define GRADIN_TABLE_SHARED_CALIBRATION_H

#include "gradin/studies.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

/* Nothing without a measurement. `predicted` is of the maxima at the seats as predicted. */
void table_put_calibration(table_text *out, const gradin_calibration *calibration,
                           const gradin_spread *predicted, const gradin_spread *corrected);
void table_json_calibration(table_json *json, json_t *parent, const gradin_calibration *calibration,
                            const gradin_spread *predicted);

#endif
