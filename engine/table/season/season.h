/* table/season/season.h: clock and calendar in text, counts over limits, periods. */
#ifndef GRADIN_TABLE_SEASON_H
#define GRADIN_TABLE_SEASON_H

#include <stdint.h>

#include "gradin/studies/season.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

const char *table_voice_name(int effort); /* of a gradin_effort */

/* season_counts.c: events over several limits, and levels by period of the day. */
void table_put_counts(table_text *out, const gradin_season *season);
void table_json_counts(table_json *json, const gradin_season *season);

enum { TABLE_DATE_CHARS = 32 };

/* hh:mm of a second of the day, YYYY-MM-DD of a second since the start of 1970; both give out. */
const char *table_clock(char out[TABLE_DATE_CHARS], int second);
const char *table_date(char out[TABLE_DATE_CHARS], int64_t second);

#endif
