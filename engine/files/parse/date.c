/* Dates and times of day: ISO 8601, local, as seconds since 1970. */
#include "files/parse/date.h"

#include <stdio.h>
#include <string.h>

/* Days since 1 January 1970 of the Gregorian calendar (Howard Hinnant's civil-day count). */
static int64_t day_of(int year, int month, int day) {
    int y = month <= 2 ? year - 1 : year, era = y / 400, of_era = y - era * 400;
    int of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return (int64_t)era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

static bool digits(const char *at, int n, int *value) {
    *value = 0;
    for (int i = 0; i < n; i++) {
        if (at[i] < '0' || at[i] > '9') return false;
        *value = 10 * *value + (at[i] - '0');
    }
    return true;
}

static int days_in(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool is_leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && is_leap);
}

bool gradin_date_parse(const char *t, bool has_seconds, int64_t *time_s) {
    int year, month, day, hour, minute, second = 0;
    if (!t || !time_s) return false;
    if (strlen(t) != (has_seconds ? 19 : 16) || t[4] != '-' || t[7] != '-' || t[10] != 'T' ||
        t[13] != ':' || (has_seconds && t[16] != ':'))
        return false;
    if (!digits(t, 4, &year) || !digits(t + 5, 2, &month) || !digits(t + 8, 2, &day) ||
        !digits(t + 11, 2, &hour) || !digits(t + 14, 2, &minute) ||
        (has_seconds && !digits(t + 17, 2, &second)))
        return false;
    if (year < 1970 || month < 1 || month > 12 || day < 1 || day > days_in(year, month) ||
        hour > 23 || minute > 59 || second > 59)
        return false;
    *time_s = day_of(year, month, day) * 86400 + hour * 3600 + minute * 60 + second;
    return true;
}

bool gradin_day_parse(const char *text, int64_t *time_s) {
    enum { DAY_CHARS = 10 };
    char time[DAY_CHARS + 7];
    snprintf(time, sizeof time, "%.10sT00:00", text);
    return strlen(text) == DAY_CHARS && gradin_date_parse(time, false, time_s);
}
