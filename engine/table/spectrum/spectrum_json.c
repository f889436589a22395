/* Ratings of spectra as JSON. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/report.h"

static const char *const effort_word[GRADIN_N_EFFORT] = {"normal", "raised", "loud", "shout"};

static void put_frequency(table_json *json, json_t *parent, const char *key, int band) {
    table_json_number(json, parent, key, TABLE_NOMINAL_HERTZ, gradin_wide_nominal_hz(band));
}

static void put_criterion(table_json *json, json_t *parent, const char *key,
                          const gradin_criterion_rating *rating) {
    if (isnan(rating->value)) {
        table_json_null(json, parent, key);
        return;
    }
    json_t *object = table_json_object(json, parent, key);
    table_json_number(json, object, "value", TABLE_DECIBEL, rating->value);
    table_json_boolean(json, object, "below_curves", isinf(rating->value) && rating->value < 0.0);
    table_json_boolean(json, object, "above_curves", isinf(rating->value) && rating->value > 0.0);
    if (rating->octave < 0)
        table_json_null(json, object, "set_by_hz");
    else
        put_frequency(json, object, "set_by_hz", 3 * rating->octave + 1);
    put_frequency(json, object, "first_octave_hz", 3 * rating->first + 1);
    put_frequency(json, object, "last_octave_hz", 3 * rating->last + 1);
}

static void put_spectrum(table_json *json, json_t *array, const gradin_spectrum_rating *rating) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "name", rating->spectrum->name);
    table_json_text(json, object, "bands", rating->spectrum->is_octave ? "octaves" : "thirds");
    table_json_numbers(json, object, "level_db", TABLE_DECIBEL, rating->spectrum->level_db,
                       GRADIN_N_WIDE_BAND, 1.0);
    table_json_numbers(json, object, "octave_db", TABLE_DECIBEL, rating->octave_db,
                       GRADIN_N_WIDE_OCTAVE, 1.0);
    table_json_number(json, object, "a_dba", TABLE_DECIBEL, rating->a_db);
    table_json_number(json, object, "sil_db", TABLE_DECIBEL, rating->sil_db);
    put_criterion(json, object, "nc", &rating->nc);
    put_criterion(json, object, "nr", &rating->nr);
    table_json_number(json, object, "sii", TABLE_INDEX, rating->sii);
    table_json_boolean(json, object, "sii_holds_5_khz", rating->is_top_held);
}

gradin_status gradin_spectra_json(gradin_arena *arena, const gradin_spectrum_sheet *sheet,
                                  char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || spectra_complete(sheet, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-spectrum-1", NULL);
    const char *digest = sheet->source->digest;
    bool is_own = sheet->speech != NULL;
    table_json_text(&json, json.root, "source", sheet->source->source);
    table_json_text(&json, json.root, "input_digest", digest[0] ? digest : NULL);
    table_json_text(&json, json.root, "speech", is_own ? "given" : effort_word[sheet->effort]);
    json_t *bands = table_json_array(&json, json.root, "band_hz");
    for (int b = 0; b < GRADIN_N_WIDE_BAND; b++)
        table_json_append_number(&json, bands, TABLE_NOMINAL_HERTZ, gradin_wide_nominal_hz(b));
    json_t *octaves = table_json_array(&json, json.root, "octave_hz");
    for (int k = 0; k < GRADIN_N_WIDE_OCTAVE; k++)
        table_json_append_number(&json, octaves, TABLE_NOMINAL_HERTZ,
                                 gradin_wide_nominal_hz(3 * k + 1));
    json_t *array = table_json_array(&json, json.root, "spectra");
    for (int i = 0; i < sheet->source->n_spectrum; i++)
        put_spectrum(&json, array, &sheet->rating[i]);
    return table_json_end(arena, &json, text, size, error);
}
