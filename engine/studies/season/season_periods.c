/* LAeq of the listed events by period of the day, and day, evening and night together.
 *
 * Directive 2002/49/EC, Annex I: (1) Lden = 10 lg(1/24 (12 10^(Lday/10) + 4 10^((Levening + 5)/10)
 * + 8 10^((Lnight + 10)/10))), with the hours and penalties of the traffic's own periods in their
 * place; levels of the sound that arrives, without the facade's reflection. There the levels are
 * long-term ones of a year; here they are those of the season's days,
 * and of nothing but the listed events. An event counts in the period that it is listed in. */
#include "studies/season/season.h"
#include "studies/shared/spread.h"

static int period_of(const gradin_periods *p, int64_t time_s) {
    int second = (int)season_after_start_s(time_s, 0), period = GRADIN_PERIOD_NIGHT;
    for (int k = 0; k < GRADIN_N_PERIOD; k++)
        if (second >= p->start_s[k]) period = k;
    return period;
}

static double hours_of(const gradin_periods *p, int period) {
    int next = (period + 1) % GRADIN_N_PERIOD;
    int64_t length_s = season_after_start_s(p->start_s[next], p->start_s[period]);
    return (double)length_s / 3600.0;
}

static double level_db(const gradin_season *s, int period, double exposure) {
    return 10.0 * log10(exposure / (s->n_day * 3600.0 * s->period[period].hours));
}

/* energy[n_flight] of 10^(offset/10) in one period. */
static gradin_status fill_period(gradin_arena *arena, gradin_season *s, int period,
                                 const double *energy, double *seat_db) {
    gradin_period_level *to = &s->period[period];
    double outside = 0.0;
    for (int k = 0; k < s->n_flight; k++)
        outside += energy[k] * pow(10.0, 0.1 * s->flight[k].outside_sel_db);
    to->outside_db = level_db(s, period, outside);
    for (int seat = 0; seat < s->model->seats.n_seat; seat++) {
        double inside = 0.0;
        for (int k = 0; k < s->n_flight; k++)
            if (energy[k] > 0.0) inside += energy[k] * pow(10.0, 0.1 * s->flight[k].sel_db[seat]);
        seat_db[seat] = level_db(s, period, inside);
    }
    return studies_spread(arena, seat_db, s->model->seats.n_seat, &to->seat_db);
}

static double together_db(const gradin_season *s) {
    double sum = 0.0;
    for (int k = 0; k < GRADIN_N_PERIOD; k++)
        sum += s->period[k].hours *
               pow(10.0, 0.1 * (s->period[k].outside_db + s->period[k].penalty_db));
    return 10.0 * log10(sum / 24.0); /* (1) */
}

gradin_status season_periods(gradin_arena *arena, gradin_season *s, const int *index) {
    const gradin_traffic *t = s->traffic;
    size_t n_flight = (size_t)s->n_flight;
    if (t->periods.start_s[GRADIN_PERIOD_NIGHT] == 0) return GRADIN_OK; /* none are asked for */
    double *energy = gradin_arena_alloc(arena, GRADIN_N_PERIOD * n_flight, sizeof *energy);
    double *seat_db = gradin_arena_alloc(arena, (size_t)s->model->seats.n_seat, sizeof *seat_db);
    gradin_status status = energy && seat_db ? GRADIN_OK : GRADIN_NO_MEMORY;
    for (int i = 0; status == GRADIN_OK && i < t->n_event; i++) {
        const gradin_event *e = &t->event[i];
        size_t flight = (size_t)index[e->class_index * t->n_track + e->track];
        size_t period = (size_t)period_of(&t->periods, e->time_s);
        energy[period * n_flight + flight] += pow(10.0, 0.1 * e->offset_db);
    }
    for (int k = 0; status == GRADIN_OK && k < GRADIN_N_PERIOD; k++) {
        s->period[k].hours = hours_of(&t->periods, k);
        s->period[k].penalty_db = t->periods.penalty_db[k];
        status = fill_period(arena, s, k, energy + (size_t)k * n_flight, seat_db);
    }
    if (status == GRADIN_OK) s->outside_den_db = together_db(s);
    return status;
}
