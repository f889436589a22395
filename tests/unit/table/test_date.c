/* Dates in text: known days. */
#include "table/shared/date.h"

#include <criterion/criterion.h>

/* Seconds since 1970 of POSIX, by `date -u -d ... +%s`. */
Test(date, known_days) {
    static const struct {
        int64_t time_s;
        const char *text;
    } known[] = {{0, "1970-01-01T00:00"},          {86399, "1970-01-01T23:59"},
                 {951825600, "2000-02-29T12:00"},  {951868800, "2000-03-01T00:00"},
                 {1804015800, "2027-03-02T19:30"}, {4107542400, "2100-03-01T00:00"},
                 {4107542399, "2100-02-28T23:59"}, {1735689599, "2024-12-31T23:59"}};
    char text[TABLE_DATE_CHARS];
    for (int i = 0; i < 8; i++)
        cr_expect_str_eq(table_time(text, known[i].time_s, 'T'), known[i].text);
    cr_expect_str_eq(table_date(text, 1804015800), "2027-03-02");
}
