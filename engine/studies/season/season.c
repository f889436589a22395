/* A season of traffic: every class on every track that occurs once, then counts of events.
 *
 * An event is its flight with an offset: its maximum and exposure shift by it and its bands alike.
 * So the matrix products grow with the count of distinct flights and only sums with that of
 * distinct offsets. Flights run in parallel, each within one thread. */
#include "studies/season/season.h"
#include "base/use.h"
#include "model/complete.h"
#include "studies/shared/complete.h"

#include "studies/shared/spread.h"

#include <omp.h>

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* index[class * n_track + track] of the flight, -1 when it does not occur. */
static int *list_flights(gradin_arena *arena, gradin_season *s) {
    const gradin_traffic *t = s->traffic;
    int n_pair = t->n_class * t->n_track,
        *index = gradin_arena_alloc(arena, (size_t)n_pair, sizeof *index);
    if (!index) return NULL;
    for (int k = 0; k < n_pair; k++) index[k] = -1;
    for (int i = 0; i < t->n_event; i++)
        index[t->event[i].class_index * t->n_track + t->event[i].track] = 0;
    for (int k = 0; k < n_pair; k++)
        if (index[k] == 0) index[k] = s->n_flight++;
    return index;
}

/* Before the room, which may take minutes, is worked out. */
static gradin_status check_size(const gradin_season *s, gradin_error *error) {
    int n_more = s->traffic->n_background > 1 ? s->traffic->n_background - 1 : 0;
    double each = GRADIN_N_BAND + 4 + 2 * n_more;
    double bytes = 8.0 * each * (double)s->n_flight * s->model->seats.n_seat;
    if (bytes <= GRADIN_MAX_FLIGHT_BYTES) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "%d classes on tracks times %d seats need %.1f GB; at most %.1f GB are "
                            "allowed",
                            s->n_flight, s->model->seats.n_seat, bytes / 1e9,
                            GRADIN_MAX_FLIGHT_BYTES / 1e9);
}

static gradin_status alloc_flights(gradin_arena *arena, gradin_season *s, const int *index,
                                   gradin_error *error) {
    const gradin_traffic *t = s->traffic;
    size_t n = (size_t)s->n_flight;
    s->flight = gradin_arena_alloc(arena, n, sizeof *s->flight);
    s->n_event = gradin_arena_alloc(arena, n, sizeof *s->n_event);
    s->most_offset_db = gradin_arena_alloc(arena, n, sizeof *s->most_offset_db);
    if (!s->flight || !s->n_event || !s->most_offset_db) return out_of_memory(error);
    for (int k = 0; k < t->n_class * t->n_track; k++) {
        if (index[k] < 0) continue;
        gradin_flight *flight = &s->flight[index[k]];
        *flight = (gradin_flight){.class_index = k / t->n_track, .track = k % t->n_track};
        s->most_offset_db[index[k]] = -INFINITY;
        gradin_status status =
            gradin_flight_alloc(arena, &s->room, s->voice.n_background, flight, error);
        if (status != GRADIN_OK) return status;
    }
    return GRADIN_OK;
}

static bool is_without_words(const gradin_season_options *options) {
    return options && options->is_without_words;
}

static gradin_status alloc_seats(gradin_arena *arena, gradin_season *s, gradin_error *error) {
    size_t n = (size_t)s->model->seats.n_seat;
    double **const number[] = {&s->lamax_db,
                               &s->nc,
                               &s->nr,
                               &s->laeq_db,
                               &s->excess_db,
                               &s->systematic_db,
                               &s->uncertainty_db,
                               &s->over,
                               &s->over_show,
                               &s->over_show_low,
                               &s->over_show_high,
                               &s->lost_s};
    for (size_t i = 0; i < sizeof number / sizeof number[0]; i++) {
        *number[i] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!*number[i]) return out_of_memory(error);
    }
    if (s->model->site) {
        s->lamax_predicted_db = gradin_arena_alloc(arena, n, sizeof(double));
        if (!s->lamax_predicted_db) return out_of_memory(error);
    }
    s->loudest = gradin_arena_alloc(arena, n, sizeof *s->loudest);
    s->verdict = gradin_arena_alloc(arena, n, sizeof *s->verdict);
    s->often = gradin_arena_alloc(arena, n, sizeof *s->often);
    s->lost_flight = gradin_arena_alloc(arena, n, sizeof *s->lost_flight);
    s->band_db = gradin_arena_alloc(arena, n * GRADIN_N_BAND, sizeof(double));
    s->share = gradin_arena_alloc(arena, (size_t)s->model->n_element, sizeof(double));
    return s->loudest && s->verdict && s->often && s->lost_flight && s->band_db && s->share
               ? GRADIN_OK
               : out_of_memory(error);
}

void season_days(const gradin_traffic *t, int64_t *first_s, int64_t *last_s) {
    *first_s = t->from_s;
    *last_s = t->to_s;
    if (t->to_s > 0) return;
    *first_s = *last_s = t->event[0].time_s;
    for (int i = 1; i < t->n_event; i++) {
        int64_t time_s = t->event[i].time_s;
        *first_s = time_s < *first_s ? time_s : *first_s;
        *last_s = time_s > *last_s ? time_s : *last_s;
    }
    *first_s -= (*first_s % SEASON_DAY_S + SEASON_DAY_S) % SEASON_DAY_S;
    *last_s -= (*last_s % SEASON_DAY_S + SEASON_DAY_S) % SEASON_DAY_S;
}

static void set_days(gradin_season *s) {
    int64_t last_s;
    season_days(s->traffic, &s->first_day_s, &last_s);
    s->n_day = (int)((last_s - s->first_day_s) / SEASON_DAY_S) + 1;
}

static gradin_status spread_all(gradin_arena *arena, gradin_season *s, gradin_error *error) {
    int n = s->model->seats.n_seat;
    s->flight_lamax_db = gradin_arena_alloc(arena, (size_t)s->n_flight, sizeof *s->flight_lamax_db);
    s->flight_sel_db = gradin_arena_alloc(arena, (size_t)s->n_flight, sizeof *s->flight_sel_db);
    s->flight_lost_s = gradin_arena_alloc(arena, (size_t)s->n_flight, sizeof *s->flight_lost_s);
    gradin_status status =
        s->flight_lamax_db && s->flight_sel_db && s->flight_lost_s ? GRADIN_OK : GRADIN_NO_MEMORY;
    for (int k = 0; k < s->n_flight && status == GRADIN_OK; k++) {
        status = studies_spread(arena, s->flight[k].lamax_db, n, &s->flight_lamax_db[k]);
        if (status == GRADIN_OK)
            status = studies_spread(arena, s->flight[k].sel_db, n, &s->flight_sel_db[k]);
        if (status == GRADIN_OK)
            status = studies_spread(arena, s->flight[k].lost_s, n, &s->flight_lost_s[k]);
    }
    if (status == GRADIN_OK) status = studies_spread(arena, s->voice.sii, n, &s->sii_spread);
    if (status == GRADIN_OK) status = studies_spread(arena, s->lamax_db, n, &s->lamax_spread);
    if (status == GRADIN_OK)
        status = studies_spread(arena, s->systematic_db, n, &s->systematic_spread);
    if (status == GRADIN_OK && s->lamax_predicted_db)
        status = studies_spread(arena, s->lamax_predicted_db, n, &s->predicted_spread);
    if (status == GRADIN_OK) status = studies_spread(arena, s->laeq_db, n, &s->laeq_spread);
    if (status == GRADIN_OK) status = studies_spread(arena, s->nc, n, &s->nc_spread);
    if (status == GRADIN_OK) status = studies_spread(arena, s->over_show, n, &s->over_spread);
    if (status == GRADIN_OK) status = studies_spread(arena, s->lost_s, n, &s->lost_spread);
    return status == GRADIN_OK ? status : out_of_memory(error);
}

/* All that follows from the flights. */
static gradin_status reduce(gradin_arena *arena, gradin_season *s, const int *index,
                            bool is_counts_only, gradin_error *error) {
    set_days(s);
    gradin_status status = season_count(arena, s, index, is_counts_only, error);
    if (status != GRADIN_OK || is_counts_only) return status;
    season_worst_words(s);
    season_rank_seats(s);
    if (season_rank_bays(arena, s) != GRADIN_OK) return out_of_memory(error);
    status = spread_all(arena, s, error);
    if (status == GRADIN_OK && season_backgrounds(arena, s) != GRADIN_OK)
        return out_of_memory(error);
    if (status == GRADIN_OK) status = season_shades(arena, s, error);
    if (status == GRADIN_OK) status = season_trace(arena, s, error);
    if (status != GRADIN_OK) return status;
    const gradin_flight *loudest = &s->flight[s->trace_flight];
    status = gradin_gaps_find(s->model, s->traffic, loudest->class_index, loudest->track, &s->gaps,
                              error);
    if (status != GRADIN_OK) return status;
    season_doubt(s);
    return season_doubt_often(arena, s, index) ? GRADIN_OK : out_of_memory(error);
}

static gradin_status check_use(const gradin_model *model, const gradin_traffic *traffic,
                               gradin_error *error) {
    if (NEEDS(error, traffic) != GRADIN_OK) return GRADIN_BAD_USE;
    if (traffic->n_event < 1 || traffic->n_class < 1 || traffic->n_track < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a season needs at least one event");
    if (NEEDS(error, traffic->event, traffic->class_of, traffic->track) != GRADIN_OK)
        return GRADIN_BAD_USE;
    return model_complete(model, error);
}

gradin_status gradin_season_compute(gradin_arena *arena, const gradin_model *model,
                                    const gradin_traffic *traffic,
                                    const gradin_season_options *options, gradin_season *season,
                                    gradin_error *error) {
    if (NEEDS(error, arena, season) != GRADIN_OK) return GRADIN_BAD_USE;
    gradin_status status = check_use(model, traffic, error);
    if (status != GRADIN_OK) return status;
    *season = (gradin_season){.model = model, .traffic = traffic};
    season->limit_dba = isnan(traffic->limit_dba) ? model->criterion.lamax_dba : traffic->limit_dba;
    status = season_choose_seats(season, options, error);
    if (status != GRADIN_OK) return status;
    int *index = list_flights(arena, season);
    status = index ? check_size(season, error) : out_of_memory(error);
    if (status != GRADIN_OK) return status;
    if (options && options->progress) options->progress(options->progress_user, 0, 0);
    status = gradin_room_prepare_kept(arena, model, options ? options->room_cache : NULL,
                                      options ? options->kept : NULL, &season->room, error);
    if (status == GRADIN_OK)
        season->uncertainty = gradin_uncertainty_with(&season->room, traffic, 0);
    season->voice.n_background = 1; /* what flights have room for without a voice */
    bool is_mute = is_without_words(options) && options->is_counts_only;
    if (status == GRADIN_OK && !is_mute)
        status = gradin_voice_make(arena, model, (gradin_effort)traffic->voice, traffic->background,
                                   traffic->n_background, &season->voice, error);
    if (status == GRADIN_OK) status = alloc_flights(arena, season, index, error);
    if (status == GRADIN_OK) status = alloc_seats(arena, season, error);
    if (status == GRADIN_OK)
        status = season_fly(season, traffic, is_without_words(options) ? NULL : &season->voice,
                            options, season->flight, error);
    if (status != GRADIN_OK) return status;
    return reduce(arena, season, index, options && options->is_counts_only, error);
}

gradin_status gradin_season_bands(gradin_arena *arena, gradin_season *season,
                                  const gradin_band_choice *choice, gradin_error *error) {
    if (NEEDS(error, arena, choice) != GRADIN_OK || season_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    return gradin_band_levels(arena, season->band_db, season->model->seats.n_seat,
                              &season->model->criterion, &season->uncertainty, &season->gaps,
                              choice, &season->band, &season->n_band, error);
}
