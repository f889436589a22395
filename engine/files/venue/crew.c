/* What a changeover needs besides the machines: crew, power, seating stock, the lift to the store;
 * and what people weigh. Every figure is the venue's own. */
#include "files/venue/read.h"

static void check_crew(reader *r, const node *at, const char *key, int crew,
                       const gradin_venue *v) {
    if (at && v->crew.people > 0 && crew > v->crew.people)
        complain_key(r, at, key, "takes %d people; the venue's crew has %d", crew, v->crew.people);
}

static void fill_stock(reader *r, const stated_crew *s, gradin_venue *v) {
    gradin_seating *made = alloc(&r->c, s->n_seating, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_seating; i++) {
        const stated_seating *from = &s->seating[i];
        made[i] = (gradin_seating){.name = from->name,
                                   .kind = (gradin_seating_kind)from->kind,
                                   .set_rate = from->set_rate,
                                   .strike_rate = from->strike_rate,
                                   .crew = from->crew,
                                   .seat_kg = from->seat_kg,
                                   .is_stored = from->is_stored};
        check_crew(r, from->at, "crew", from->crew, v);
        if (from->at && from->is_stored && !s->store)
            complain_key(r, from->at, "stored", "needs a store lift; add 'store'");
    }
    v->crew.seating = made;
    v->crew.n_seating = s->n_seating;
}

static void fill_store(reader *r, const stated_store *s, gradin_venue *v) {
    gradin_store *store = alloc(&r->c, 1, sizeof *store);
    if (!store) return;
    *store = (gradin_store){.name = s->name,
                            .travel_m = s->travel_m,
                            .drive = drive_stated(&s->drive, s->speed_ms, 0.0),
                            .seats_per_trip = s->seats_per_trip,
                            .load_s = s->load_s};
    v->crew.store = store;
}

static int seconds(double number, double unit_s) {
    return isnan(number) ? 0 : (int)llround(number * unit_s);
}

static void fill_hours(reader *r, const stated_crew *s, gradin_work *w) {
    gradin_shift *shift = alloc(&r->c, s->n_shift, sizeof *shift);
    gradin_rest *rest = alloc(&r->c, s->n_rest, sizeof *rest);
    if (!shift || !rest) return;
    for (int i = 0; i < s->n_shift; i++)
        shift[i] = (gradin_shift){clock_s(s->shift[i].from), clock_s(s->shift[i].to)};
    for (int i = 0; i < s->n_rest; i++) {
        const stated_rest *from = &s->rest[i];
        rest[i] = (gradin_rest){.name = from->name,
                                .length_s = seconds(from->minutes, 60.0),
                                .at_s = from->at_time ? clock_s(from->at_time) : 0,
                                .after_s = seconds(from->after_h, 3600.0),
                                .is_paid = from->is_paid};
    }
    w->shift = shift;
    w->n_shift = s->n_shift;
    w->rest = rest;
    w->n_rest = s->n_rest;
}

static void fill_steps(reader *r, const stated_crew *s, gradin_work *w) {
    gradin_step *step = alloc(&r->c, s->n_step, sizeof *step);
    for (int i = 0; step && i < s->n_step; i++)
        step[i] = (gradin_step){.name = s->step[i].name,
                                .task = s->step[i].task,
                                .when = (gradin_step_when)s->step[i].when,
                                .duration_s = seconds(s->step[i].minutes, 60.0),
                                .crew = s->step[i].crew};
    w->step = step;
    w->n_step = step ? s->n_step : 0;
}

static void fill_rates(const stated_rates *s, gradin_work *w) {
    w->rate_day = s->day;
    w->rate_night = s->night;
    w->rate_overtime = s->overtime;
    w->overtime_after_s = seconds(s->overtime_after_h, 3600.0);
    w->currency = s->currency;
    if (!s->night_from || !s->night_to) return;
    w->night_from_s = clock_s(s->night_from);
    w->night_to_s = clock_s(s->night_to);
}

static void fill_spreads(reader *r, const stated_spreads *s, gradin_work *w) {
    static const char *const word[] = {"strike", "machines", "set", "steps"};
    for (int i = 0; i < GRADIN_N_MOVE_KIND; i++) {
        const double *f = s->factor[i];
        if (isnan(f[0])) continue;
        w->spread[i] = (gradin_contingency){f[0], f[1], f[2]};
        if (f[0] > f[1] || f[1] > f[2])
            complain(r, map_get(s->at, word[i]), "must rise: least, likely, most");
    }
}

static void fill_work(reader *r, const stated_crew *s, gradin_work *w) {
    fill_hours(r, s, w);
    fill_steps(r, s, w);
    if (s->rates) fill_rates(s->rates, w);
    if (s->spreads) fill_spreads(r, s->spreads, w);
}

void fill_crew(reader *r, const stated_crew *s, gradin_venue *v) {
    v->crew.people = s->people;
    v->crew.power_kw = s->power_kw;
    v->crew.rail_rate = s->rail_rate;
    v->crew.rail_crew = s->rail_crew;
    check_crew(r, s->at, "rail_crew", s->rail_crew, v);
    if (s->n_seating > 0) fill_stock(r, s, v);
    if (s->store) fill_store(r, s->store, v);
    fill_work(r, s, &v->crew.work);
}

void fill_loads(const stated_loads *s, gradin_venue *v) {
    gradin_occupancy *o = &v->occupancy;
    *o = gradin_occupancy_of((gradin_occupancy_source)s->source);
    o->person_kg = s->person_kg;
    v->floor_load.spread_kn_m2 = s->floor_kn_m2;
    for (int i = 0; i < GRADIN_N_USE; i++) {
        if (isnan(s->use_kn_m2[i])) continue;
        o->load_kn_m2[i] = s->use_kn_m2[i];
        o->is_own[i] = true;
    }
}
