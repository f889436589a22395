/* How often: events over the limit at each seat, in performances and at other start times. */
#include "studies/season/season.h"

#include <stdlib.h>

enum { DAY_S = 86400 };

/* One event, made short for the loops over seats. */
typedef struct short_event {
    int flight;
    bool is_in_show;
    double offset_db;
} short_event;

/* Seconds after the start of the performance that the event falls into or follows. */
static int64_t after_start_s(int64_t time_s, int start_s) {
    return ((time_s - start_s) % DAY_S + DAY_S) % DAY_S;
}

static short_event *shorten(gradin_arena *arena, gradin_season *s, const int *index,
                            double *show_energy) {
    const gradin_traffic *t = s->traffic;
    short_event *made = gradin_arena_alloc(arena, (size_t)t->n_event, sizeof *made);
    for (int i = 0; made && i < t->n_event; i++) {
        const gradin_event *e = &t->event[i];
        int flight = index[e->class_index * t->n_track + e->track];
        made[i] =
            (short_event){flight, after_start_s(e->time_s, t->start_s) < t->length_s, e->offset_db};
        s->n_event[flight]++;
        s->most_offset_db[flight] = fmax(s->most_offset_db[flight], e->offset_db);
        if (made[i].is_in_show) show_energy[flight] += pow(10.0, 0.1 * e->offset_db);
    }
    return made;
}

/* NR by tangency over 63 Hz .. 4 kHz: each curve is straight in NR. */
static double nr_of(const double *octave_db) {
    double nr = -INFINITY;
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
        double at_0 = gradin_nr_level_db(0.0, o + 1), at_1 = gradin_nr_level_db(1.0, o + 1);
        nr = fmax(nr, (octave_db[o] - at_0) / (at_1 - at_0));
    }
    return nr;
}

static void rate_maximum(gradin_season *s, int seat) {
    double octave_db[GRADIN_N_OCTAVE], *band_db = s->band_db + (size_t)seat * GRADIN_N_BAND;
    const gradin_flight *loudest = &s->flight[s->loudest[seat]];
    double nc = s->model->criterion.nc;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        band_db[b] = loudest->band_db[(size_t)seat * GRADIN_N_BAND + (size_t)b] +
                     s->most_offset_db[s->loudest[seat]];
    gradin_octaves_db(band_db, octave_db);
    s->nc[seat] = gradin_nc(octave_db, NULL);
    s->nr[seat] = nr_of(octave_db);
    s->excess_db[seat] = isnan(nc) ? NAN : -INFINITY;
    for (int o = 0; o < GRADIN_N_OCTAVE && !isnan(nc); o++)
        s->excess_db[seat] = fmax(s->excess_db[seat], octave_db[o] - gradin_nc_level_db(nc, o));
}

static void count_seat(gradin_season *s, int seat, const short_event *event,
                       const double *show_energy) {
    int n_over = 0, n_show = 0;
    double energy = 0.0;
    for (int i = 0; i < s->traffic->n_event && !isnan(s->limit_dba); i++) {
        double level_db = s->flight[event[i].flight].lamax_db[seat] + event[i].offset_db;
        if (level_db <= s->limit_dba) continue;
        n_over++;
        n_show += event[i].is_in_show;
    }
    s->loudest[seat] = 0;
    for (int k = 0; k < s->n_flight; k++) {
        double most_db = s->flight[k].lamax_db[seat] + s->most_offset_db[k];
        energy += show_energy[k] * pow(10.0, 0.1 * s->flight[k].sel_db[seat]);
        if (k > 0 && most_db <= s->lamax_db[seat]) continue;
        s->lamax_db[seat] = most_db;
        s->loudest[seat] = k;
    }
    s->n_over[seat] = n_over;
    s->over_show[seat] = (double)n_show / s->n_day;
    s->laeq_db[seat] = 10.0 * log10(energy / ((double)s->n_day * s->traffic->length_s));
    rate_maximum(s, seat);
}

static int by_value(const void *a, const void *b) {
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

/* How many of level_db[n], ascending, exceed the limit. */
static int n_above(const double *level_db, int n, double limit_db) {
    int low = 0, high = n;
    while (low < high) {
        int middle = (low + high) / 2;
        if (level_db[middle] > limit_db)
            high = middle;
        else
            low = middle + 1;
    }
    return n - low;
}

static void add_starts(gradin_season *s, const gradin_event *e, double share) {
    for (int k = 0; k < GRADIN_N_START; k++)
        if (after_start_s(e->time_s, k * GRADIN_START_STEP_S) < s->traffic->length_s)
            s->start_over[k] += share / s->n_day;
}

/* Share of the seats at which an event of this flight exceeds the limit, every level moved by
 * more_db. sorted[n_flight][n_seat]. */
static double share_over(const gradin_season *s, const short_event *event, const double *sorted,
                         double more_db) {
    int n_seat = s->model->seats.n_seat;
    const double *level_db = sorted + (size_t)event->flight * (size_t)n_seat;
    return (double)n_above(level_db, n_seat, s->limit_dba - event->offset_db - more_db) / n_seat;
}

/* The mean of seats and days, were all levels lower or higher by their standard uncertainty. */
static void count_doubt(gradin_season *s, const short_event *event, const double *sorted) {
    for (int i = 0; i < s->traffic->n_event && !isnan(s->limit_dba); i++) {
        if (!event[i].is_in_show) continue;
        s->show_over_low += share_over(s, &event[i], sorted, -s->room.uncertainty_db) / s->n_day;
        s->show_over_high += share_over(s, &event[i], sorted, s->room.uncertainty_db) / s->n_day;
    }
}

/* sorted[n_flight][n_seat]; a day's count in day_over[n_day + 1] */
static void count_hall(gradin_season *s, const short_event *event, const double *sorted,
                       double *day_over) {
    const gradin_traffic *t = s->traffic;
    for (int i = 0; i < t->n_event && !isnan(s->limit_dba); i++) {
        double share = share_over(s, &event[i], sorted, 0.0);
        if (share == 0.0) continue;
        add_starts(s, &t->event[i], share);
        if (!event[i].is_in_show) continue;
        int64_t since_s = t->event[i].time_s - t->start_s - s->first_day_s;
        day_over[since_s < 0 ? s->n_day : since_s / DAY_S] +=
            share; /* the night before the first */
        s->show_over += share / s->n_day;
    }
    for (int d = 0; d < s->n_day; d++)
        if (day_over[d] > day_over[s->worst_day]) s->worst_day = d;
    s->worst_show_over = day_over[s->worst_day];
}

static void share_elements(gradin_season *s) {
    double sum = 0.0;
    for (int k = 0; k < s->n_flight; k++) {
        const gradin_flight *f = &s->flight[k];
        double energy = 0.0;
        for (int i = 0; i < s->model->seats.n_seat; i++) energy += pow(10.0, 0.1 * f->sel_db[i]);
        energy *= s->n_event[k];
        sum += energy;
        for (int e = 0; e < s->model->n_element; e++) s->share[e] += energy * f->share[e];
    }
    for (int e = 0; e < s->model->n_element && sum > 0.0; e++) s->share[e] /= sum;
}

static double *sort_levels(gradin_arena *arena, const gradin_season *s) {
    size_t n_seat = (size_t)s->model->seats.n_seat, n = (size_t)s->n_flight;
    double *sorted = gradin_arena_alloc(arena, n * n_seat, sizeof *sorted);
    for (size_t k = 0; sorted && k < n; k++) {
        for (size_t i = 0; i < n_seat; i++) sorted[k * n_seat + i] = s->flight[k].lamax_db[i];
        qsort(sorted + k * n_seat, n_seat, sizeof *sorted, by_value);
    }
    return sorted;
}

gradin_status season_count(gradin_arena *arena, gradin_season *season, const int *index,
                           gradin_error *error) {
    double *show_energy = gradin_arena_alloc(arena, (size_t)season->n_flight, sizeof *show_energy);
    double *day_over = gradin_arena_alloc(arena, (size_t)season->n_day + 1, sizeof *day_over);
    short_event *event = show_energy ? shorten(arena, season, index, show_energy) : NULL;
    double *sorted = event ? sort_levels(arena, season) : NULL;
    if (!sorted || !day_over)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
#pragma omp parallel for schedule(static)
    for (int seat = 0; seat < season->model->seats.n_seat; seat++)
        count_seat(season, seat, event, show_energy);
    count_hall(season, event, sorted, day_over);
    count_doubt(season, event, sorted);
    share_elements(season);
    return GRADIN_OK;
}
