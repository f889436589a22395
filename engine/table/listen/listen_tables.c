/* The levels that a recording follows as CSV, everything as JSON, and the files together. */
#include "base/file.h"
#include "base/use.h"
#include "gradin/acoustics/listen_write.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/listen/listen.h"
#include "table/shared/cautions.h"
#include "table/shared/gaps.h"
#include "table/shared/names.h"
#include "table/shared/report.h"

#include <string.h>

gradin_status gradin_listen_csv(gradin_arena *arena, const gradin_recording *recording, char **text,
                                size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        recording_complete(recording, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "from_s,to_s,track_s,laeq_dba");
    for (int b = 0; b < GRADIN_N_BAND; b++)
        table_print(&out, ",l_%d_hz_db", gradin_band_nominal_hz(b));
    table_put(&out, "\r\n");
    for (int k = 0; k < recording->n_second; k++) {
        const gradin_listen_second *s = &recording->second[k];
        table_print(&out, "%.0f,%.0f,", s->from_s, s->from_s + 1.0);
        table_put_number(&out, TABLE_SECOND, s->event_s);
        table_put(&out, ",");
        table_put_number(&out, TABLE_DECIBEL, s->a_dba);
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            table_put(&out, ",");
            table_put_number(&out, TABLE_DECIBEL, s->band_db[b]);
        }
        table_put(&out, "\r\n");
    }
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the table");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}

static void put_voice(table_json *json, const gradin_recording *r) {
    if (!r->has_voice) {
        table_json_null(json, json->root, "voice");
        return;
    }
    json_t *voice = table_json_object(json, json->root, "voice");
    table_json_text(json, voice, "effort", listen_effort[r->effort]);
    table_json_number(json, voice, "level_dba", TABLE_DECIBEL, r->voice_dba);
    table_json_numbers(json, voice, "band_db", TABLE_DECIBEL, r->voice_db, GRADIN_N_LISTEN_BAND,
                       1.0);
}

static void put_seconds(table_json *json, const gradin_recording *r) {
    json_t *array = table_json_array(json, json->root, "seconds");
    for (int k = 0; k < r->n_second; k++) {
        const gradin_listen_second *s = &r->second[k];
        json_t *object = table_json_append_object(json, array);
        table_json_number(json, object, "from_s", TABLE_COUNT, s->from_s);
        table_json_number(json, object, "track_s", TABLE_SECOND, s->event_s);
        table_json_number(json, object, "laeq_dba", TABLE_DECIBEL, s->a_dba);
        table_json_numbers(json, object, "band_db", TABLE_DECIBEL, s->band_db, GRADIN_N_BAND, 1.0);
    }
}

gradin_status gradin_listen_json(gradin_arena *arena, const gradin_recording *recording,
                                 const char *wav_name, char **text, size_t *size,
                                 gradin_error *error) {
    if (NEEDS(error, arena, text, size, wav_name) != GRADIN_OK ||
        recording_complete(recording, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-listen-1", recording->model);
    table_json_text(&json, json.root, "file", wav_name);
    table_json_text(&json, json.root, "seat", recording->model->seats.id[recording->seat]);
    table_json_text(&json, json.root, "shades", table_shade_state_key((int)recording->shades));
    table_json_integer(&json, json.root, "rate_hz", GRADIN_LISTEN_RATE_HZ);
    table_json_integer(&json, json.root, "samples", recording->n_sample);
    table_json_number(&json, json.root, "tone_hz", TABLE_COUNT, GRADIN_LISTEN_TONE_HZ);
    table_json_integer(&json, json.root, "tone_s", GRADIN_LISTEN_TONE_S);
    table_json_number(&json, json.root, "tone_db", TABLE_DECIBEL, GRADIN_LISTEN_TONE_DB);
    table_json_number(&json, json.root, "full_scale_db", TABLE_DECIBEL, recording->full_scale_db);
    table_json_number(&json, json.root, "peak_dbfs", TABLE_DECIBEL, recording->peak_db);
    table_json_number(&json, json.root, "most_dba", TABLE_DECIBEL, recording->most_dba);
    put_voice(&json, recording);
    put_seconds(&json, recording);
    table_json_text(&json, json.root, "room_note", recording->room_note);
    table_json_gaps(&json, json.root, &recording->gaps);
    table_json_cautions(&json, table_caution, 0, 1);
    return table_json_end(arena, &json, text, size, error);
}

/* The path with another ending of four characters. */
static const char *beside(gradin_arena *arena, const char *wav_path, const char *ending) {
    return gradin_arena_print(arena, "%.*s%s", (int)strlen(wav_path) - 4, wav_path, ending);
}

static gradin_status write_all(gradin_arena *arena, const gradin_recording *recording,
                               const char *wav_path, gradin_error *error) {
    const char *slash = strrchr(wav_path, '/');
    unsigned char *wav = NULL;
    char *text = NULL, *csv = NULL;
    size_t wav_size = 0, csv_size = 0;
    gradin_status status = gradin_listen_wav(arena, recording, &wav, &wav_size, error);
    if (status == GRADIN_OK)
        status = gradin_listen_text(arena, recording, slash ? slash + 1 : wav_path, &text, error);
    if (status == GRADIN_OK) status = gradin_listen_csv(arena, recording, &csv, &csv_size, error);
    if (status != GRADIN_OK) return status;
    const char *text_path = beside(arena, wav_path, ".txt");
    const char *csv_path = beside(arena, wav_path, ".csv");
    if (!text_path || !csv_path)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a file name");
    /* The sound last: beside levels of another run it would be played too loud. */
    const file_together file[] = {{csv_path, {csv, csv_size}},
                                  {text_path, {text, strlen(text)}},
                                  {wav_path, {wav, wav_size}}};
    return file_write_together(file, 3, error);
}

gradin_status gradin_listen_write(const gradin_recording *recording, const char *wav_path,
                                  gradin_error *error) {
    if (NEEDS(error, wav_path) != GRADIN_OK || recording_complete(recording, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    size_t length = strlen(wav_path);
    if (length < 5 || strcmp(wav_path + length - 4, ".wav") != 0)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a sound file ends in .wav");
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the files");
    gradin_status status = write_all(arena, recording, wav_path, error);
    gradin_arena_destroy(arena);
    return status;
}
