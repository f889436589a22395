/* How often: the expected number of events over the limit.
 *
 * An event lies over the limit with the chance that its predicted level, spread by what is
 * systematic and by the scatter of its class beyond the events' own offsets, is over it: normal
 * errors in decibels. The interval moves what is systematic, which all events share, to either side
 * by the coverage factor of the confidence and spreads each event by its scatter alone: scatter is
 * counted once, and averages out over many events as it should. */
#include "studies/season/season.h"

static double excess_of(const gradin_season *s, const season_same *same, int seat,
                        double limit_dba) {
    return s->flight[same->flight].lamax_db[seat] + same->offset_db - limit_dba;
}

static double scatter_of(const gradin_season *s, const season_same *same) {
    return s->class_scatter_db[s->flight[same->flight].class_index];
}

static double expected_of(const gradin_season *s, const season_same *same, int seat,
                          double limit_dba) {
    return gradin_chance_over(excess_of(s, same, seat, limit_dba),
                              hypot(s->systematic_db[seat], scatter_of(s, same)));
}

static season_chances of_same(const gradin_season *s, const season_same *same, int seat,
                              double limit_dba, double factor) {
    double excess_db = excess_of(s, same, seat, limit_dba), scatter_db = scatter_of(s, same);
    double known_db = factor * s->systematic_db[seat];
    return (season_chances){gradin_chance_over(excess_db - known_db, scatter_db),
                            expected_of(s, same, seat, limit_dba),
                            gradin_chance_over(excess_db + known_db, scatter_db)};
}

/* With events outside performances only where all are asked for. */
static void expect_seat(gradin_season *s, const season_groups *groups, int seat, double factor,
                        bool has_all) {
    season_chances show = {0.0, 0.0, 0.0};
    double all = 0.0;
    for (int i = 0; i < groups->n_same; i++) {
        const season_same *same = &groups->same[i];
        if (!has_all && same->n_show == 0) continue;
        season_chances c = of_same(s, same, seat, s->limit_dba, factor);
        all += same->n * c.expected;
        show.low += same->n_show * c.low;
        show.expected += same->n_show * c.expected;
        show.high += same->n_show * c.high;
    }
    s->over[seat] = has_all ? all : NAN;
    s->over_show_low[seat] = show.low / s->n_day;
    s->over_show[seat] = show.expected / s->n_day;
    s->over_show_high[seat] = show.high / s->n_day;
    s->often[seat] = s->over_show_low[seat] > 1.0     ? GRADIN_VERDICT_OVER
                     : s->over_show_high[seat] <= 1.0 ? GRADIN_VERDICT_WITHIN
                                                      : GRADIN_VERDICT_NEAR;
}

season_chances season_expect_show(const gradin_season *s, const season_groups *groups, int seat,
                                  double limit_dba, double confidence) {
    season_chances show = {0.0, 0.0, 0.0};
    double factor = gradin_coverage_factor(confidence);
    for (int i = 0; i < groups->n_same; i++) {
        const season_same *same = &groups->same[i];
        if (same->n_show == 0) continue;
        season_chances c = of_same(s, same, seat, limit_dba, factor);
        show.low += same->n_show * c.low;
        show.expected += same->n_show * c.expected;
        show.high += same->n_show * c.high;
    }
    return show;
}

/* Within only if one event per performance at most is expected at the upper bound with all that is
 * not in the levels. */
bool season_doubt_often(gradin_arena *arena, gradin_season *s, const int *index) {
    season_groups groups;
    double limit_dba = s->limit_dba - s->gaps.adds_db;
    if (isnan(limit_dba) || !(s->gaps.adds_db > 0.0)) return true;
    if (!season_group(arena, s, index, &groups)) return false;
#pragma omp parallel for schedule(static)
    for (int seat = 0; seat < s->model->seats.n_seat; seat++) {
        if (s->often[seat] != GRADIN_VERDICT_WITHIN) continue;
        season_chances show =
            season_expect_show(s, &groups, seat, limit_dba, s->model->criterion.confidence);
        if (show.high / s->n_day > 1.0) s->often[seat] = GRADIN_VERDICT_NEAR;
    }
    return true;
}

static double mean_over_seats(const gradin_season *s, const double *value) {
    double sum = 0.0;
    for (int seat = 0; seat < s->model->seats.n_seat; seat++) sum += value[seat];
    return sum / s->model->seats.n_seat;
}

/* Chance of each group's events, mean of the seats: share[n_same]. */
static void share_groups(const gradin_season *s, const season_groups *groups, double *share) {
    int n_seat = s->model->seats.n_seat;
#pragma omp parallel for schedule(static)
    for (int i = 0; i < groups->n_same; i++) {
        double sum = 0.0;
        for (int seat = 0; seat < n_seat; seat++)
            sum += expected_of(s, &groups->same[i], seat, s->limit_dba);
        share[i] = sum / n_seat;
    }
}

/* by_second[2 * SEASON_DAY_S + 1]: expected events before each second of a day and the next. */
static void find_starts(gradin_season *s, const season_groups *groups, const double *share,
                        double *by_second) {
    const gradin_traffic *t = s->traffic;
    for (int i = 0; i < t->n_event; i++)
        by_second[season_after_start_s(t->event[i].time_s, 0) + 1] += share[groups->of_event[i]];
    for (int k = 1; k <= SEASON_DAY_S; k++) by_second[SEASON_DAY_S + k] = by_second[k];
    for (int k = 1; k <= 2 * SEASON_DAY_S; k++) by_second[k] += by_second[k - 1];
    for (int k = 0; k < GRADIN_N_START; k++) {
        int from_s = k * GRADIN_START_STEP_S;
        s->start_over[k] = (by_second[from_s + t->length_s] - by_second[from_s]) / s->n_day;
    }
}

/* A performance belongs to the day it begins on; the night before the first is no day.
 * day_over[n_day + 1] */
static void find_worst_day(gradin_season *s, const season_groups *groups, const double *share,
                           double *day_over) {
    const gradin_traffic *t = s->traffic;
    for (int i = 0; i < t->n_event; i++) {
        if (season_after_start_s(t->event[i].time_s, t->start_s) >= t->length_s) continue;
        int64_t since_s = t->event[i].time_s - t->start_s - s->first_day_s;
        day_over[since_s < 0 ? s->n_day : since_s / SEASON_DAY_S] += share[groups->of_event[i]];
    }
    for (int d = 0; d < s->n_day; d++)
        if (day_over[d] > day_over[s->worst_day]) s->worst_day = d;
    s->worst_show_over = day_over[s->worst_day];
}

static bool expect_days(gradin_arena *arena, gradin_season *s, const season_groups *groups) {
    double *share = gradin_arena_alloc(arena, (size_t)groups->n_same, sizeof *share);
    double *day_over = gradin_arena_alloc(arena, (size_t)s->n_day + 1, sizeof *day_over);
    double *by_second = gradin_arena_alloc(arena, 2 * SEASON_DAY_S + 1, sizeof *by_second);
    if (!share || !day_over || !by_second) return false;
    share_groups(s, groups, share);
    find_starts(s, groups, share, by_second);
    find_worst_day(s, groups, share, day_over);
    return true;
}

bool season_expect(gradin_arena *arena, gradin_season *s, const season_groups *groups,
                   bool is_counts_only) {
    double factor = gradin_coverage_factor(s->model->criterion.confidence);
#pragma omp parallel for schedule(static)
    for (int seat = 0; seat < s->model->seats.n_seat; seat++)
        expect_seat(s, groups, seat, factor, !is_counts_only);
    s->show_over_low = mean_over_seats(s, s->over_show_low);
    s->show_over = mean_over_seats(s, s->over_show);
    s->show_over_high = mean_over_seats(s, s->over_show_high);
    return is_counts_only || expect_days(arena, s, groups);
}
