/* When a changeover is worked: within its window, so that the least of it lies in the night.
 *
 * Its moves keep the order and the links of gradin_changeover_plan() from the beginning on, with
 * the venue's shifts and rests where it states any. The night part is summed over the moves: people
 * times the overlap of their work with every night. Days are alike, so a beginning later than a day
 * after the earliest is never better. Crews are called on quarters of an hour. */
#include "studies/programme/programme.h"

#include <math.h>

enum { DAY_S = 86400, QUARTER_S = 900 };

/* Of [from, to) with the nights, each from night_from to night_to of the day, past midnight or not.
 */
static double overlap_s(const gradin_programme *p, int64_t from_s, int64_t to_s) {
    int64_t length_s = (p->night_to_s - p->night_from_s + DAY_S) % DAY_S;
    int64_t night_s = from_s - ((from_s - p->night_from_s) % DAY_S + DAY_S) % DAY_S;
    double sum_s = 0.0;
    for (; night_s < to_s; night_s += DAY_S) {
        int64_t begin_s = night_s > from_s ? night_s : from_s;
        int64_t end_s = night_s + length_s < to_s ? night_s + length_s : to_s;
        if (end_s > begin_s) sum_s += (double)(end_s - begin_s);
    }
    return sum_s;
}

/* What of a stretch of the clock is work. */
static double worked_s(const gradin_programme *p, const gradin_changeover *c, int64_t begin_s,
                       int from_s, int to_s) {
    double sum_s = overlap_s(p, begin_s + from_s, begin_s + to_s);
    for (int i = 0; i < c->n_stop; i++) {
        const gradin_stop *s = &c->stop[i];
        int first_s = s->from_s > from_s ? s->from_s : from_s;
        int last_s = s->to_s < to_s ? s->to_s : to_s;
        if (last_s > first_s) sum_s -= overlap_s(p, begin_s + first_s, begin_s + last_s);
    }
    return sum_s;
}

double programme_night_s(const gradin_programme *p, const gradin_changeover *c, int64_t begin_s) {
    double sum_s = 0.0;
    for (int i = 0; i < c->n_move; i++)
        sum_s += c->move[i].crew * worked_s(p, c, begin_s, c->move[i].start_s, c->move[i].end_s);
    return sum_s;
}

static int64_t day_second(int64_t at_s) {
    return ((at_s % DAY_S) + DAY_S) % DAY_S;
}

/* The plan begun then; shifts and rests are alike every day, so each time of day is worked out
 * once. total_s -1: they leave it no time. */
static gradin_status clock_at(const gradin_programme *p, programme_clock *clock, int64_t begin_s,
                              programme_begun *found) {
    int64_t of_day_s = day_second(begin_s);
    programme_begun *kept =
        of_day_s % QUARTER_S == 0 ? &clock->quarter[of_day_s / QUARTER_S] : NULL;
    const gradin_changeover *plan = clock->plan;
    if (kept && kept->is_known) {
        *found = *kept;
        return GRADIN_OK;
    }
    gradin_changeover begun = *plan;
    gradin_arena *arena = gradin_arena_create();
    gradin_status status = arena ? GRADIN_OK : GRADIN_NO_MEMORY;
    if (status == GRADIN_OK && plan->has_rests)
        status = gradin_changeover_restart(arena, plan, begin_s, &begun, NULL);
    *found = (programme_begun){true, -1, 0.0};
    if (status == GRADIN_OK)
        *found = (programme_begun){true, begun.total_s, programme_night_s(p, &begun, begin_s)};
    if (arena) gradin_arena_destroy(arena);
    if (kept && status != GRADIN_NO_MEMORY) *kept = *found;
    return status == GRADIN_BAD_INPUT ? GRADIN_OK : status;
}

static gradin_status begin_at(const gradin_programme *p, programme_clock *clock, int64_t begin_s,
                              gradin_staging *s, bool *is_there) {
    programme_begun found;
    gradin_status status = clock_at(p, clock, begin_s, &found);
    *is_there = status == GRADIN_OK && found.total_s >= 0;
    s->begin_s = begin_s;
    s->done_s = begin_s + (*is_there ? found.total_s : 0);
    s->person_hours = clock->plan->person_hours;
    s->night_hours = found.night_s / 3600.0;
    s->cost = p->hour_cost * (s->person_hours + (p->night_factor - 1.0) * s->night_hours);
    s->short_s = s->done_s > s->due_s ? (int)(s->done_s - s->due_s) : 0;
    return status;
}

static bool is_better(const gradin_staging *a, const gradin_staging *b) {
    if (a->short_s != b->short_s) return a->short_s < b->short_s;
    return a->cost < b->cost - 1e-9 * fabs(b->cost);
}

/* Shifts that leave no time at any hour. */
static void leave_out(gradin_staging *s) {
    s->no_way = "the venue's shifts and rests leave the changeover no time at any hour";
    s->begin_s = s->done_s = s->free_s;
    s->person_hours = s->night_hours = s->cost = 0.0;
    s->short_s = 0;
}

gradin_status programme_place(const gradin_programme *p, programme_clock *clock,
                              gradin_staging *s) {
    bool is_there, is_any = false;
    gradin_status status = GRADIN_OK;
    const gradin_staging window = *s;
    int64_t quarter_s = s->free_s - s->free_s % QUARTER_S;
    for (int i = 0; i <= DAY_S / QUARTER_S && status == GRADIN_OK; i++) {
        gradin_staging tried = window;
        int64_t begin_s = i > 0 ? quarter_s + (int64_t)i * QUARTER_S : window.free_s;
        status = begin_at(p, clock, begin_s, &tried, &is_there);
        if (!is_there || (is_any && !is_better(&tried, s))) continue;
        *s = tried;
        is_any = true;
    }
    if (status == GRADIN_OK && !is_any) leave_out(s);
    return status;
}
