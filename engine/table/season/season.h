/* table/season/season.h: clock in text, counts over limits, periods. */
#ifndef GRADIN_TABLE_SEASON_H
#define GRADIN_TABLE_SEASON_H

#include "gradin/studies/season.h"
#include "table/shared/date.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

const char *table_voice_name(int effort); /* of a gradin_effort */

/* season_counts.c: events over several limits, and levels by period of the day. */
void table_put_counts(table_text *out, const gradin_season *season);
void table_json_counts(table_json *json, const gradin_season *season);

/* hh:mm of a second of the day; gives out. */
const char *table_clock(char out[TABLE_DATE_CHARS], int second);

#endif
