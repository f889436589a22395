/* Maps of a season. Levels and the index have steps about their limit; how often and how long end
 * where the seats do, at one of a few ends of our own, so that most seasons share them. */
#include "base/use.h"
#include "gradin/studies/season_plot.h"
#include "studies/shared/complete.h"

#include "render/draw/encode.h"
#include "render/maps/page.h"

#include <stdio.h>

static const char *const file_stem[GRADIN_N_SEASON_MAP] = {
    "season_lamax", "season_lamax_open", "season_lamax_shut", "season_lamax_open_minus_shut",
    "season_laeq",  "season_over_limit", "season_words_lost", "season_sii"};

static const double event_end[] = {2.0, 3.0, 5.0, 10.0}, lost_end_s[] = {10.0, 20.0, 30.0, 60.0};
static const double sii_step = 0.05;

static bool is_map(gradin_season_map map) {
    return (int)map >= 0 && map < GRADIN_N_SEASON_MAP;
}

const char *gradin_season_map_name(gradin_season_map map) {
    return is_map(map) ? file_stem[map] : "unknown";
}

static doubt doubt_of(const gradin_season *s) {
    return (doubt){s->systematic_spread.median, s->uncertainty.scatter_db,
                   s->model->criterion.confidence};
}

static quantity level_of(const gradin_season *s) {
    return quantity_level(s->model, doubt_of(s));
}

static const char *maximum_of(const gradin_season *s) {
    return gradin_maximum_name(s->traffic->weighting);
}

static quantity lamax_of(const gradin_season *s, gradin_shade_state shades) {
    static const char *const state[GRADIN_N_SHADE_STATE] = {"shades as set", "all shades open",
                                                            "all shades shut"};
    const double *const lamax_db[GRADIN_N_SHADE_STATE] = {
        s->lamax_shades_db[0], s->lamax_shades_db[1], s->lamax_shades_db[2]};
    quantity q = level_of(s);
    snprintf(q.title, sizeof q.title, "Season: loudest event at the seat, %s, %s", maximum_of(s),
             state[shades]);
    q.value = s->lamax_shades_db[shades];
    if (!isnan(s->limit_dba)) q.verdict = s->lamax_verdict[shades];
    q.spread = &s->lamax_shades[shades];
    q.shades = shades;
    quantity_level_limit(&q, s->limit_dba, "No limit of an event's maximum is stated.");
    quantity_step_levels(&q, lamax_db, GRADIN_N_SHADE_STATE);
    return q;
}

static quantity shade_gain_of(const gradin_season *s) {
    quantity q = quantity_shade_gain(s->model, doubt_of(s));
    snprintf(q.title, sizeof q.title,
             "Season: %s of the loudest event, all shades open less all shut", maximum_of(s));
    q.value = s->shade_gain_db;
    q.spread = &s->shade_gain;
    quantity_reach_difference(&q);
    return q;
}

static quantity laeq_of(const gradin_season *s) {
    quantity q = level_of(s);
    snprintf(q.title, sizeof q.title, "Season: LAeq of the events over all performances");
    q.low = 0.0;
    q.high = 60.0;
    q.value = s->laeq_db;
    q.spread = &s->laeq_spread;
    q.none_text = "no event in a performance";
    snprintf(q.note, sizeof q.note, "The hall's own noise is not in it.");
    quantity_step_levels(&q, NULL, 0);
    return q;
}

static quantity over_of(const gradin_season *s) {
    char limit[24], low[24], high[24], sure[24];
    gradin_format_fixed(limit, sizeof limit, s->limit_dba, 1);
    gradin_format_fixed(low, sizeof low, s->show_over_low, 1);
    gradin_format_fixed(high, sizeof high, s->show_over_high, 1);
    gradin_format_fixed(sure, sizeof sure, 100.0 * s->model->criterion.confidence, 0);
    quantity q = level_of(s);
    snprintf(q.title, sizeof q.title,
             "Season: how often %s is expected over %s dB, mean per performance", maximum_of(s),
             limit);
    q.unit = "events";
    q.low = 0.0;
    q.decimals = 1;
    q.opens_low = false;
    q.value = s->over_show;
    quantity_reach(&q, event_end, (int)(sizeof event_end / sizeof *event_end));
    q.spread = &s->over_spread;
    q.criterion = 1.0;
    q.is_criterion_hidden = true;
    q.verdict = s->often;
    q.criterion_head = "events over the limit per performance";
    q.mark_text = "more than one (slash)";
    snprintf(q.within, sizeof q.within, "at most one");
    snprintf(q.over, sizeof q.over, "more than one");
    snprintf(
        q.note, sizeof q.note,
        "Mean of all seats: %s to %s as far as levels are known, each bound at a confidence of "
        "%s %%.",
        low, high, sure);
    return q;
}

static quantity lost_of(const gradin_season *s) {
    char least[24];
    gradin_format_fixed(least, sizeof least, s->traffic->sii_least, 2);
    quantity q = level_of(s);
    snprintf(q.title, sizeof q.title, "Season: words lost in one event of the worst class");
    q.unit = "s";
    q.low = 0.0;
    q.decimals = 0;
    q.opens_low = false;
    q.value = s->lost_s;
    quantity_reach(&q, lost_end_s, (int)(sizeof lost_end_s / sizeof *lost_end_s));
    q.spread = &s->lost_spread;
    q.criterion = 0.0;
    q.is_criterion_hidden = true;
    q.criterion_head = "seconds of an event in which the voice is not understood";
    q.mark_text = "loses words (slash)";
    q.none_text = "below the index without traffic";
    snprintf(q.within, sizeof q.within, "loses no word");
    snprintf(q.over, sizeof q.over, "loses words");
    snprintf(
        q.note, sizeof q.note,
        "Seconds with a speech intelligibility index (SII, ANSI S3.5) below %s, at the class's "
        "own level.",
        least);
    return q;
}

static quantity sii_of(const gradin_season *s) {
    char least[24];
    gradin_format_fixed(least, sizeof least, s->traffic->sii_least, 2);
    quantity q = level_of(s);
    snprintf(q.title, sizeof q.title, "Speech intelligibility index (SII) without traffic");
    q.unit = "";
    q.step = sii_step;
    q.tick_decimals = 2;
    q.decimals = 2;
    q.is_high_good = true;
    q.value = s->voice.sii;
    q.spread = &s->sii_spread;
    q.criterion = s->traffic->sii_least;
    q.criterion_head = "least index of the season's traffic file, unrounded";
    q.mark_text = "below the least index (slash)";
    snprintf(q.within, sizeof q.within, "at least %s", least);
    snprintf(q.over, sizeof q.over, "below %s", least);
    snprintf(
        q.note, sizeof q.note,
        "ANSI S3.5: an unamplified voice from the middle of the focus, the room and the hall's "
        "own noise.");
    quantity_step_levels(&q, NULL, 0);
    return q;
}

static quantity row_of(const gradin_season *s, gradin_season_map map) {
    switch (map) {
    case GRADIN_SEASON_MAP_LAMAX_OPEN:
        return lamax_of(s, GRADIN_SHADES_OPEN);
    case GRADIN_SEASON_MAP_LAMAX_SHUT:
        return lamax_of(s, GRADIN_SHADES_SHUT);
    case GRADIN_SEASON_MAP_SHADE_GAIN:
        return shade_gain_of(s);
    case GRADIN_SEASON_MAP_LAEQ:
        return laeq_of(s);
    case GRADIN_SEASON_MAP_OVER:
        return over_of(s);
    case GRADIN_SEASON_MAP_WORDS_LOST:
        return lost_of(s);
    case GRADIN_SEASON_MAP_SII:
        return sii_of(s);
    default:
        return lamax_of(s, GRADIN_SHADES_AS_SET);
    }
}

/* The traffic's name and digest, on every page. */
static quantity signed_row(quantity q, const gradin_season *s) {
    snprintf(q.context, sizeof q.context, "%s, %d events on %d days", s->traffic->name,
             s->traffic->n_event, s->n_day);
    q.source_digest = s->traffic->digest;
    return q;
}

bool gradin_season_map_applies(const gradin_season *season, gradin_season_map map) {
    if (season_complete(season, NULL) != GRADIN_OK) return false;
    if (!is_map(map)) return false;
    if (map == GRADIN_SEASON_MAP_OVER && isnan(season->limit_dba)) return false;
    quantity q = row_of(season, map);
    return q.value && !isnan(q.spread->median);
}

gradin_status gradin_season_map_png(gradin_arena *arena, const gradin_season *season,
                                    gradin_season_map map, int sheet, unsigned char **bytes,
                                    size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        season_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_season_map_applies(season, map))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the season has no figures for the map %s",
                                gradin_season_map_name(map));
    quantity q = signed_row(row_of(season, map), season);
    return page_png(arena, &q, sheet, bytes, size, error);
}

static quantity band_of(const gradin_season *s, int k) {
    quantity q = quantity_band_level(s->model, &s->band[k], doubt_of(s));
    snprintf(q.title, sizeof q.title, "Season, loudest event: %s %d Hz, shades as set",
             s->band[k].is_octave ? "octave" : "third octave", s->band[k].nominal_hz);
    quantity_step_levels(&q, NULL, 0);
    return signed_row(q, s);
}

/* Where the pages go. */
typedef struct target {
    easel e;
    gradin_picture format;
    const char *dir;
    int n, sheet;
} target;

static gradin_status write_row(target *t, quantity q, const char *stem, gradin_error *error) {
    q.format = t->format;
    return page_write(&t->e, &q, t->sheet, t->dir, stem, &t->n, error);
}

static gradin_status write_sheet(target *t, const gradin_season *s, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char band[32], stem[48];
    for (int map = 0; map < GRADIN_N_SEASON_MAP && status == GRADIN_OK; map++)
        if (gradin_season_map_applies(s, (gradin_season_map)map))
            status = write_row(t, signed_row(row_of(s, (gradin_season_map)map), s), file_stem[map],
                               error);
    for (int k = 0; k < s->n_band && status == GRADIN_OK; k++) {
        snprintf(stem, sizeof stem, "season_%s", page_band_stem(&s->band[k], band));
        status = write_row(t, band_of(s, k), stem, error);
    }
    return status;
}

gradin_status gradin_season_maps_write(const gradin_season *season, gradin_picture format,
                                       const char *dir, int *n_written, gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || season_complete(season, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    target t = {.format = format, .dir = dir};
    gradin_status status = easel_open(&t.e, error);
    for (; t.sheet < season->model->seats.n_sheet && status == GRADIN_OK; t.sheet++)
        status = write_sheet(&t, season, error);
    easel_close(&t.e);
    if (n_written) *n_written = t.n;
    return status;
}

gradin_status gradin_season_maps_left_out(gradin_arena *arena, const gradin_season *season,
                                          char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || season_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    left_out l = {arena, ""};
    gradin_status status = GRADIN_OK;
    for (int map = 0; map < GRADIN_N_SEASON_MAP && status == GRADIN_OK; map++) {
        if (!gradin_season_map_applies(season, (gradin_season_map)map)) continue;
        quantity q = row_of(season, (gradin_season_map)map);
        status = page_note_left_out(&l, &q, error);
    }
    for (int k = 0; k < season->n_band && status == GRADIN_OK; k++) {
        quantity q = band_of(season, k);
        status = page_note_left_out(&l, &q, error);
    }
    *text = l.text;
    return status;
}
