/* What the season's events make of each seat: the loudest one, exposure, ratings, shares. */
#include "studies/season/season.h"

#include <string.h>

/* Energy of each flight's events in performances, 10^(offset/10) summed, and its largest offset. */
static void sum_events(gradin_season *s, const season_same *same, int n_same, double *show_energy) {
    for (int i = 0; i < n_same; i++) {
        int flight = same[i].flight;
        s->n_event[flight] += same[i].n;
        s->most_offset_db[flight] = fmax(s->most_offset_db[flight], same[i].offset_db);
        show_energy[flight] += same[i].n_show * pow(10.0, 0.1 * same[i].offset_db);
    }
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

/* The maximum without the site's correction. */
static double predicted_dba(const gradin_season *s, int seat) {
    double bare_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        bare_db[b] = s->band_db[(size_t)seat * GRADIN_N_BAND + (size_t)b] +
                     s->room.calibration.correction_db[b];
    return gradin_level_a_db(bare_db);
}

static void judge_maximum(gradin_season *s, int seat) {
    const double *band_db = s->band_db + (size_t)seat * GRADIN_N_BAND;
    int class_index = s->flight[s->loudest[seat]].class_index;
    s->systematic_db[seat] = gradin_systematic_db(&s->uncertainty, band_db);
    s->uncertainty_db[seat] = hypot(s->systematic_db[seat], s->class_scatter_db[class_index]);
    s->verdict[seat] = gradin_verdict_of(s->lamax_db[seat] - s->limit_dba, s->uncertainty_db[seat],
                                         s->model->criterion.confidence);
}

void season_doubt(gradin_season *s) {
    int n_seat = s->model->seats.n_seat;
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
        for (int i = 0; s->lamax_verdict[state] && i < n_seat; i++)
            s->lamax_verdict[state][i] =
                gradin_verdict_despite(s->lamax_shades_db[state][i] - s->limit_dba, s->gaps.adds_db,
                                       s->uncertainty_db[i], s->model->criterion.confidence);
    memset(s->n_verdict, 0, sizeof s->n_verdict);
    for (int i = 0; i < n_seat; i++) s->n_verdict[s->verdict[i]]++;
}

static void sum_seat(gradin_season *s, int seat, const double *show_energy) {
    double energy = 0.0;
    s->loudest[seat] = 0;
    for (int k = 0; k < s->n_flight; k++) {
        double most_db = s->flight[k].lamax_db[seat] + s->most_offset_db[k];
        energy += show_energy[k] * pow(10.0, 0.1 * s->flight[k].sel_db[seat]);
        if (k > 0 && most_db <= s->lamax_db[seat]) continue;
        s->lamax_db[seat] = most_db;
        s->loudest[seat] = k;
    }
    s->laeq_db[seat] = 10.0 * log10(energy / ((double)s->n_day * s->traffic->length_s));
    rate_maximum(s, seat);
    if (s->lamax_predicted_db) s->lamax_predicted_db[seat] = predicted_dba(s, seat);
    judge_maximum(s, seat);
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

/* Everything that no seat's own count needs. */
static bool count_rest(gradin_arena *arena, gradin_season *s, const int *index,
                       const season_groups *groups) {
    share_elements(s);
    return season_limits(arena, s, groups) == GRADIN_OK &&
           season_periods(arena, s, index) == GRADIN_OK;
}

gradin_status season_count(gradin_arena *arena, gradin_season *season, const int *index,
                           bool is_counts_only, gradin_error *error) {
    double *show_energy = gradin_arena_alloc(arena, (size_t)season->n_flight, sizeof *show_energy);
    season_groups groups;
    if (!show_energy || !season_group(arena, season, index, &groups))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    sum_events(season, groups.same, groups.n_same, show_energy);
#pragma omp parallel for schedule(static)
    for (int seat = 0; seat < season->model->seats.n_seat; seat++)
        sum_seat(season, seat, show_energy);
    for (int seat = 0; seat < season->model->seats.n_seat; seat++)
        season->n_verdict[season->verdict[seat]]++;
    bool is_good =
        isnan(season->limit_dba) || season_expect(arena, season, &groups, is_counts_only);
    if (!is_good || (!is_counts_only && !count_rest(arena, season, index, &groups)))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    return GRADIN_OK;
}
