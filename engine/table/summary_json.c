/* The summary as JSON, through jansson, keys in a fixed order. Numbers are rounded to the decimals
 * of their quantity; a figure that does not apply is null. Schema: reference/summary-schema.json.
 */
#include "gradin/table.h"
#include "table/buffer.h"
#include "table/cautions.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

enum { REAL_DIGITS = 15 }; /* prints a rounded decimal as it was rounded */

/* value rounded by the one formatter, so that CSV and JSON agree to the last digit */
static json_t *number(double value, int decimals) {
    char text[64];
    double rounded;
    gradin_format_fixed(text, sizeof text, value, decimals);
    if (!gradin_parse_number(text, &rounded)) return json_null();
    return decimals == 0 ? json_integer((json_int_t)rounded) : json_real(rounded);
}

/* Sets a member; false when memory ran out. */
static bool put(json_t *object, const char *key, json_t *value) {
    return json_object_set_new(object, key, value) == 0;
}

static json_t *spread(gradin_spread s, double scale, int decimals) {
    json_t *made = json_object();
    bool good = put(made, "least", number(s.least * scale, decimals)) &&
                put(made, "p10", number(s.p10 * scale, decimals)) &&
                put(made, "median", number(s.median * scale, decimals)) &&
                put(made, "p90", number(s.p90 * scale, decimals)) &&
                put(made, "most", number(s.most * scale, decimals));
    if (good) return made;
    json_decref(made);
    return NULL;
}

/* ---- seats
 * -------------------------------------------------------------------------------------------------
 */

static json_t *seat_counts(const gradin_assessment *a) {
    const gradin_seats *s = &a->model->seats;
    return json_pack("{s:i, s:i, s:i}", "total", s->n_seat, "wheelchair", s->n_wheelchair,
                     "companion", s->n_companion);
}

static json_t *rating_counts(const gradin_assessment *a) {
    json_t *made = json_object();
    for (int i = 0; i < GRADIN_N_RATING; i++)
        if (!put(made, gradin_rating_name((gradin_rating)i), json_integer(a->sight.n_rating[i]))) {
            json_decref(made);
            return NULL;
        }
    return made;
}

static json_t *worst_seat(const gradin_assessment *a, int seat) {
    const gradin_sight *s = &a->sight;
    int name = s->worst_occluder[seat];
    json_t *made = json_object();
    bool good = put(made, "seat", json_string(a->model->seats.id[seat])) &&
                put(made, "rating", json_string(gradin_rating_name(s->rating[seat]))) &&
                put(made, "reason", json_string(gradin_reason_name(s->reason[seat]))) &&
                put(made, "visible_pct", number(s->visible[seat] * 100.0, 1)) &&
                put(made, "c_mm", number(s->c_m[seat] * 1000.0, 0)) &&
                put(made, "worst_occluder",
                    name < 0 ? json_null() : json_string(a->model->occluder_name[name])) &&
                put(made, "worst_hidden_pct", number(s->worst_hidden[seat] * 100.0, 1));
    if (good) return made;
    json_decref(made);
    return NULL;
}

static json_t *worst_list(const gradin_assessment *a) {
    json_t *list = json_array();
    for (int i = 0; i < a->n_worst; i++)
        if (json_array_append_new(list, worst_seat(a, a->worst_seat[i])) != 0) {
            json_decref(list);
            return NULL;
        }
    return list;
}

/* ---- noise
 * -------------------------------------------------------------------------------------------------
 */

static json_t *build_up(const gradin_assessment *a, int i) {
    const gradin_weighted *w = &a->noise.rw[i];
    return json_pack("{s:s, s:i, s:i, s:i}", "name", a->model->buildup[i].name, "rw_db",
                     w->rating_db, "c_db", w->c_db, "ctr_db", w->ctr_db);
}

static json_t *build_ups(const gradin_assessment *a) {
    json_t *list = json_array();
    for (int i = 0; i < a->noise.n_buildup; i++)
        if (json_array_append_new(list, build_up(a, i)) != 0) {
            json_decref(list);
            return NULL;
        }
    return list;
}

static json_t *bands(const double *value, int decimals) {
    json_t *list = json_array();
    for (int i = 0; i < GRADIN_N_BAND; i++)
        if (json_array_append_new(list, number(value[i], decimals)) != 0) {
            json_decref(list);
            return NULL;
        }
    return list;
}

static bool put_levels(json_t *made, const gradin_assessment *a) {
    const gradin_noise *n = &a->noise;
    return put(made, "overflight", json_string(a->model->pass->name)) &&
           put(made, "outside_lamax_dba", number(n->outside_lamax_db, 1)) &&
           put(made, "closest_m", number(n->closest_m, 0)) &&
           put(made, "lamax_dba", spread(a->lamax_db[GRADIN_SHADES_AS_SET], 1.0, 1)) &&
           put(made, "lamax_open_dba", spread(a->lamax_db[GRADIN_SHADES_OPEN], 1.0, 1)) &&
           put(made, "lamax_shut_dba", spread(a->lamax_db[GRADIN_SHADES_SHUT], 1.0, 1)) &&
           put(made, "nc", spread(a->nc, 1.0, 0)) &&
           put(made, "uncertainty_db", number(n->uncertainty_db, 1)) &&
           put(made, "seats_over_criterion", json_integer(a->n_over_criterion));
}

static json_t *noise(const gradin_assessment *a) {
    const gradin_noise *n = &a->noise;
    if (!a->has_noise) return json_null();
    json_t *made = json_object();
    bool good = put_levels(made, a) &&
                put(made, "criterion_nc", number(a->model->criterion.nc, 1)) &&
                put(made, "criterion_lamax_dba", number(a->model->criterion.lamax_dba, 1)) &&
                put(made, "d2m_nt_w_open_db", json_integer(n->d2m_nt_w_db[GRADIN_SHADES_OPEN])) &&
                put(made, "d2m_nt_w_shut_db", json_integer(n->d2m_nt_w_db[GRADIN_SHADES_SHUT])) &&
                put(made, "facade_r_db", bands(n->facade_r_db[GRADIN_SHADES_AS_SET], 1)) &&
                put(made, "reverberation_s", bands(n->reverberation_s, 2)) &&
                put(made, "buildups", build_ups(a));
    if (good) return made;
    json_decref(made);
    return NULL;
}

/* ---- the whole
 * --------------------------------------------------------------------------------------------- */

static json_t *cautions(void) {
    json_t *list = json_array();
    for (int i = 0; table_cautions[i]; i++)
        if (json_array_append_new(list, json_string(table_cautions[i])) != 0) {
            json_decref(list);
            return NULL;
        }
    return list;
}

static json_t *summary(const gradin_assessment *a) {
    json_t *made = json_object();
    bool good = put(made, "format", json_string("gradin-summary-1")) &&
                put(made, "gradin_version", json_string(GRADIN_VERSION)) &&
                put(made, "venue", json_string(a->model->venue_name)) &&
                put(made, "layout", json_string(a->model->layout_name)) &&
                put(made, "form", json_string(gradin_form_name(a->model->form))) &&
                put(made, "input_digest", json_string(a->model->digest)) &&
                put(made, "seats", seat_counts(a)) && put(made, "rating", rating_counts(a)) &&
                put(made, "samples_a_seat", json_integer(a->sight.n_sample)) &&
                put(made, "visible_pct", spread(a->visible, 100.0, 1)) &&
                put(made, "c_value_mm", spread(a->c_value_m, 1000.0, 0)) &&
                put(made, "distance_m", spread(a->distance_m, 1.0, 2)) &&
                put(made, "worst_seats", worst_list(a)) && put(made, "noise", noise(a)) &&
                put(made, "cautions", cautions());
    if (good) return made;
    json_decref(made);
    return NULL;
}

static int take_chunk(const char *bytes, size_t size, void *user) {
    buffer_add_bytes(user, bytes, size);
    return 0;
}

gradin_status gradin_summary_json(gradin_arena *arena, const gradin_assessment *assessment,
                                  char **text, size_t *size, gradin_error *error) {
    if (!arena || !assessment || !text || !size)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "arena, assessment, text and size are needed");
    buffer b = {.arena = arena};
    json_t *root = summary(assessment);
    int lost = !root || json_dump_callback(root, take_chunk, &b,
                                           JSON_INDENT(2) | JSON_REAL_PRECISION(REAL_DIGITS)) != 0;
    json_decref(root);
    if (lost) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    buffer_add(&b, "\n");
    return buffer_finish(&b, text, size, error);
}
