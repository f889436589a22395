/* A season's tables, RFC 4180 as seats.csv: one line per seat, and one line per class on a track.
 */
#include "base/use.h"
#include "gradin/studies/season_write.h"
#include "studies/shared/complete.h"

#include "table/shared/names.h"
#include "table/shared/text.h"

static void put_cell(table_text *out, table_quantity quantity, double value) {
    table_put(out, ",");
    table_put_number(out, quantity, value);
}

static void put_name(table_text *out, const char *name) {
    table_put(out, ",");
    table_put_quoted(out, name);
}

static gradin_status finish(const table_text *out, char **text, size_t *size, gradin_error *error) {
    if (out->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a table");
    *text = out->bytes;
    *size = out->size;
    return GRADIN_OK;
}

static void put_seat_header(table_text *out, const gradin_season *s) {
    gradin_time_weighting weighting = s->traffic->weighting;
    table_print(out,
                "seat,block,%s,loudest_class,loudest_track,laeq_show_dba,nc,nr,noise_excess_db,"
                "systematic_db,verdict,events_over,events_over_a_show,events_over_a_show_low,"
                "events_over_a_show_high,sii,%s,%s,words_lost_s,words_lost_class,"
                "words_lost_track",
                table_maximum_key(weighting, GRADIN_SHADES_AS_SET),
                table_maximum_key(weighting, GRADIN_SHADES_OPEN),
                table_maximum_key(weighting, GRADIN_SHADES_SHUT));
    for (int b = 0; b < GRADIN_N_BAND; b++)
        table_print(out, ",l_%d_hz_db", gradin_band_nominal_hz(b));
    table_put(out, ",lamax_predicted_dba\r\n");
}

static void put_words(table_text *out, const gradin_season *s, int seat) {
    put_cell(out, TABLE_DECIBEL, s->lost_s[seat]);
    if (s->lost_flight[seat] < 0) {
        table_put(out, ",,");
        return;
    }
    const gradin_flight *worst = &s->flight[s->lost_flight[seat]];
    put_name(out, s->traffic->class_of[worst->class_index].name);
    put_name(out, s->traffic->track[worst->track].name);
}

static void put_seat(table_text *out, const gradin_season *s, int seat) {
    const gradin_model *m = s->model;
    const gradin_flight *loudest = &s->flight[s->loudest[seat]];
    bool has_limit = !isnan(s->limit_dba);
    table_put_quoted(out, m->seats.id[seat]);
    put_name(out, m->block_name[m->seats.block[seat]]);
    put_cell(out, TABLE_DECIBEL, s->lamax_db[seat]);
    put_name(out, s->traffic->class_of[loudest->class_index].name);
    put_name(out, s->traffic->track[loudest->track].name);
    put_cell(out, TABLE_DECIBEL, s->laeq_db[seat]);
    put_cell(out, TABLE_NOISE_CRITERION, s->nc[seat]);
    put_cell(out, TABLE_NOISE_CRITERION, s->nr[seat]);
    put_cell(out, TABLE_DECIBEL, s->excess_db[seat]);
    put_cell(out, TABLE_DECIBEL, s->systematic_db[seat]);
    put_name(out, gradin_verdict_name(s->verdict[seat]));
    put_cell(out, TABLE_DECIBEL, has_limit ? s->over[seat] : NAN);
    put_cell(out, TABLE_SECOND, has_limit ? s->over_show[seat] : NAN);
    put_cell(out, TABLE_SECOND, has_limit ? s->over_show_low[seat] : NAN);
    put_cell(out, TABLE_SECOND, has_limit ? s->over_show_high[seat] : NAN);
    put_cell(out, TABLE_SECOND, s->voice.sii[seat]);
    for (int k = GRADIN_SHADES_OPEN; k <= (int)GRADIN_SHADES_SHUT; k++)
        put_cell(out, TABLE_DECIBEL, s->lamax_shades_db[k] ? s->lamax_shades_db[k][seat] : NAN);
    put_words(out, s, seat);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        put_cell(out, TABLE_DECIBEL, s->band_db[(size_t)seat * GRADIN_N_BAND + (size_t)b]);
    put_cell(out, TABLE_DECIBEL, s->lamax_predicted_db ? s->lamax_predicted_db[seat] : NAN);
    table_put(out, "\r\n");
}

gradin_status gradin_season_seats_csv(gradin_arena *arena, const gradin_season *season, char **text,
                                      size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        season_tables_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_seat_header(&out, season);
    for (int seat = 0; seat < season->model->seats.n_seat; seat++) put_seat(&out, season, seat);
    return finish(&out, text, size, error);
}

static void put_flight(table_text *out, const gradin_season *s, int k) {
    const gradin_flight *f = &s->flight[k];
    const gradin_spread *lamax = &s->flight_lamax_db[k];
    table_put_quoted(out, s->traffic->class_of[f->class_index].name);
    put_name(out, s->traffic->track[f->track].name);
    put_cell(out, TABLE_COUNT, s->n_event[k]);
    put_cell(out, TABLE_DECIBEL, s->most_offset_db[k]);
    put_cell(out, TABLE_METRE, f->closest_m);
    put_cell(out, TABLE_SECOND, f->length_s);
    put_cell(out, TABLE_DECIBEL, f->outside_lamax_db);
    put_cell(out, TABLE_DECIBEL, f->outside_sel_db);
    put_cell(out, TABLE_DECIBEL, lamax->least);
    put_cell(out, TABLE_DECIBEL, lamax->median);
    put_cell(out, TABLE_DECIBEL, lamax->most);
    put_cell(out, TABLE_DECIBEL, s->flight_sel_db[k].least);
    put_cell(out, TABLE_DECIBEL, s->flight_sel_db[k].median);
    put_cell(out, TABLE_DECIBEL, s->flight_sel_db[k].most);
    put_cell(out, TABLE_DECIBEL, s->systematic_spread.median);
    put_cell(out, TABLE_DECIBEL, s->class_scatter_db[f->class_index]);
    put_cell(out, TABLE_DECIBEL, s->flight_lost_s[k].median);
    put_cell(out, TABLE_DECIBEL, s->flight_lost_s[k].most);
    table_put(out, "\r\n");
}

gradin_status gradin_season_flights_csv(gradin_arena *arena, const gradin_season *season,
                                        char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        season_tables_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    const char *maximum = table_maximum_key(season->traffic->weighting, GRADIN_SHADES_AS_SET);
    table_print(&out,
                "class,track,events,most_offset_db,closest_m,window_s,outside_%s,outside_sel_dba,"
                "least_%s,median_%s,most_%s,least_sel_dba,median_sel_dba,most_sel_dba,"
                "systematic_db,scatter_db,median_words_lost_s,most_words_lost_s\r\n",
                maximum, maximum, maximum, maximum);
    for (int k = 0; k < season->n_flight; k++) put_flight(&out, season, k);
    return finish(&out, text, size, error);
}

static void put_moments(table_text *out, const gradin_season *s, int k, int seat) {
    const gradin_flight *f = &s->flight[k];
    const gradin_event_levels *levels = &s->history[k];
    for (int t = 0; t < levels->n_time; t++) {
        size_t at = (size_t)seat * (size_t)levels->n_time + (size_t)t;
        table_put_quoted(out, s->traffic->class_of[f->class_index].name);
        put_name(out, s->traffic->track[f->track].name);
        put_name(out, s->model->seats.id[s->trace_seat[seat]]);
        put_cell(out, TABLE_SECOND, levels->time_s[t]);
        put_cell(out, TABLE_DECIBEL, levels->outside_db[t]);
        put_cell(out, TABLE_DECIBEL, levels->seat_db[at]);
        for (int b = 0; b < GRADIN_N_BAND; b++)
            put_cell(out, TABLE_DECIBEL, levels->seat_band_db[at * GRADIN_N_BAND + (size_t)b]);
        table_put(out, "\r\n");
    }
}

gradin_status gradin_season_history_csv(gradin_arena *arena, const gradin_season *season,
                                        char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        season_tables_complete(season, error) != GRADIN_OK ||
        NEEDS(error, season->history) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "class,track,seat,time_s,outside_dba,seat_dba");
    for (int b = 0; b < GRADIN_N_BAND; b++)
        table_print(&out, ",l_%d_hz_db", gradin_band_nominal_hz(b));
    table_put(&out, "\r\n");
    for (int k = 0; k < season->n_flight; k++)
        for (int seat = 0; seat < season->n_trace; seat++) put_moments(&out, season, k, seat);
    return finish(&out, text, size, error);
}
