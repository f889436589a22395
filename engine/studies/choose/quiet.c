/* How often traffic is heard in the performances of a show, and for how long words are lost to it.
 *
 * Events are counted as a season counts them (studies/season/season_expect.c): an event lies over
 * the limit with the chance that its level, spread by scatter, is over it; what is systematic moves
 * all events alike. Here only events that fall into a performance of this show count, and the
 * figure is the percentile over the seats that are sold. Its curve moves the levels by up to three
 * standard uncertainties of each seat's own systematic part. What of the envelope is not stated
 * lets nothing in: the upper bound is that much higher as light constructions would make it at the
 * median seat, and by the 3 dB of hard ground where none is stated.
 *
 * Words: seconds below the traffic's index, each event at its class's own level. Where the voice
 * lacks the index without traffic, all of the performance is lost. The bounds compute each flight
 * again with its level lower and higher by the systematic part at the confidence; the curve is
 * straight between and level beyond. */
#include "studies/choose/choose.h"
#include "studies/season/season.h"
#include "studies/shared/spread.h"

static const int middle = GRADIN_N_SHIFT / 2;

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

typedef struct listener {
    gradin_arena *arena;
    const gradin_show *show;
    gradin_traffic traffic; /* with the show's voice and limit */
    gradin_season season;
    choose_days days;
    season_same *same; /* [n_same] events in performances alike: flight, offset, how many */
    int n_same;
    gradin_candidate *c;
    gradin_kept_room kept; /* of this candidate alone: its shades stay as the show has them */
    gradin_error *error;
} listener;

/* index[class * n_track + track] of its flight; NULL without memory. */
static int *index_flights(const listener *l) {
    const gradin_traffic *t = &l->traffic;
    int *index =
        gradin_arena_alloc(l->arena, (size_t)t->n_class * (size_t)t->n_track, sizeof *index);
    for (int k = 0; index && k < l->season.n_flight; k++)
        index[l->season.flight[k].class_index * t->n_track + l->season.flight[k].track] = k;
    return index;
}

/* The season's own groups, counted anew for the performances of this show. */
static gradin_status gather(listener *l) {
    season_groups groups;
    int *index = index_flights(l);
    if (!index || !season_group(l->arena, &l->season, index, &groups))
        return out_of_memory(l->error);
    for (int k = 0; k < groups.n_same; k++) groups.same[k].n_show = 0;
    for (int i = 0; i < l->traffic.n_event; i++) {
        int n_show = choose_performances_at(&l->days, l->traffic.event[i].time_s);
        groups.same[groups.of_event[i]].n_show += n_show;
        l->c->noise.n_event += n_show > 0;
    }
    l->same = groups.same;
    for (int k = 0; k < groups.n_same; k++)
        if (groups.same[k].n_show > 0) l->same[l->n_same++] = groups.same[k];
    return GRADIN_OK;
}

/* Events of a performance over the limit at a seat, levels higher by known_db and spread by
 * spread_db beside their scatter. */
static double count(const listener *l, int seat, double known_db, double spread_db) {
    const gradin_season *s = &l->season;
    double sum = 0.0;
    for (int i = 0; i < l->n_same; i++) {
        const season_same *same = &l->same[i];
        const gradin_flight *f = &s->flight[same->flight];
        double excess_db = f->lamax_db[seat] + same->offset_db - l->show->limit_dba;
        sum += same->n_show *
               gradin_chance_over(excess_db + known_db,
                                  hypot(spread_db, s->class_scatter_db[f->class_index]));
    }
    return sum / l->days.n_performance;
}

/* Percentile over the seats sold; value[n_seat]. */
static double at_percentile(listener *l, const double *value, gradin_status *status) {
    int n = 0;
    double percentile = NAN;
    double *sold = gradin_arena_alloc(l->arena, (size_t)l->c->model->seats.n_seat, sizeof *sold);
    for (int i = 0; sold && i < l->c->model->seats.n_seat; i++)
        if (!l->c->is_held[i]) sold[n++] = value[i];
    *status = sold ? studies_percentile(l->arena, sold, n, l->show->percentile / 100.0, &percentile)
                   : GRADIN_NO_MEMORY;
    return percentile;
}

/* value[n_seat]: events at every seat, levels off by `shift` of its systematic part and more_db. */
static void count_shifted(const listener *l, double shift, double more_db, double *value) {
#pragma omp parallel for schedule(static)
    for (int i = 0; i < l->c->model->seats.n_seat; i++)
        value[i] = count(l, i, shift * l->season.systematic_db[i] + more_db, 0.0);
}

static gradin_status count_events(listener *l) {
    gradin_show_noise *noise = &l->c->noise;
    gradin_asked f = {.doubt = GRADIN_DOUBT_NOISE};
    size_t n = (size_t)l->c->model->seats.n_seat;
    double factor = gradin_coverage_factor(l->show->confidence);
    double *value = gradin_arena_alloc(l->arena, n, sizeof *value);
    noise->over = gradin_arena_alloc(l->arena, n, sizeof *noise->over);
    noise->over_low = gradin_arena_alloc(l->arena, n, sizeof *noise->over_low);
    noise->over_high = gradin_arena_alloc(l->arena, n, sizeof *noise->over_high);
    if (!value || !noise->over || !noise->over_low || !noise->over_high)
        return out_of_memory(l->error);
    count_shifted(l, -factor, 0.0, noise->over_low);
    count_shifted(l, factor, noise->gaps_db, noise->over_high);
#pragma omp parallel for schedule(static)
    for (size_t i = 0; i < n; i++)
        noise->over[i] = count(l, (int)i, 0.0, l->season.systematic_db[i]);
    gradin_status status = GRADIN_OK;
    f.low = at_percentile(l, noise->over_low, &status);
    if (status == GRADIN_OK) f.value = at_percentile(l, noise->over, &status);
    if (status == GRADIN_OK) f.high = at_percentile(l, noise->over_high, &status);
    for (int k = 0; k < GRADIN_N_SHIFT && status == GRADIN_OK; k++) {
        count_shifted(l, (double)(k - middle) / middle * CHOOSE_ENDS, 0.0, value);
        f.at[k] = at_percentile(l, value, &status);
    }
    l->c->figure[GRADIN_ASK_EVENTS] = f;
    return status == GRADIN_OK ? status : out_of_memory(l->error);
}

/* Seconds lost of a performance at every seat, lost_s of flight[n_flight]. */
static void add_words(const listener *l, const gradin_flight *flight, double *lost_s) {
    for (int i = 0; i < l->c->model->seats.n_seat; i++) {
        lost_s[i] = 0.0;
        for (int k = 0; k < l->n_same; k++)
            lost_s[i] += l->same[k].n_show * flight[l->same[k].flight].lost_s[i];
        lost_s[i] = fmin(lost_s[i] / l->days.n_performance, l->days.length_s);
        if (l->season.voice.sii[i] < l->traffic.sii_least) lost_s[i] = l->days.length_s;
    }
}

static double words_louder(listener *l, double more_db, double *lost_s, gradin_status *status) {
    size_t n = (size_t)l->season.n_flight;
    gradin_flight *flight = gradin_arena_alloc(l->arena, n, sizeof *flight);
    *status = flight ? season_fly_louder(l->arena, &l->season, more_db, flight, l->error)
                     : out_of_memory(l->error);
    if (*status != GRADIN_OK) return NAN;
    add_words(l, flight, lost_s);
    return at_percentile(l, lost_s, status);
}

static gradin_status count_words(listener *l) {
    gradin_show_noise *noise = &l->c->noise;
    size_t n = (size_t)l->c->model->seats.n_seat;
    double factor = gradin_coverage_factor(l->show->confidence);
    double by_db = hypot(hypot(noise->source_db, noise->envelope_db), noise->room_db);
    double *other_s = gradin_arena_alloc(l->arena, n, sizeof *other_s);
    noise->lost_s = gradin_arena_alloc(l->arena, n, sizeof *noise->lost_s);
    if (!other_s || !noise->lost_s) return out_of_memory(l->error);
    gradin_status status = GRADIN_OK;
    add_words(l, l->season.flight, noise->lost_s);
    double value = at_percentile(l, noise->lost_s, &status), low = value, high = value;
    if (status == GRADIN_OK) low = words_louder(l, -factor * by_db, other_s, &status);
    if (status == GRADIN_OK)
        high = words_louder(l, factor * by_db + noise->gaps_db, other_s, &status);
    gradin_asked f = {.value = value, .low = low, .high = high, .doubt = GRADIN_DOUBT_NOISE};
    for (int k = 0; k < GRADIN_N_SHIFT; k++) {
        double share = (double)(k - middle) / middle * CHOOSE_ENDS / factor;
        double end = share < 0.0 ? low : high;
        f.at[k] =
            factor > 0.0 && k != middle ? value + fmin(fabs(share), 1.0) * (end - value) : value;
    }
    l->c->figure[GRADIN_ASK_WORDS] = f;
    return status;
}

/* Systematic parts of a level at the median seat. */
static gradin_status set_parts(listener *l) {
    gradin_spread systematic;
    gradin_show_noise *noise = &l->c->noise;
    gradin_status status =
        studies_spread(l->arena, l->season.systematic_db, l->c->model->seats.n_seat, &systematic);
    noise->source_db = l->season.uncertainty.source_db;
    noise->room_db = l->season.uncertainty.room_db;
    double rest = systematic.median * systematic.median - noise->source_db * noise->source_db -
                  noise->room_db * noise->room_db;
    noise->envelope_db = sqrt(fmax(rest, 0.0));
    return status == GRADIN_OK ? status : out_of_memory(l->error);
}

/* The flight that is loudest at any seat. */
static const gradin_flight *loudest(const gradin_season *s) {
    int found = 0;
    double most_db = -INFINITY;
    for (int k = 0; k < s->n_flight; k++)
        for (int i = 0; i < s->model->seats.n_seat; i++) {
            double level_db = s->flight[k].lamax_db[i] + s->most_offset_db[k];
            if (level_db > most_db) found = k;
            most_db = fmax(most_db, level_db);
        }
    return &s->flight[found];
}

static gradin_status find_gaps(listener *l) {
    gradin_show_noise *noise = &l->c->noise;
    const gradin_flight *f = loudest(&l->season);
    gradin_status status = gradin_gaps_find(l->c->model, &l->traffic, f->class_index, f->track,
                                            &noise->gaps, l->error);
    noise->gaps_db = noise->gaps.adds_db;
    return status;
}

static bool asks_for_words(const gradin_show *show) {
    bool is_wished = false;
    for (int k = 0; k < show->n_wished; k++)
        is_wished = is_wished || show->wished[k].ask == GRADIN_ASK_WORDS;
    return !show->is_amplified && (is_wished || !isnan(show->words_lost_a_show_s));
}

static gradin_status hear(listener *l, const char *room_cache, gradin_kept_room *kept) {
    gradin_season_options how = {.room_cache = room_cache,
                                 .kept = kept ? kept : &l->kept,
                                 .is_counts_only = true,
                                 .is_without_words = !asks_for_words(l->show)};
    l->traffic.limit_dba = l->show->limit_dba;
    if (l->show->voice >= 0) l->traffic.voice = l->show->voice;
    gradin_status status =
        gradin_season_compute(l->arena, l->c->model, &l->traffic, &how, &l->season, l->error);
    if (status == GRADIN_OK) status = gather(l);
    if (status == GRADIN_OK) status = find_gaps(l);
    return status == GRADIN_OK ? set_parts(l) : status;
}

gradin_status choose_listen(gradin_arena *arena, const gradin_show *show,
                            const gradin_traffic *traffic, const char *room_cache,
                            gradin_kept_room *kept, gradin_candidate *c, gradin_error *error) {
    listener *l = gradin_arena_alloc(arena, 1, sizeof *l);
    if (!l) return out_of_memory(error);
    *l = (listener){.kept = {.is_as_set_only = true},
                    .arena = arena,
                    .show = show,
                    .traffic = *traffic,
                    .c = c,
                    .error = error};
    gradin_status status = choose_days_of(show, traffic, &l->days, error);
    if (status == GRADIN_OK) status = hear(l, room_cache, kept);
    if (status == GRADIN_OK && !isnan(show->limit_dba)) status = count_events(l);
    if (status == GRADIN_OK && asks_for_words(show)) status = count_words(l);
    gradin_kept_room_clear(&l->kept);
    c->noise.is_there = status == GRADIN_OK;
    c->noise.n_performance = l->days.n_performance;
    c->noise.first_day_s = l->days.first_s;
    c->noise.last_day_s = l->days.last_s;
    return status;
}
