/* The crew with its stock and store; live loads. */
#include "files/write/state.h"

#include <stdio.h>
#include <string.h>

static stated_seating *state_stock(complaints *c, const gradin_crew *crew) {
    stated_seating *s = crew->n_seating > 0 ? alloc(c, crew->n_seating, sizeof *s) : NULL;
    for (int i = 0; s && i < crew->n_seating; i++) {
        const gradin_seating *from = &crew->seating[i];
        s[i] = (stated_seating){.name = from->name,
                                .kind = (int)from->kind,
                                .set_rate = from->set_rate,
                                .strike_rate = from->strike_rate,
                                .seat_kg = from->seat_kg,
                                .crew = from->crew,
                                .is_stored = from->is_stored};
    }
    return s;
}

static stated_store *state_store(complaints *c, const gradin_store *store) {
    stated_store *s = store ? alloc(c, 1, sizeof *s) : NULL;
    if (!s) return NULL;
    *s = (stated_store){.name = store->name,
                        .travel_m = store->travel_m,
                        .speed_ms = store->drive.speed_per_s,
                        .load_s = store->load_s,
                        .seats_per_trip = store->seats_per_trip,
                        .drive = state_drive(&store->drive, 0.0)};
    return s;
}

/* "22:30" of a time of day. */
static const char *clock_text(complaints *c, int of_day_s) {
    char text[16];
    snprintf(text, sizeof text, "%02d:%02d", of_day_s / 3600 % 24, of_day_s / 60 % 60);
    return gradin_arena_copy_text(c->arena, text);
}

static void state_hours(complaints *c, const gradin_work *w, stated_crew *s) {
    s->shift = alloc(c, w->n_shift, sizeof *s->shift);
    s->rest = alloc(c, w->n_rest, sizeof *s->rest);
    s->step = alloc(c, w->n_step, sizeof *s->step);
    if (!s->shift || !s->rest || !s->step) return;
    for (s->n_shift = 0; s->n_shift < w->n_shift; s->n_shift++)
        s->shift[s->n_shift] = (stated_shift){.from = clock_text(c, w->shift[s->n_shift].from_s),
                                              .to = clock_text(c, w->shift[s->n_shift].to_s)};
    for (s->n_rest = 0; s->n_rest < w->n_rest; s->n_rest++) {
        const gradin_rest *from = &w->rest[s->n_rest];
        s->rest[s->n_rest] =
            (stated_rest){.name = from->name,
                          .at_time = from->after_s > 0 ? NULL : clock_text(c, from->at_s),
                          .after_h = from->after_s > 0 ? from->after_s / 3600.0 : NAN,
                          .minutes = from->length_s / 60.0,
                          .is_paid = from->is_paid};
    }
    for (s->n_step = 0; s->n_step < w->n_step; s->n_step++) {
        const gradin_step *from = &w->step[s->n_step];
        s->step[s->n_step] = (stated_step){.name = from->name,
                                           .task = from->task,
                                           .when = (int)from->when,
                                           .minutes = from->duration_s / 60.0,
                                           .crew = from->crew};
    }
}

static stated_rates *state_rates(complaints *c, const gradin_work *w) {
    stated_rates *s = w->rate_day > 0.0 ? alloc(c, 1, sizeof *s) : NULL;
    bool has_night = w->night_from_s != w->night_to_s;
    if (!s) return NULL;
    *s = (stated_rates){.currency = w->currency,
                        .day = w->rate_day,
                        .night = w->rate_night,
                        .overtime = w->rate_overtime,
                        .overtime_after_h =
                            w->overtime_after_s > 0 ? w->overtime_after_s / 3600.0 : NAN,
                        .night_from = has_night ? clock_text(c, w->night_from_s) : NULL,
                        .night_to = has_night ? clock_text(c, w->night_to_s) : NULL};
    return s;
}

static stated_spreads *state_spreads(complaints *c, const gradin_work *w) {
    bool is_any = false;
    for (int i = 0; i < GRADIN_N_MOVE_KIND; i++) is_any |= w->spread[i].most > 0.0;
    stated_spreads *s = is_any ? alloc(c, 1, sizeof *s) : NULL;
    for (int i = 0; s && i < GRADIN_N_MOVE_KIND; i++) {
        const gradin_contingency *from = &w->spread[i];
        s->factor[i][0] = from->most > 0.0 ? from->least : NAN;
        s->factor[i][1] = from->most > 0.0 ? from->likely : NAN;
        s->factor[i][2] = from->most > 0.0 ? from->most : NAN;
    }
    return s;
}

stated_crew *state_crew(complaints *c, const gradin_venue *v) {
    const gradin_crew *crew = &v->crew;
    stated_crew *s = crew->people > 0 ? alloc(c, 1, sizeof *s) : NULL;
    if (!s) return NULL;
    *s = (stated_crew){.people = crew->people,
                       .rail_crew = crew->rail_crew,
                       .power_kw = crew->power_kw,
                       .rail_rate = crew->rail_rate,
                       .seating = state_stock(c, crew),
                       .n_seating = crew->n_seating,
                       .store = state_store(c, crew->store),
                       .rates = state_rates(c, &crew->work),
                       .spreads = state_spreads(c, &crew->work)};
    state_hours(c, &crew->work, s);
    return s;
}

stated_loads state_loads(const gradin_venue *v) {
    const gradin_occupancy *o = &v->occupancy;
    stated_loads s = {.person_kg = o->person_kg, .floor_kn_m2 = v->floor_load.spread_kn_m2};
    for (int k = 0; k < GRADIN_N_OCCUPANCY; k++)
        if (o->source &&
            strcmp(o->source, gradin_occupancy_of((gradin_occupancy_source)k).source) == 0)
            s.source = k;
    for (int i = 0; i < GRADIN_N_USE; i++) s.use_kn_m2[i] = o->is_own[i] ? o->load_kn_m2[i] : NAN;
    return s;
}
