/* A season as JSON, and its files. */
#include "base/use.h"
#include "gradin/studies/season_write.h"
#include "studies/shared/complete.h"

#include "table/season/season.h"
#include "table/shared/calibration.h"
#include "table/shared/cautions.h"
#include "table/shared/gaps.h"
#include "table/shared/json_spread.h"
#include "table/shared/names.h"
#include "table/shared/text.h"

#include <stdio.h>

static void put_spread(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                       const gradin_spread *spread) {
    json_t *object = table_json_object(json, parent, key);
    table_json_number(json, object, "least", quantity, spread->least);
    table_json_number(json, object, "p10", quantity, spread->p10);
    table_json_number(json, object, "median", quantity, spread->median);
    table_json_number(json, object, "p90", quantity, spread->p90);
    table_json_number(json, object, "most", quantity, spread->most);
}

static void put_head(table_json *json, const gradin_season *s) {
    table_json_text(json, json->root, "format", "gradin-season-1");
    table_json_text(json, json->root, "version", GRADIN_VERSION);
    table_json_text(json, json->root, "layout", s->model->layout_name);
    table_json_text(json, json->root, "input_digest", s->model->digest);
    table_json_text(json, json->root, "traffic", s->traffic->name);
    table_json_text(json, json->root, "traffic_digest", s->traffic->digest);
    table_json_integer(json, json->root, "events", s->traffic->n_event);
    table_json_integer(json, json->root, "rows_skipped", s->traffic->n_skipped);
    table_json_integer(json, json->root, "days", s->n_day);
    table_json_text(json, json->root, "room_method", s->room.n_patch > 0 ? "radiosity" : "diffuse");
    table_json_integer(json, json->root, "room_patches", s->room.n_patch);
    table_json_text(json, json->root, "room_note", s->room.room_note);
    table_json_doubt(json, json->root, &s->uncertainty, &s->systematic_spread,
                     s->room.uncertainty_source);
    table_json_gaps(json, json->root, &s->gaps);
    table_json_calibration(json, json->root, &s->room.calibration, &s->predicted_spread);
    table_json_text(json, json->root, "maximum", gradin_maximum_name(s->traffic->weighting));
    table_json_number(json, json->root, "limit_dba", TABLE_DECIBEL, s->limit_dba);
    table_json_numbers(json, json->root, "reverberation_s", TABLE_SECOND, s->room.reverberation_s,
                       GRADIN_N_BAND, 1.0);
}

static void put_performance(table_json *json, const gradin_season *s) {
    char text[TABLE_DATE_CHARS];
    bool has_limit = !isnan(s->limit_dba);
    json_t *object = table_json_object(json, json->root, "performance");
    table_json_text(json, object, "start", table_clock(text, s->traffic->start_s));
    table_json_number(json, object, "minutes", TABLE_DECIBEL, s->traffic->length_s / 60.0);
    table_json_number(json, object, "events_over", TABLE_SECOND, has_limit ? s->show_over : NAN);
    table_json_number(json, object, "events_over_low", TABLE_SECOND,
                      has_limit ? s->show_over_low : NAN);
    table_json_number(json, object, "events_over_high", TABLE_SECOND,
                      has_limit ? s->show_over_high : NAN);
    table_json_number(json, object, "confidence_pct", TABLE_PERCENT,
                      100.0 * s->model->criterion.confidence);
    table_json_integer(json, object, "seats_within", s->n_verdict[GRADIN_VERDICT_WITHIN]);
    table_json_integer(json, object, "seats_too_near", s->n_verdict[GRADIN_VERDICT_NEAR]);
    table_json_integer(json, object, "seats_over", s->n_verdict[GRADIN_VERDICT_OVER]);
    table_json_number(json, object, "worst_day_events_over", TABLE_SECOND,
                      has_limit ? s->worst_show_over : NAN);
    table_json_text(json, object, "worst_day",
                    has_limit && s->worst_show_over > 0.0
                        ? table_date(text, s->first_day_s + (int64_t)s->worst_day * 86400)
                        : NULL);
    put_spread(json, object, "laeq_dba", TABLE_DECIBEL, &s->laeq_spread);
}

static void put_backgrounds(table_json *json, json_t *parent, const gradin_season *s) {
    json_t *array = table_json_array(json, parent, "backgrounds");
    for (int k = 0; k < s->n_background; k++) {
        const gradin_season_background *b = &s->background[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", b->name);
        table_json_number(json, object, "level_dba", TABLE_DECIBEL, b->level_dba);
        table_json_number(json, object, "nc", TABLE_NOISE_CRITERION, b->nc);
        table_json_integer(json, object, "seats_below_sii_least", b->n_lacking);
        put_spread(json, object, "sii", TABLE_SECOND, &b->sii);
        put_spread(json, object, "worst_words_lost_s", TABLE_DECIBEL, &b->lost_s);
    }
}

static void put_speech(table_json *json, const gradin_season *s) {
    json_t *object = table_json_object(json, json->root, "speech");
    table_json_text(json, object, "voice", table_voice_name((int)s->voice.effort));
    table_json_number(json, object, "sii_least", TABLE_SECOND, s->traffic->sii_least);
    put_spread(json, object, "sii", TABLE_SECOND, &s->sii_spread);
    put_spread(json, object, "worst_words_lost_s", TABLE_DECIBEL, &s->lost_spread);
    put_backgrounds(json, object, s);
    json_t *array = table_json_array(json, object, "words_lost_s");
    for (int k = 0; k < s->n_flight; k++) {
        const gradin_flight *f = &s->flight[k];
        json_t *lost = table_json_append_object(json, array);
        table_json_text(json, lost, "class", s->traffic->class_of[f->class_index].name);
        table_json_text(json, lost, "track", s->traffic->track[f->track].name);
        table_json_number(json, lost, "median", TABLE_DECIBEL, s->flight_lost_s[k].median);
        table_json_number(json, lost, "most", TABLE_DECIBEL, s->flight_lost_s[k].most);
    }
}

static void put_starts(table_json *json, const gradin_season *s) {
    char text[TABLE_DATE_CHARS];
    json_t *array = table_json_array(json, json->root, "starts");
    for (int k = 0; k < GRADIN_N_START && !isnan(s->limit_dba); k++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "start", table_clock(text, k * GRADIN_START_STEP_S));
        table_json_number(json, object, "events_over", TABLE_SECOND, s->start_over[k]);
    }
}

static void put_elements(table_json *json, const gradin_season *s) {
    json_t *array = table_json_array(json, json->root, "elements");
    for (int e = 0; e < s->model->n_element; e++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", s->model->element[e].name);
        table_json_number(json, object, "share_pct", TABLE_PERCENT, 100.0 * s->share[e]);
    }
}

static void put_bays(table_json *json, const gradin_season *s) {
    json_t *array = table_json_array(json, json->root, "bays");
    for (int i = 0; i < s->n_bays; i++) {
        const gradin_bays *bays = &s->bays[i];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "entry", bays->entry);
        table_json_integer(json, object, "elements", bays->n_element);
        table_json_number(json, object, "share_pct", TABLE_PERCENT, 100.0 * bays->share);
        table_json_number(json, object, "without_db", TABLE_DECIBEL, bays->without_db);
        table_json_text(json, object, "loudest", s->model->element[bays->loudest_element].name);
    }
}

static void put_worst_seat(table_json *json, json_t *array, const gradin_season *s, int seat) {
    const gradin_model *m = s->model;
    const gradin_flight *loudest = &s->flight[s->loudest[seat]];
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "seat", m->seats.id[seat]);
    table_json_text(json, object, "block", m->block_name[m->seats.block[seat]]);
    table_json_number(json, object, "events_over_a_show", TABLE_SECOND,
                      isnan(s->limit_dba) ? NAN : s->over_show[seat]);
    table_json_number(json, object, "lamax_dba", TABLE_DECIBEL, s->lamax_db[seat]);
    table_json_text(json, object, "verdict",
                    s->verdict[seat] ? gradin_verdict_name(s->verdict[seat]) : NULL);
    table_json_text(json, object, "loudest_class", s->traffic->class_of[loudest->class_index].name);
    table_json_text(json, object, "loudest_track", s->traffic->track[loudest->track].name);
    table_json_number(json, object, "laeq_show_dba", TABLE_DECIBEL, s->laeq_db[seat]);
    table_json_number(json, object, "words_lost_s", TABLE_DECIBEL, s->lost_s[seat]);
    table_json_number(json, object, "sii", TABLE_SECOND, s->voice.sii[seat]);
}

static void put_worst_seats(table_json *json, const gradin_season *s) {
    json_t *array = table_json_array(json, json->root, "worst_seats");
    for (int i = 0; i < s->n_worst_seat; i++) put_worst_seat(json, array, s, s->worst_seat[i]);
}

/* Open, shut and their difference are null in a venue without shades. */
static void put_shades(table_json *json, const gradin_season *s) {
    static const char *const key[2] = {"lamax_open_dba", "lamax_shut_dba"};
    for (int k = 0; k < 2; k++)
        if (s->shade_gain_db)
            put_spread(json, json->root, key[k], TABLE_DECIBEL,
                       &s->lamax_shades[GRADIN_SHADES_OPEN + k]);
        else
            table_json_null(json, json->root, key[k]);
    if (s->shade_gain_db)
        put_spread(json, json->root, "lamax_open_minus_shut_db", TABLE_DECIBEL, &s->shade_gain);
    else
        table_json_null(json, json->root, "lamax_open_minus_shut_db");
}

static void put_all(table_json *json, const gradin_season *s) {
    put_head(json, s);
    put_performance(json, s);
    put_spread(json, json->root, "lamax_dba", TABLE_DECIBEL, &s->lamax_spread);
    put_shades(json, s);
    put_spread(json, json->root, "nc", TABLE_NOISE_CRITERION, &s->nc_spread);
    put_speech(json, s);
    table_json_counts(json, s);
    put_starts(json, s);
    put_worst_seats(json, s);
    put_bays(json, s);
    put_elements(json, s);
    json_t *cautions = table_json_array(json, json->root, "cautions");
    for (int i = 0; i < TABLE_N_CAUTION; i++)
        table_json_append_text(json, cautions, table_caution[i]);
}

gradin_status gradin_season_json(gradin_arena *arena, const gradin_season *season, char **text,
                                 size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        season_tables_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = {.root = json_object()};
    if (json.root) put_all(&json, season);
    *text = json.root && !json.failed ? table_json_dump(arena, json.root, size) : NULL;
    json_decref(json.root);
    if (*text) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the season");
}

typedef gradin_status maker(gradin_arena *arena, const gradin_season *season, char **text,
                            size_t *size, gradin_error *error);

gradin_status gradin_season_tables_write(const gradin_season *season, const char *dir,
                                         gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || season_tables_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    static const char *const name[4] = {"season-seats.csv", "flights.csv", "season.json",
                                        "level-time.csv"};
    maker *const make[4] = {gradin_season_seats_csv, gradin_season_flights_csv, gradin_season_json,
                            gradin_season_history_csv};
    char *text[4];
    size_t size[4];
    int n = season->history ? 4 : 3;
    gradin_arena *arena = gradin_arena_create();
    gradin_status status = arena ? GRADIN_OK : GRADIN_NO_MEMORY;
    for (int i = 0; i < n && status == GRADIN_OK; i++)
        status = make[i](arena, season, &text[i], &size[i], error);
    for (int i = 0; i < n && status == GRADIN_OK; i++)
        status = table_write_file(arena, dir, name[i], text[i], size[i], error);
    gradin_arena_destroy(arena);
    return status;
}
