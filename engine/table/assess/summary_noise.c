/* Noise in the JSON summary: the overflight, levels over the seats, facade, build-ups, elements. */
#include "table/assess/summary_noise.h"
#include "table/shared/calibration.h"
#include "table/shared/gaps.h"
#include "table/shared/json_spread.h"

#include "table/shared/names.h"

static void put_pass(table_json *json, json_t *noise, const gradin_assessment *a) {
    json_t *object = table_json_object(json, noise, "overflight");
    table_json_text(json, object, "name", a->model->pass->name);
    table_json_text(json, object, "maximum", gradin_maximum_name(a->noise.weighting));
    table_json_number(json, object, "closest_m", TABLE_METRE, a->noise.closest_m);
    table_json_number(json, object, "outside_lamax_dba", TABLE_DECIBEL, a->noise.outside_lamax_db);
    table_json_number(json, object, "maximum_s", TABLE_SECOND, a->noise.maximum_s);
    table_json_number(json, object, "window_s", TABLE_SECOND, a->noise.window_s);
}

static void put_criterion(table_json *json, json_t *noise, const gradin_assessment *a) {
    json_t *object = table_json_object(json, noise, "criterion");
    table_json_number(json, object, "nc", TABLE_NOISE_CRITERION, a->model->criterion.nc);
    table_json_number(json, object, "lamax_dba", TABLE_DECIBEL, a->model->criterion.lamax_dba);
    table_json_number(json, object, "confidence_pct", TABLE_PERCENT,
                      100.0 * a->model->criterion.confidence);
    table_json_integer(json, object, "seats_within", a->n_verdict[GRADIN_VERDICT_WITHIN]);
    table_json_integer(json, object, "seats_too_near", a->n_verdict[GRADIN_VERDICT_NEAR]);
    table_json_integer(json, object, "seats_over", a->n_verdict[GRADIN_VERDICT_OVER]);
}

/* Open and shut are null in a venue without shades. */
static bool state_applies(const gradin_assessment *a, int state) {
    return state == GRADIN_SHADES_AS_SET || table_has_shades(a);
}

static void put_levels(table_json *json, json_t *noise, const gradin_assessment *a) {
    json_t *object = table_json_object(json, noise, "lamax_dba");
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        if (state_applies(a, k))
            table_json_spread(json, object, table_shade_state_key(k), TABLE_DECIBEL,
                              &a->lamax_db[k], 1.0);
        else
            table_json_null(json, object, table_shade_state_key(k));
    table_json_spread(json, noise, "nc", TABLE_NOISE_CRITERION, &a->nc, 1.0);
}

static void put_parts(table_json *json, json_t *state, const gradin_facade *facade, int k) {
    json_t *array = table_json_array(json, state, "parts");
    for (int i = 0; i < facade->n_part; i++) {
        const gradin_facade_part *part = &facade->part[k][i];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "entry", part->entry);
        table_json_text(json, object, "part", table_part_name(part));
        table_json_number(json, object, "share_pct", TABLE_PERCENT, 100.0 * part->share);
        table_json_numbers(json, object, "band_share_pct", TABLE_PERCENT, part->band_share,
                           GRADIN_N_BAND, 100.0);
        table_json_number(json, object, "without_db", TABLE_DECIBEL, part->without_db);
        if (isfinite(part->without_db))
            table_json_integer(json, object, "d2m_nt_w_without_db", part->d2m_nt_w_without_db);
        else
            table_json_null(json, object, "d2m_nt_w_without_db");
    }
}

static void put_facade(table_json *json, json_t *noise, const gradin_assessment *a) {
    json_t *object = table_json_object(json, noise, "facade");
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++) {
        if (!state_applies(a, k)) {
            table_json_null(json, object, table_shade_state_key(k));
            continue;
        }
        json_t *state = table_json_object(json, object, table_shade_state_key(k));
        table_json_integer(json, state, "d2m_nt_w_db", a->noise.d2m_nt_w_db[k]);
        table_json_numbers(json, state, "r_db", TABLE_DECIBEL, a->noise.facade_r_db[k],
                           GRADIN_N_BAND, 1.0);
        put_parts(json, state, &a->facade, k);
    }
}

static void put_buildups(table_json *json, json_t *noise, const gradin_assessment *a) {
    json_t *array = table_json_array(json, noise, "buildups");
    for (int k = 0; k < a->noise.n_buildup; k++) {
        const gradin_weighted *rw = &a->noise.rw[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", a->model->buildup[k].name);
        const gradin_buildup *buildup = &a->model->buildup[k];
        table_json_boolean(json, object, "measured", buildup->is_measured && !buildup->generic);
        table_json_text(json, object, "basis", gradin_basis_name(buildup));
        table_json_integer(json, object, "rw_db", rw->rating_db);
        table_json_integer(json, object, "c_db", rw->c_db);
        table_json_integer(json, object, "ctr_db", rw->ctr_db);
        table_json_numbers(json, object, "r_db", TABLE_DECIBEL,
                           a->noise.r_db + (size_t)k * GRADIN_N_BAND, GRADIN_N_BAND, 1.0);
    }
}

static void put_elements(table_json *json, json_t *noise, const gradin_assessment *a) {
    json_t *array = table_json_array(json, noise, "elements");
    for (int k = 0; k < a->noise.n_element; k++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", a->model->element[k].name);
        table_json_text(json, object, "kind", table_element_kind_name(a->model->element[k].kind));
        table_json_number(json, object, "share_pct", TABLE_PERCENT, 100.0 * a->noise.share[k]);
    }
}

void table_summary_noise(table_json *json, const gradin_assessment *a) {
    json_t *noise = table_json_object(json, json->root, "noise");
    put_pass(json, noise, a);
    table_json_text(json, noise, "room_method", a->noise.n_patch > 0 ? "radiosity" : "diffuse");
    table_json_integer(json, noise, "room_patches", a->noise.n_patch);
    table_json_text(json, noise, "room_note", a->noise.room_note);
    table_json_doubt(json, noise, &a->noise.uncertainty, &a->systematic,
                     a->noise.uncertainty_source);
    table_json_gaps(json, noise, &a->noise.gaps);
    table_json_calibration(json, noise, &a->noise.calibration, &a->predicted_db);
    put_criterion(json, noise, a);
    put_levels(json, noise, a);
    json_t *bands = table_json_array(json, noise, "band_hz");
    for (int band = 0; band < GRADIN_N_BAND; band++)
        table_json_append_number(json, bands, TABLE_COUNT, gradin_band_nominal_hz(band));
    table_json_numbers(json, noise, "reverberation_s", TABLE_SECOND, a->noise.reverberation_s,
                       GRADIN_N_BAND, 1.0);
    put_facade(json, noise, a);
    put_buildups(json, noise, a);
    put_elements(json, noise, a);
}
