/* table/assess/summary_noise.h: the noise part of the JSON summary. */
#ifndef GRADIN_TABLE_SUMMARY_NOISE_H
#define GRADIN_TABLE_SUMMARY_NOISE_H

#include "gradin/studies.h"
#include "table/shared/json.h"

/* Adds "noise"; the assessment has noise. */
void table_summary_noise(table_json *json, const gradin_assessment *assessment);

#endif
