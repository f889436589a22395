/* Dates: known days, and what is none. */
#include "files/parse/date.h"

#include <criterion/criterion.h>

/* Seconds since 1970 of POSIX, by `date -u -d ... +%s`. */
Test(date, known_days) {
    static const struct {
        const char *text;
        int64_t time_s;
    } known[] = {{"1970-01-01T00:00", 0},
                 {"2000-02-29T12:00", 951825600},
                 {"2027-03-02T19:30", 1804015800},
                 {"2100-03-01T00:00", 4107542400}};
    for (int i = 0; i < 4; i++) {
        int64_t time_s = -1;
        cr_expect(gradin_date_parse(known[i].text, false, &time_s));
        cr_expect_eq(time_s, known[i].time_s, "%s: %lld", known[i].text, (long long)time_s);
    }
}

Test(date, what_is_none) {
    static const char *const bad[] = {"2027-02-29T10:00",    "2027-13-01T10:00", "2027-01-01 10:00",
                                      "2027-01-01T24:00",    "2027-01-01T10:60", "1969-12-31T23:59",
                                      "2027-01-01T10:00:00", "2027-1-1T10:00",   ""};
    int64_t time_s;
    for (int i = 0; i < 9; i++)
        cr_expect_not(gradin_date_parse(bad[i], false, &time_s), "%s", bad[i]);
    cr_expect_not(gradin_date_parse("2027-01-01T10:00", true, &time_s));
    cr_expect_not(gradin_date_parse("2027-01-01T10:00:60", true, &time_s));
}
