/* When the show is played, on the traffic's own days. A performance belongs to the day it begins
 * on. Days that the traffic does not have would count as silent ones, so they are refused. */
#include "studies/choose/choose.h"
#include "studies/season/season.h"

enum { DAY_S = 86400 };

static int64_t day_of(int64_t time_s) {
    return time_s - (time_s % DAY_S + DAY_S) % DAY_S;
}

/* 1970-01-01 was a Thursday. */
static int weekday_of(int64_t day_s) {
    return (int)(((day_s / DAY_S + 3) % GRADIN_N_WEEKDAY + GRADIN_N_WEEKDAY) % GRADIN_N_WEEKDAY);
}

static bool is_played(const gradin_show *show, int64_t day_s) {
    bool is_any = true;
    for (int k = 0; k < GRADIN_N_WEEKDAY; k++) is_any = is_any && !show->is_day_played[k];
    return is_any || show->is_day_played[weekday_of(day_s)];
}

static gradin_status narrow(const gradin_show *show, choose_days *days, gradin_error *error) {
    int64_t from_s = show->from_s ? show->from_s : days->first_s;
    int64_t to_s = show->to_s ? show->to_s : days->last_s;
    if (from_s < days->first_s || to_s > days->last_s || to_s < from_s)
        return gradin_error_add(error, GRADIN_BAD_INPUT, show->at,
                                "the show is played on days that the traffic does not have; "
                                "without from and to its own days stand for the show's");
    days->first_s = from_s;
    days->last_s = to_s;
    for (int64_t day_s = from_s; day_s <= to_s; day_s += DAY_S)
        if (is_played(show, day_s)) days->n_performance += days->n_start;
    if (days->n_performance > 0) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_INPUT, show->at,
                            "none of its weekdays is among the days of the traffic");
}

gradin_status choose_days_of(const gradin_show *show, const gradin_traffic *traffic,
                             choose_days *days, gradin_error *error) {
    *days = (choose_days){.show = show,
                          .n_start = show->n_start > 0 ? show->n_start : 1,
                          .length_s = show->length_s > 0 ? show->length_s : traffic->length_s};
    for (int k = 0; k < days->n_start; k++)
        days->start_s[k] = show->n_start > 0 ? show->start_s[k] : traffic->start_s;
    season_days(traffic, &days->first_s, &days->last_s);
    return narrow(show, days, error);
}

int choose_performances_at(const choose_days *days, int64_t time_s) {
    int n = 0;
    for (int k = 0; k < days->n_start; k++) {
        int64_t day_s = day_of(time_s - days->start_s[k]);
        bool is_in = time_s - day_s - days->start_s[k] < days->length_s;
        n += is_in && day_s >= days->first_s && day_s <= days->last_s &&
             is_played(days->show, day_s);
    }
    return n;
}
