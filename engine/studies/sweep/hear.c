/* What the seats of a point hear. Bounds: every level lower or higher by its systematic part at the
 * confidence of the brief. Where part of the envelope is not stated, or no ground before it, more
 * may come in than is counted: then nothing bounds a figure above.
 *
 * Words lost: seconds of a seat's worst class, at the class's own level. Where the voice is not
 * understood without traffic either, all of the performance is lost. Their bounds fly every class
 * again, lower and higher by the systematic part at the median seat. */
#include "studies/season/season.h"
#include "studies/sweep/sweep.h"

#include "studies/shared/spread.h"

static const double least_open_m2 = 1.0; /* as acoustics/event/gaps.c has it */
static const double tenth_exceeds = 0.9;

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static bool is_open(const gradin_model *m) {
    return m->open_roof_m2 >= least_open_m2 || m->open_wall_m2 >= least_open_m2 ||
           m->ground == GRADIN_GROUND_NONE;
}

static gradin_status needs_facade(const sweep_work *w, const char *what, bool is_there) {
    if (is_there && w->inputs->model.n_element > 0) return GRADIN_OK;
    return gradin_error_add(w->error, GRADIN_BAD_INPUT, NULL, "%s", what);
}

/* value[n] with every one off by `shift` of its systematic part. */
static double percentile(const sweep_work *w, const double *value, const double *systematic_db,
                         double shift, double p, gradin_status *status) {
    int n = w->inputs->model.seats.n_seat;
    double found = NAN;
    if (*status != GRADIN_OK) return NAN; /* then `value` may be NULL */
    double *moved = gradin_arena_alloc(w->arena, (size_t)n, sizeof *moved);
    for (int i = 0; moved && i < n; i++)
        moved[i] = value[i] + (systematic_db ? shift * systematic_db[i] : 0.0);
    *status = moved ? studies_percentile(w->arena, moved, n, p, &found) : GRADIN_NO_MEMORY;
    return found;
}

/* A layout's overflight as set: the levels alone, no other state of the shades. */
typedef struct pass_levels {
    int n_seat;
    const double *lamax_db, *band_db; /* [n_seat], [n_seat][GRADIN_N_BAND] */
    double *systematic_db;            /* [n_seat] */
    gradin_uncertainty uncertainty;
} pass_levels;

static gradin_status hear_levels(const sweep_work *w, pass_levels *levels) {
    const gradin_model *m = &w->inputs->model;
    gradin_traffic traffic;
    gradin_prepared_room room;
    gradin_flight flight = {.class_index = 0};
    gradin_kept_room *kept = w->sweep->options.is_from_scratch ? NULL : &w->sweep->kept;
    size_t n_seat = (size_t)m->seats.n_seat;
    gradin_status status = gradin_pass_traffic(w->arena, m->pass, &traffic, w->error);
    if (status == GRADIN_OK)
        status = gradin_room_prepare_kept(w->arena, m, w->sweep->options.room_cache, kept, &room,
                                          w->error);
    if (status == GRADIN_OK) status = gradin_flight_alloc(w->arena, &room, 1, &flight, w->error);
    int n_blas = gradin_blas_single();
    if (status == GRADIN_OK)
        status = gradin_flight_compute(&room, &traffic, NULL, &flight, w->error);
    gradin_blas_restore(n_blas);
    if (status != GRADIN_OK) return status;
    *levels = (pass_levels){.n_seat = m->seats.n_seat,
                            .lamax_db = flight.lamax_db,
                            .band_db = flight.band_db,
                            .systematic_db = gradin_arena_alloc(w->arena, n_seat, sizeof(double)),
                            .uncertainty = gradin_uncertainty_with(&room, &traffic, 0)};
    if (!levels->systematic_db) return out_of_memory(w->error);
    for (size_t i = 0; i < n_seat; i++)
        levels->systematic_db[i] =
            gradin_systematic_db(&levels->uncertainty, levels->band_db + i * GRADIN_N_BAND);
    return GRADIN_OK;
}

static gradin_known level(const sweep_work *w, const pass_levels *levels, double p,
                          gradin_status *status) {
    const double *db = levels->lamax_db, *by = levels->systematic_db;
    double factor = gradin_coverage_factor(w->inputs->model.criterion.confidence);
    gradin_known k = sweep_between(percentile(w, db, by, -factor, p, status),
                                   percentile(w, db, by, 0.0, p, status),
                                   percentile(w, db, by, factor, p, status));
    if (is_open(&w->inputs->model)) k.high = INFINITY;
    return k;
}

/* NC of every seat, each octave off by `shift` of its own uncertainty; what scatters from event to
 * event is no part of it. */
static double nc_at(const sweep_work *w, const pass_levels *levels, double shift,
                    gradin_status *status) {
    gradin_uncertainty systematic = levels->uncertainty;
    double *nc = gradin_arena_alloc(w->arena, (size_t)levels->n_seat, sizeof *nc);
    systematic.scatter_db = 0.0;
    if (!nc) *status = GRADIN_NO_MEMORY;
    for (int i = 0; nc && i < levels->n_seat; i++) {
        double octave_db[GRADIN_N_OCTAVE];
        gradin_octaves_db(levels->band_db + (size_t)i * GRADIN_N_BAND, octave_db);
        for (int o = 0; o < GRADIN_N_OCTAVE; o++)
            octave_db[o] += shift * gradin_band_uncertainty_db(&systematic, 3 * o, 3 * o + 2);
        nc[i] = gradin_nc(octave_db, NULL);
    }
    return percentile(w, nc, NULL, 0.0, tenth_exceeds, status);
}

static gradin_known nc_level(const sweep_work *w, const pass_levels *levels,
                             gradin_status *status) {
    double factor = gradin_coverage_factor(w->inputs->model.criterion.confidence);
    gradin_known k = sweep_between(nc_at(w, levels, -factor, status), nc_at(w, levels, 0.0, status),
                                   nc_at(w, levels, factor, status));
    if (is_open(&w->inputs->model)) k.high = INFINITY;
    return k;
}

gradin_status sweep_hear_pass(const sweep_work *w, gradin_known *figure) {
    pass_levels levels;
    gradin_status status =
        needs_facade(w,
                     "levels of an overflight are asked; the layout names none, or the venue "
                     "has no facade",
                     w->inputs->model.pass != NULL);
    if (status == GRADIN_OK) status = hear_levels(w, &levels);
    if (status != GRADIN_OK) return status;
    figure[GRADIN_STUDY_LAMAX_MEDIAN] = level(w, &levels, 0.5, &status);
    figure[GRADIN_STUDY_LAMAX_P90] = level(w, &levels, tenth_exceeds, &status);
    figure[GRADIN_STUDY_LAMAX_MOST] = level(w, &levels, 1.0, &status);
    figure[GRADIN_STUDY_NC_P90] = nc_level(w, &levels, &status);
    return status == GRADIN_OK ? status : out_of_memory(w->error);
}

static gradin_status set_events(const sweep_work *w, const gradin_season *s, gradin_known *figure) {
    gradin_status status = GRADIN_OK;
    double p = w->sweep->study->percentile / 100.0;
    gradin_known at = sweep_between(percentile(w, s->over_show_low, NULL, 0.0, p, &status),
                                    percentile(w, s->over_show, NULL, 0.0, p, &status),
                                    percentile(w, s->over_show_high, NULL, 0.0, p, &status));
    gradin_known mean = sweep_between(s->show_over_low, s->show_over, s->show_over_high);
    if (is_open(s->model)) at.high = mean.high = INFINITY;
    figure[GRADIN_STUDY_EVENTS] = at;
    figure[GRADIN_STUDY_EVENTS_MEAN] = mean;
    return status == GRADIN_OK ? status : out_of_memory(w->error);
}

/* Percentile of the seats of what each loses of its worst of flight[n_flight]. */
static double lost_to(const sweep_work *w, const gradin_season *s, const gradin_flight *flight,
                      gradin_status *status) {
    int n_seat = s->model->seats.n_seat;
    double *lost_s = gradin_arena_alloc(w->arena, (size_t)n_seat, sizeof *lost_s);
    if (!lost_s) *status = GRADIN_NO_MEMORY;
    for (int i = 0; lost_s && i < n_seat; i++) {
        bool is_lost = s->voice.sii[i] < s->traffic->sii_least;
        lost_s[i] = is_lost ? s->traffic->length_s : 0.0;
        for (int k = 0; k < s->n_flight; k++) lost_s[i] = fmax(lost_s[i], flight[k].lost_s[i]);
    }
    return percentile(w, lost_s, NULL, 0.0, w->sweep->study->percentile / 100.0, status);
}

static double lost_louder(const sweep_work *w, const gradin_season *s, double more_db,
                          gradin_status *status) {
    gradin_flight *flight = gradin_arena_alloc(w->arena, (size_t)s->n_flight, sizeof *flight);
    if (!flight) *status = GRADIN_NO_MEMORY;
    if (*status == GRADIN_OK) *status = season_fly_louder(w->arena, s, more_db, flight, w->error);
    return *status == GRADIN_OK ? lost_to(w, s, flight, status) : NAN;
}

static gradin_status set_words(const sweep_work *w, const gradin_season *s, gradin_known *figure) {
    gradin_status status = GRADIN_OK;
    double by_db = gradin_coverage_factor(s->model->criterion.confidence) *
                   percentile(w, s->systematic_db, NULL, 0.0, 0.5, &status);
    double value = lost_to(w, s, s->flight, &status), low = lost_louder(w, s, -by_db, &status);
    double high = is_open(s->model) ? INFINITY : lost_louder(w, s, by_db, &status);
    figure[GRADIN_STUDY_WORDS_LOST] = sweep_between(low, value, high);
    return status == GRADIN_NO_MEMORY ? out_of_memory(w->error) : status;
}

gradin_status sweep_hear_season(const sweep_work *w, gradin_known *figure) {
    gradin_season season;
    const gradin_study *study = w->sweep->study;
    gradin_traffic traffic = w->inputs->traffic;
    bool has_words = sweep_column(study, GRADIN_STUDY_WORDS_LOST) >= 0;
    gradin_season_options how = {.room_cache = w->sweep->options.room_cache,
                                 .is_counts_only = true,
                                 .is_without_words = !has_words,
                                 .kept =
                                     w->sweep->options.is_from_scratch ? NULL : &w->sweep->kept};
    if (!isnan(study->limit_dba)) traffic.limit_dba = study->limit_dba;
    gradin_status status =
        needs_facade(w, "events of traffic are asked; the venue has no facade", true);
    if (status == GRADIN_OK && traffic.n_event < 1)
        status = gradin_error_add(w->error, GRADIN_BAD_INPUT, NULL, "the traffic has no event");
    if (status == GRADIN_OK)
        status =
            gradin_season_compute(w->arena, &w->inputs->model, &traffic, &how, &season, w->error);
    if (status == GRADIN_OK) status = set_events(w, &season, figure);
    return status == GRADIN_OK && has_words ? set_words(w, &season, figure) : status;
}
