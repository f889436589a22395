/* What the people cost: all that the plan calls are paid from its start to its end, rests that the
 * venue pays included, at the rate of the hour: by day, in the night, and beyond so many paid hours
 * since the shift began as overtime, at the highest of the rates that hold. Nobody is sent home
 * early, for a plan does not know who may be. */
#include "studies/changeover/changeover.h"

enum { DAY_S = 86400 };

typedef struct purse {
    const gradin_work *w;
    gradin_cost *out;
    int64_t paid_s; /* to each since the shift began */
} purse;

static int64_t until(int64_t now_s, int of_day_s) {
    return ((of_day_s - now_s) % DAY_S + DAY_S) % DAY_S;
}

static bool is_night(const gradin_work *w, int64_t now_s) {
    int64_t length_s = until(w->night_from_s, w->night_to_s);
    int64_t gone_s = until(w->night_from_s, (int)(((now_s % DAY_S) + DAY_S) % DAY_S));
    return gone_s < length_s;
}

static int64_t least(int64_t a, int64_t b) {
    return b > 0 && b < a ? b : a;
}

/* Until the kind of hour may change. */
static int64_t alike_s(const purse *p, int64_t now_s, int64_t left_s) {
    left_s = least(left_s, until(now_s, p->w->night_from_s));
    left_s = least(left_s, until(now_s, p->w->night_to_s));
    return p->w->overtime_after_s > 0 ? least(left_s, p->w->overtime_after_s - p->paid_s) : left_s;
}

static double highest(double rate, double other) {
    return !isnan(other) && other > rate ? other : rate;
}

static void pay(purse *p, int64_t from_s, int64_t until_s) {
    gradin_cost *out = p->out;
    for (int64_t now_s = from_s, part_s; now_s < until_s; now_s += part_s) {
        part_s = alike_s(p, now_s, until_s - now_s);
        bool night = is_night(p->w, now_s);
        bool over = p->w->overtime_after_s > 0 && p->paid_s >= p->w->overtime_after_s;
        double rate = night ? highest(p->w->rate_day, p->w->rate_night) : p->w->rate_day;
        double hours = (double)part_s * out->people / 3600.0;
        if (over) rate = highest(rate, p->w->rate_overtime);
        *(over ? &out->overtime_hours : night ? &out->night_hours : &out->day_hours) += hours;
        out->sum += hours * rate;
        p->paid_s += part_s;
    }
}

void changeover_cost(changeover *c) {
    gradin_changeover *out = c->out;
    purse p = {.w = &c->a->work, .out = &out->cost};
    if (!out->has_start || !(p.w->rate_day > 0.0)) return;
    out->cost = (gradin_cost){.is_known = true, .people = c->n_called, .currency = p.w->currency};
    int64_t now_s = 0;
    for (int i = 0; i < out->n_stop; i++) {
        const gradin_stop *s = &out->stop[i];
        pay(&p, out->start_s + now_s, out->start_s + s->from_s);
        if (s->is_paid) pay(&p, out->start_s + s->from_s, out->start_s + s->to_s);
        if (!s->is_rest) p.paid_s = 0;
        now_s = s->to_s;
    }
    pay(&p, out->start_s + now_s, out->start_s + out->total_s);
}
