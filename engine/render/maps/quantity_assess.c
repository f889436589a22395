/* One entry per map of an assessment. The ends of the fixed scales are conventions of our own: they
 * cover the usual range of a hall of some hundred seats, and are the same for all layouts so that
 * two maps compare at a glance. Levels and the C-value have steps about their limits instead,
 * unless the fixed scale is asked for. */
#include "render/maps/quantity.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

static const char *const file_stem[GRADIN_N_MAP] = {
    "visible",   "c_value", "rating",     "distance",   "off_axis",
    "turn",      "lamax",   "lamax_open", "lamax_shut", "lamax_open_minus_shut",
    "clear_view"};

static bool is_map(gradin_map map) {
    return (int)map >= 0 && map < GRADIN_N_MAP;
}

const char *gradin_map_name(gradin_map map) {
    return is_map(map) ? file_stem[map] : "unknown";
}

static bool is_imperial(const gradin_assessment *a) {
    return a->model->units && strcmp(a->model->units, "ft") == 0;
}

static quantity visible_of(const gradin_assessment *a) {
    return (quantity){.title = "Share of the focus area seen",
                      .unit = "%",
                      .value = a->sight.visible,
                      .low = 0.0,
                      .high = 1.0,
                      .shown_per_si = 100.0,
                      .tick_shown = 10.0,
                      .is_high_good = true,
                      .limit = a->model->limits.visible_min,
                      .spread = &a->visible};
}

quantity quantity_of_area(const gradin_assessment *a, int area) {
    quantity q = {.title = "Share seen",
                  .unit = "%",
                  .value = a->area[area].visible,
                  .low = 0.0,
                  .high = 1.0,
                  .shown_per_si = 100.0,
                  .tick_shown = 10.0,
                  .is_high_good = true,
                  .criterion = NAN,
                  .spread = &a->area[area].spread,
                  .model = a->model};
    snprintf(q.title, sizeof q.title, "Share of %.60s seen (%s)", a->model->focus[area].name,
             gradin_focus_kind_name(a->model->focus[area].kind));
    return q;
}

static quantity c_value_of(const gradin_assessment *a, gradin_map_scale scale) {
    bool inches = is_imperial(a);
    quantity q = {.title = "C-value over the head in front",
                  .unit = inches ? "in" : "mm",
                  .value = a->sight.c_m,
                  .none_text = "nobody in front",
                  .low = -0.100,
                  .high = 0.200,
                  .shown_per_si = inches ? 12.0 / GRADIN_FOOT_M : 1000.0,
                  .tick_shown = inches ? 1.0 : 50.0,
                  .decimals = inches ? 1 : 0,
                  .is_high_good = true,
                  .opens_low = true,
                  .opens_high = true,
                  .limit = a->model->limits.c_value_min_m,
                  .seat_class = a->sight.c_class,
                  .spread = &a->c_value_m};
    const double *gap_deg = a->model->limits.head_gap_min_deg;
    snprintf(q.class_head, sizeof q.class_head,
             "class of C; between heads by the gap: %.0f / %.0f / %.0f deg", gap_deg[0], gap_deg[1],
             gap_deg[2]);
    if (scale == GRADIN_MAP_SCALE_FITTED) quantity_step_classes(&q);
    return q;
}

static quantity distance_of(const gradin_assessment *a) {
    bool feet = is_imperial(a);
    return (quantity){.title = "Distance from the eye to the focus centre",
                      .unit = feet ? "ft" : "m",
                      .value = a->sight.distance_m,
                      .low = 0.0,
                      .high = 35.0,
                      .shown_per_si = feet ? 1.0 / GRADIN_FOOT_M : 1.0,
                      .tick_shown = feet ? 10.0 : 5.0,
                      .decimals = feet ? 0 : 1,
                      .opens_high = true,
                      .limit = a->model->limits.distance_max_m,
                      .spread = &a->distance_m};
}

static quantity off_axis_of(const gradin_assessment *a) {
    return (quantity){.title = "Angle off the stage axis",
                      .unit = "degrees",
                      .value = a->sight.off_axis_deg,
                      .low = 0.0,
                      .high = 90.0,
                      .shown_per_si = 1.0,
                      .tick_shown = 15.0,
                      .opens_high = true,
                      .limit = a->model->limits.off_axis_max_deg};
}

static quantity turn_of(const gradin_assessment *a) {
    return (quantity){.title = "Head turn from the seat's facing to the focus centre",
                      .unit = "degrees",
                      .value = a->sight.turn_deg,
                      .low = 0.0,
                      .high = 90.0,
                      .shown_per_si = 1.0,
                      .tick_shown = 15.0,
                      .opens_high = true,
                      .limit = a->model->limits.turn_max_deg};
}

static doubt doubt_of(const gradin_assessment *a) {
    return (doubt){a->systematic.median, a->noise.uncertainty.scatter_db,
                   a->model->criterion.confidence};
}

/* The three states share one scale. */
static quantity lamax_of(const gradin_assessment *a, gradin_shade_state shades,
                         gradin_map_scale scale) {
    const double *const lamax_db[GRADIN_N_SHADE_STATE] = {
        a->noise.lamax_db[0], a->noise.lamax_db[1], a->noise.lamax_db[2]};
    static const char *const title[GRADIN_N_SHADE_STATE] = {"shades as set", "all shades open",
                                                            "all shades shut"};
    quantity q = quantity_level(a->model, doubt_of(a));
    snprintf(q.title, sizeof q.title, "Overflight: highest level at the seat, %s, %s",
             gradin_maximum_name(a->noise.weighting), title[shades]);
    q.value = a->noise.lamax_db[shades];
    if (!isnan(a->model->criterion.lamax_dba)) q.verdict = a->noise.lamax_verdict[shades];
    q.spread = &a->lamax_db[shades];
    q.shades = shades;
    q.pass = a->model->pass;
    quantity_level_limit(&q, a->model->criterion.lamax_dba,
                         "The layout states no limit for the maximum.");
    if (scale == GRADIN_MAP_SCALE_FITTED) quantity_step_levels(&q, lamax_db, GRADIN_N_SHADE_STATE);
    return q;
}

static quantity shade_gain_of(const gradin_assessment *a, gradin_map_scale scale) {
    quantity q = quantity_shade_gain(a->model, doubt_of(a));
    snprintf(q.title, sizeof q.title, "Overflight: %s with all shades open less all shut",
             gradin_maximum_name(a->noise.weighting));
    q.value = a->shade_gain_db;
    q.spread = &a->shade_gain;
    q.pass = a->model->pass;
    if (scale == GRADIN_MAP_SCALE_FITTED) quantity_reach_difference(&q);
    return q;
}

static quantity clear_view_of(const gradin_assessment *a) {
    quantity q = {.title = "Share of drawn audiences that leave a clear view",
                  .unit = "%",
                  .value = a->crowd.clear,
                  .low = 0.0,
                  .high = 1.0,
                  .shown_per_si = 100.0,
                  .tick_shown = 10.0,
                  .is_high_good = true,
                  .spread = &a->clear_view};
    char limit[24];
    gradin_format_fixed(limit, sizeof limit, 100.0 * a->crowd.clear_limit, 1);
    snprintf(q.note, sizeof q.note,
             "%d audiences drawn, all seats taken. A view is clear from %s %% of the focus area.",
             a->crowd.n_draw, limit);
    return q;
}

static quantity rating_of(const gradin_assessment *a) {
    return (quantity){.title = "Sightline rating by class",
                      .rating = a->sight.rating,
                      .reason = a->sight.reason,
                      .has_crowd = a->has_crowd};
}

static quantity row_of(const gradin_assessment *a, gradin_map map, gradin_map_scale scale) {
    switch (map) {
    case GRADIN_MAP_VISIBLE:
        return visible_of(a);
    case GRADIN_MAP_C_VALUE:
        return c_value_of(a, scale);
    case GRADIN_MAP_DISTANCE:
        return distance_of(a);
    case GRADIN_MAP_OFF_AXIS:
        return off_axis_of(a);
    case GRADIN_MAP_TURN:
        return turn_of(a);
    case GRADIN_MAP_LAMAX:
        return lamax_of(a, GRADIN_SHADES_AS_SET, scale);
    case GRADIN_MAP_LAMAX_OPEN:
        return lamax_of(a, GRADIN_SHADES_OPEN, scale);
    case GRADIN_MAP_LAMAX_SHUT:
        return lamax_of(a, GRADIN_SHADES_SHUT, scale);
    case GRADIN_MAP_CLEAR_VIEW:
        return clear_view_of(a);
    case GRADIN_MAP_SHADE_GAIN:
        return shade_gain_of(a, scale);
    default:
        return rating_of(a);
    }
}

quantity quantity_of(const gradin_assessment *assessment, gradin_map map, gradin_map_scale scale) {
    quantity q = row_of(assessment, map, scale);
    q.model = assessment->model;
    if (!q.is_noise) q.criterion = NAN;
    return q;
}

quantity quantity_of_band(const gradin_assessment *assessment, int band, gradin_map_scale scale) {
    quantity q =
        quantity_band_level(assessment->model, &assessment->band[band], doubt_of(assessment));
    q.pass = assessment->model->pass;
    if (scale == GRADIN_MAP_SCALE_FITTED) quantity_step_levels(&q, NULL, 0);
    return q;
}

bool gradin_map_applies(const gradin_assessment *assessment, gradin_map map) {
    if (assessment_complete(assessment, NULL) != GRADIN_OK) return false;
    if (!is_map(map) || assessment->model->seats.n_seat < 1) return false;
    if (map == GRADIN_MAP_RATING) return assessment->sight.rating != NULL;
    if (map == GRADIN_MAP_OFF_AXIS && !isfinite(assessment->model->axis_deg)) return false;
    if (map == GRADIN_MAP_C_VALUE && !assessment_has_c(assessment)) return false;
    quantity q = quantity_of(assessment, map, GRADIN_MAP_SCALE_FIXED);
    if (q.is_noise && !assessment->has_noise) return false;
    /* All shades open or shut say nothing new where there is no shade. */
    if (q.shades != GRADIN_SHADES_AS_SET && !assessment->shade_gain_db) return false;
    return q.value != NULL;
}
