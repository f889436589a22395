/* Dates and times of day, local, of seconds since 1 January 1970 (the civil-day count backwards).
 */
#include "table/shared/date.h"

#include <stdio.h>

void table_date_parts(int64_t time_s, int *year, int *month, int *day) {
    int64_t z = time_s / 86400 + 719468, era = z / 146097;
    int of_era = (int)(z - era * 146097);
    int of_400 = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
    int of_year = of_era - (365 * of_400 + of_400 / 4 - of_400 / 100);
    int m = (5 * of_year + 2) / 153;
    *day = of_year - (153 * m + 2) / 5 + 1;
    *month = m < 10 ? m + 3 : m - 9;
    *year = (int)(of_400 + era * 400) + (*month <= 2);
}

const char *table_date(char out[TABLE_DATE_CHARS], int64_t time_s) {
    int year, month, day;
    table_date_parts(time_s, &year, &month, &day);
    snprintf(out, TABLE_DATE_CHARS, "%04d-%02d-%02d", year, month, day);
    return out;
}

const char *table_time(char out[TABLE_DATE_CHARS], int64_t time_s, char between) {
    int year, month, day, of_day = (int)(time_s % 86400);
    table_date_parts(time_s, &year, &month, &day);
    snprintf(out, TABLE_DATE_CHARS, "%04d-%02d-%02d%c%02d:%02d", year, month, day, between,
             of_day / 3600, of_day / 60 % 60);
    return out;
}

const char *table_stamp(char out[TABLE_DATE_CHARS], int64_t time_s) {
    char minute[TABLE_DATE_CHARS];
    table_time(minute, time_s, 'T');
    snprintf(out, TABLE_DATE_CHARS, "%.16s:%02d", minute, (int)(time_s % 60));
    return out;
}
