/* When a changeover is worked: within its window, so that the least of it lies in the night.
 *
 * Its moves keep the order and the times of gradin_changeover_plan() from the beginning on, without
 * a break. The night part is summed over the moves: people times the overlap with every night.
 * Nights repeat every day, so a beginning later than a day after the earliest is never cheaper.
 * Crews are called on quarters of an hour. */
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

double programme_night_s(const gradin_programme *p, const gradin_changeover *c, int64_t begin_s) {
    double sum_s = 0.0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        int64_t from_s = begin_s + m->start_s;
        sum_s += m->crew * overlap_s(p, from_s, from_s + m->duration_s);
    }
    return sum_s;
}

static void begin_at(const gradin_programme *p, const gradin_changeover *c, int64_t begin_s,
                     gradin_staging *s) {
    s->begin_s = begin_s;
    s->done_s = begin_s + c->total_s;
    s->person_hours = c->person_hours;
    s->night_hours = programme_night_s(p, c, begin_s) / 3600.0;
    s->cost = p->hour_cost * (s->person_hours + (p->night_factor - 1.0) * s->night_hours);
}

void programme_place(const gradin_programme *p, const gradin_changeover *c, gradin_staging *s) {
    begin_at(p, c, s->free_s, s);
    int64_t over_s = s->done_s - s->due_s;
    s->short_s = over_s > 0 ? (int)over_s : 0;
    int64_t last_s = s->due_s - c->total_s, quarter_s = s->free_s - s->free_s % QUARTER_S;
    for (int i = 1; i <= DAY_S / QUARTER_S; i++) {
        gradin_staging tried = *s;
        int64_t begin_s = quarter_s + (int64_t)i * QUARTER_S;
        if (begin_s > last_s) return;
        begin_at(p, c, begin_s, &tried);
        if (tried.cost < s->cost - 1e-9 * fabs(s->cost)) *s = tried;
    }
}
