/* Build-ups as JSON. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/json.h"
#include "table/shared/names.h"

static const char *const range_key[GRADIN_N_RANGE] = {[GRADIN_RANGE_50_3150] = "50_3150",
                                                      [GRADIN_RANGE_50_5000] = "50_5000",
                                                      [GRADIN_RANGE_100_5000] = "100_5000"};

static void put_enlarged(table_json *json, json_t *object, const gradin_ratings *ratings) {
    json_t *enlarged = table_json_object(json, object, "enlarged");
    for (int k = 0; k < GRADIN_N_RANGE; k++) {
        const gradin_enlarged *e = &ratings->enlarged[k];
        if (!e->applies) {
            table_json_null(json, enlarged, range_key[k]);
            continue;
        }
        json_t *range = table_json_object(json, enlarged, range_key[k]);
        table_json_integer(json, range, "c_db", e->c_db);
        table_json_integer(json, range, "ctr_db", e->ctr_db);
    }
}

static void put_whole(table_json *json, json_t *object, const char *key, bool is_given, int value) {
    if (is_given)
        table_json_integer(json, object, key, value);
    else
        table_json_null(json, object, key);
}

static void put_curve(table_json *json, json_t *parent, const char *key,
                      const gradin_glazed_curve *curve) {
    if (!curve->is_given) {
        table_json_null(json, parent, key);
        return;
    }
    const gradin_ratings *ratings = &curve->ratings;
    json_t *object = table_json_object(json, parent, key);
    table_json_text(json, object, "bands", curve->is_octave ? "octaves" : "thirds");
    table_json_numbers(json, object, "r_db", TABLE_DECIBEL, curve->r_db, GRADIN_N_BAND, 1.0);
    table_json_numbers(json, object, "standard_uncertainty_db", TABLE_DECIBEL,
                       curve->uncertainty_db, GRADIN_N_BAND, 1.0);
    table_json_text(json, object, "uncertainty_basis", curve->uncertainty_basis);
    put_whole(json, object, "rw_db", ratings->has_rw, ratings->rw.rating_db);
    put_whole(json, object, "c_db", ratings->has_rw, ratings->rw.c_db);
    put_whole(json, object, "ctr_db", ratings->has_rw, ratings->rw.ctr_db);
    put_enlarged(json, object, ratings);
    put_whole(json, object, "stc", ratings->has_stc, ratings->stc);
    put_whole(json, object, "stc_8_db_rule_hz", ratings->stc_limit_hz > 0, ratings->stc_limit_hz);
    put_whole(json, object, "oitc", ratings->has_oitc, ratings->oitc);
}

/* As the keys of a build-up have it; null without layers, frames and reveals also without a gap. */
static void put_held(table_json *json, json_t *object, const gradin_glazed *g) {
    static const char *const word[] = {[GRADIN_FRAMES_BY_GAP] = NULL,
                                       [GRADIN_FRAMES_SPACER] = "spacer",
                                       [GRADIN_FRAMES_JOINED] = "joined",
                                       [GRADIN_FRAMES_SEPARATE] = "separate"};
    const char *frames = g->predicted.is_given ? word[g->frames] : NULL;
    const char *reveals = g->buildup->has_lined_reveals ? "lined" : "bare";
    table_json_text(json, object, "frames", frames);
    table_json_text(json, object, "reveals", frames ? reveals : NULL);
    if (g->predicted.is_given)
        table_json_boolean(json, object, "flush", g->buildup->is_flush);
    else
        table_json_null(json, object, "flush");
}

static void put_glazed(table_json *json, json_t *array, const gradin_glazed *g) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "name", g->buildup->name);
    table_json_number(json, object, "mass_kgm2", TABLE_MASS, g->mass_kgm2);
    table_json_numbers(json, object, "critical_hz", TABLE_HERTZ, g->critical_hz, g->n_panel, 1.0);
    table_json_numbers(json, object, "mass_air_mass_hz", TABLE_HERTZ, g->resonance_hz,
                       g->n_resonance, 1.0);
    table_json_number(json, object, "temperature_c", TABLE_COUNT, g->buildup->temperature_c);
    table_json_number(json, object, "shear_1_khz_mpa", TABLE_MEGAPASCAL, g->shear_pa / 1e6);
    table_json_number(json, object, "shear_loss_1_khz", TABLE_LOSS_FACTOR, g->shear_loss);
    put_held(json, object, g);
    put_curve(json, object, "predicted", &g->predicted);
    put_curve(json, object, "measured", &g->measured);
    table_json_text(json, object, "report", g->buildup->report);
    table_json_number(json, object, "sample_m2", TABLE_AREA, g->buildup->sample_m2);
    table_json_numbers(json, object, "predicted_less_measured_db", TABLE_DECIBEL, g->difference_db,
                       GRADIN_N_BAND, 1.0);
    table_json_number(json, object, "mean_absolute_difference_db", TABLE_DECIBEL, g->mean_abs_db);
}

static void put_view(table_json *json, const gradin_glazing_view *view) {
    json_t *object = table_json_object(json, json->root, "view");
    bool has_size = view->width_m > 0.0;
    table_json_number(json, object, "pane_width_m", TABLE_AREA, has_size ? view->width_m : NAN);
    table_json_number(json, object, "pane_height_m", TABLE_AREA, has_size ? view->height_m : NAN);
    table_json_boolean(json, object, "in_place", view->is_in_place);
    table_json_text(json, object, "shade", view->shade ? view->shade->name : NULL);
}

static void put_fit(table_json *json, const gradin_glazing_fit *fit) {
    if (!fit) {
        table_json_null(json, json->root, "fit");
        return;
    }
    json_t *object = table_json_object(json, json->root, "fit");
    table_json_text(json, object, "buildup", fit->buildup->name);
    table_json_number(json, object, "loss_factor", TABLE_LOSS_FACTOR, fit->loss);
    table_json_number(json, object, "shear_mpa", TABLE_MEGAPASCAL, fit->shear_pa / 1e6);
    table_json_boolean(json, object, "at_bound", fit->is_at_bound);
    table_json_number(json, object, "rms_before_db", TABLE_DECIBEL, fit->rms_before_db);
    table_json_number(json, object, "rms_db", TABLE_DECIBEL, fit->rms_db);
    table_json_numbers(json, object, "residual_db", TABLE_DECIBEL, fit->residual_db, GRADIN_N_BAND,
                       1.0);
}

gradin_status gradin_glazing_json(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                  char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || sheet_complete(sheet, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = {.root = json_object()};
    table_json_text(&json, json.root, "format", "gradin-glazing-1");
    table_json_text(&json, json.root, "version", GRADIN_VERSION);
    table_json_text(&json, json.root, "source", sheet->source->source);
    table_json_text(&json, json.root, "input_digest", sheet->source->digest);
    json_t *bands = table_json_array(&json, json.root, "band_hz");
    for (int band = 0; band < GRADIN_N_BAND; band++)
        table_json_append_number(&json, bands, TABLE_COUNT, gradin_band_nominal_hz(band));
    json_t *array = table_json_array(&json, json.root, "buildups");
    for (int i = 0; i < sheet->n_glazed; i++) put_glazed(&json, array, &sheet->glazed[i]);
    put_view(&json, &sheet->view);
    put_fit(&json, sheet->fit);
    json_t *notes = table_json_array(&json, json.root, "notes");
    for (int i = 0; i < sheet->source->n_note; i++)
        table_json_append_text(&json, notes, sheet->source->note[i]);
    *text = json.failed ? NULL : table_json_dump(arena, json.root, size);
    json_decref(json.root);
    return *text ? GRADIN_OK
                 : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the table");
}
