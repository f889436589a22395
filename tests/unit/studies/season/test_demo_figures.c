/* Two findings on the demo's five layouts, worked out again by plain sums, whose figures the guide
 * quotes: what the room constant makes of a level beside Eyring's area in its place, and events
 * expected over the limit beside events counted by their stated level alone. */
#define DEMO GRADIN_SOURCE_DIR "/demo/"
#include "acoustics/envelope/element.h"
#include "acoustics/room/room.h"
#include "unit/studies/season/demo_season.h"

#include <stdio.h>

enum { N_LAYOUT = 5 };

static const char *const layout_name[N_LAYOUT] = {"end_stage", "thrust", "round", "traverse",
                                                  "flat_floor"};

static void read_layout(hall *h, const char *name) {
    char path[512];
    gradin_error error = {0};
    snprintf(path, sizeof path, DEMO "%s.yaml", name);
    h->arena = gradin_arena_create();
    cr_assert(gradin_model_read(h->arena, path, &h->model, &error) == GRADIN_OK);
    cr_assert(gradin_traffic_read(h->arena, DEMO "season.yaml", false, &h->traffic, NULL, &error) ==
              GRADIN_OK);
}

/* Area and what absorbs of it in a band, by plain sums. */
static double absorbing_m2(const gradin_model *m, int band, double *area_m2) {
    double sum_m2 = 0.0;
    *area_m2 = 0.0;
    for (int i = 0; i < m->n_surface; i++) {
        *area_m2 += m->surface[i].area_m2;
        sum_m2 += m->surface[i].area_m2 * m->surface[i].absorption[band];
    }
    for (int e = 0; e < m->n_element; e++) {
        double own_m2 = gradin_element_area_m2(&m->element[e]);
        *area_m2 += own_m2;
        sum_m2 +=
            own_m2 * gradin_element_absorption(m, &m->element[e], GRADIN_SHADES_AS_SET, band, 1.0);
    }
    return sum_m2;
}

/* Beranek 1954, ch. 10; Bies, Hansen, Howard 2017, 6.4: R = (S alpha + 4 m V)/(1 - alpha). With
 * -S ln(1 - alpha) for S alpha, which is the decay's, levels would be lower. */
Test(demo_figures, room_constant_beside_eyrings_area) {
    for (int k = 0; k < N_LAYOUT; k++) {
        hall h;
        gradin_room_field field;
        double least_db = INFINITY, most_db = -INFINITY;
        read_layout(&h, layout_name[k]);
        h.model.divide = NULL; /* one room */
        cr_assert(gradin_room_field_make(&h.model, GRADIN_SHADES_AS_SET, &field, NULL) ==
                  GRADIN_OK);
        for (int b = 4; b < GRADIN_N_BAND; b += 3) { /* octaves' middles, 125 Hz to 4 kHz */
            double area_m2, sum_m2 = absorbing_m2(&h.model, b, &area_m2), alpha = sum_m2 / area_m2;
            double air_m2 = h.model.volume_m3 * gradin_room_air_4m(gradin_band_mid_hz(b));
            double constant_m2 = (sum_m2 + air_m2) / (1.0 - alpha);
            double decay_m2 = (-area_m2 * log(1.0 - alpha) + air_m2) / (1.0 - alpha);
            cr_expect_float_eq(field.reverberant_1m2[0][0][b] * constant_m2, 4.0, 1e-9, "%s, %d",
                               layout_name[k], b);
            double off_db = 10.0 * log10(decay_m2 / constant_m2);
            cr_expect(off_db > 0.0 && off_db < 10.0 * log10(-log(1.0 - alpha) / alpha), /* no air */
                      "%s, %d: %.2f dB", layout_name[k], b, off_db);
            least_db = fmin(least_db, off_db);
            most_db = fmax(most_db, off_db);
        }
        printf("%s: Eyring's area in the room constant takes %.2f to %.2f dB off\n", layout_name[k],
               least_db, most_db);
        cr_expect(least_db > 0.45 && most_db < 1.2, "%s: the guide says 0.5 to 1.1 dB",
                  layout_name[k]);
        gradin_arena_destroy(h.arena);
    }
}

/* Events of a performance at a seat: over the limit by their stated level, and by their chance. */
static void count_seat(const hall *h, int seat, double *hard, double *spread) {
    *hard = *spread = 0.0;
    for (int i = 0; i < h->traffic.n_event; i++) {
        const gradin_event *e = &h->traffic.event[i];
        double chance[3];
        if (!is_in_show(e, h->traffic.start_s, h->traffic.length_s)) continue;
        chances(h, e, seat, h->season.limit_dba, chance);
        *spread += chance[1] / h->season.n_day;
        *hard += (flight_of(h, e)->lamax_db[seat] + e->offset_db > h->season.limit_dba) /
                 (double)h->season.n_day;
    }
}

/* Most events of the season lie below the limit: of those, some may exceed it, so that more are
 * expected than their stated levels count. */
static const double guide[N_LAYOUT][2] = {
    {1.30, 1.71}, {1.60, 1.89}, {1.58, 1.88}, {1.56, 1.87}, {2.06, 2.17}};

Test(demo_figures, expected_events_beside_a_hard_limit) {
    const gradin_season_options how = {.is_counts_only = true, .is_without_words = true};
    for (int k = 0; k < N_LAYOUT; k++) {
        hall h;
        double hard = 0.0, spread = 0.0, own[2];
        gradin_error error = {0};
        read_layout(&h, layout_name[k]);
        cr_assert(gradin_season_compute(h.arena, &h.model, &h.traffic, &how, &h.season, &error) ==
                      GRADIN_OK,
                  "%s", error.diagnostic[0].text);
        int n = h.model.seats.n_seat;
        for (int seat = 0; seat < n; seat++) {
            count_seat(&h, seat, &own[0], &own[1]);
            hard += own[0] / n;
            spread += own[1] / n;
        }
        printf("%s: %.2f events a performance over %.0f dB by their stated level, %.2f expected "
               "(%.2f to %.2f)\n",
               layout_name[k], hard, h.season.limit_dba, spread, h.season.show_over_low,
               h.season.show_over_high);
        cr_expect_float_eq(spread, h.season.show_over, 1e-6);
        cr_expect(fabs(hard - guide[k][0]) < 0.0051 && fabs(spread - guide[k][1]) < 0.0051,
                  "%s: the guide's table", layout_name[k]);
        cr_expect_lt(hard, spread);
        cr_expect(h.season.show_over_low < spread && spread < h.season.show_over_high);
        gradin_arena_destroy(h.arena);
    }
}
