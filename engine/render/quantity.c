/* One row a map. The ends of the scales are conventions of our own: they cover the usual range of
 * a hall of some hundred seats, and are the same for all layouts so that two maps compare at a
 * glance. */
#include "render/quantity.h"

#include <stdio.h>
#include <string.h>

static const char *const file_stem[GRADIN_N_MAP] = {
    "visible", "c_value", "rating",     "distance",   "off_axis",
    "turn",    "lamax",   "lamax_open", "lamax_shut", "clear_view"};

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

static quantity c_value_of(const gradin_assessment *a) {
    bool inches = is_imperial(a);
    return (quantity){.title = "C-value over the head in front",
                      .unit = inches ? "in" : "mm",
                      .value = a->sight.c_m,
                      .low = -0.100,
                      .high = 0.200,
                      .shown_per_si = inches ? 12.0 / GRADIN_FOOT_M : 1000.0,
                      .tick_shown = inches ? 1.0 : 50.0,
                      .decimals = inches ? 1 : 0,
                      .is_high_good = true,
                      .opens_low = true,
                      .opens_high = true,
                      .limit = a->model->limits.c_value_min_m,
                      .spread = &a->c_value_m};
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

static quantity lamax_of(const gradin_assessment *a, gradin_shade_state shades) {
    static const char *const title[GRADIN_N_SHADE_STATE] = {
        "Overflight: highest level at the seat, LAmax, shades as set",
        "Overflight: highest level at the seat, LAmax, all shades open",
        "Overflight: highest level at the seat, LAmax, all shades shut"};
    return (quantity){.title = title[shades],
                      .unit = "dB(A)",
                      .value = a->noise.lamax_db[shades],
                      .low = 20.0,
                      .high = 80.0,
                      .shown_per_si = 1.0,
                      .tick_shown = 10.0,
                      .opens_low = true,
                      .opens_high = true,
                      .spread = &a->lamax_db[shades],
                      .shades = shades,
                      .is_noise = true};
}

static quantity clear_view_of(const gradin_assessment *a) {
    return (quantity){.title = "Share of drawn audiences that leave a clear view",
                      .unit = "%",
                      .value = a->crowd.clear,
                      .low = 0.0,
                      .high = 1.0,
                      .shown_per_si = 100.0,
                      .tick_shown = 10.0,
                      .is_high_good = true,
                      .spread = &a->clear_view};
}

static quantity rating_of(void) {
    return (quantity){.title = "Sightline rating by class"};
}

static quantity row_of(const gradin_assessment *a, gradin_map map) {
    switch (map) {
    case GRADIN_MAP_VISIBLE:
        return visible_of(a);
    case GRADIN_MAP_C_VALUE:
        return c_value_of(a);
    case GRADIN_MAP_DISTANCE:
        return distance_of(a);
    case GRADIN_MAP_OFF_AXIS:
        return off_axis_of(a);
    case GRADIN_MAP_TURN:
        return turn_of(a);
    case GRADIN_MAP_LAMAX:
        return lamax_of(a, GRADIN_SHADES_AS_SET);
    case GRADIN_MAP_LAMAX_OPEN:
        return lamax_of(a, GRADIN_SHADES_OPEN);
    case GRADIN_MAP_LAMAX_SHUT:
        return lamax_of(a, GRADIN_SHADES_SHUT);
    case GRADIN_MAP_CLEAR_VIEW:
        return clear_view_of(a);
    default:
        return rating_of();
    }
}

quantity quantity_of(const gradin_assessment *assessment, gradin_map map) {
    quantity q = row_of(assessment, map);
    q.map = map;
    q.criterion = q.is_noise ? assessment->model->criterion.lamax_dba : NAN;
    return q;
}

/* Maps with all shades open or shut say nothing new where there is no shade. */
static bool has_shades(const gradin_model *model) {
    for (int i = 0; i < model->n_element; i++)
        if (model->element[i].shade >= 0) return true;
    return false;
}

bool gradin_map_applies(const gradin_assessment *assessment, gradin_map map) {
    if (!is_map(map) || assessment->model->seats.n_seat < 1) return false;
    if (map == GRADIN_MAP_RATING) return assessment->sight.rating != NULL;
    if (map == GRADIN_MAP_OFF_AXIS && !isfinite(assessment->model->axis_deg)) return false;
    quantity q = quantity_of(assessment, map);
    if (q.is_noise && !assessment->has_noise) return false;
    if (q.shades != GRADIN_SHADES_AS_SET && !has_shades(assessment->model)) return false;
    return q.value != NULL;
}

double quantity_quality(const quantity *q, double value) {
    double share = (value - q->low) / (q->high - q->low);
    return q->is_high_good ? share : 1.0 - share;
}

static bool is_worse(const quantity *q, double value, double limit) {
    if (isnan(limit)) return false;
    return q->is_high_good ? value < limit : value > limit;
}

int quantity_class(const quantity *q, const gradin_assessment *assessment, int seat) {
    if (!q->value) return (int)assessment->sight.rating[seat];
    double value = q->value[seat];
    if (!isfinite(value)) return -1;
    if (!q->limit) return is_worse(q, value, q->criterion) ? GRADIN_RATING_POOR : 0;
    int worst = GRADIN_RATING_CLEAR;
    for (int i = 0; i < 3; i++)
        if (is_worse(q, value, q->limit[i])) worst = i + 1;
    return worst;
}

bool quantity_is_marked(const quantity *q, const gradin_assessment *assessment, int seat) {
    return quantity_class(q, assessment, seat) == GRADIN_RATING_POOR;
}

char *quantity_text(const quantity *q, double value, char text[16]) {
    return gradin_format_fixed(text, 16, value * q->shown_per_si, q->decimals);
}

void quantity_seat(const quantity *q, const gradin_assessment *assessment, int seat, char text[16],
                   double *quality) {
    if (!q->value) {
        gradin_rating rating = assessment->sight.rating[seat];
        snprintf(text, 16, "%c", "CGFP"[rating]);
        *quality = quantity_class_quality(rating);
        return;
    }
    *quality = isfinite(q->value[seat]) ? quantity_quality(q, q->value[seat]) : NAN;
    if (isnan(*quality))
        snprintf(text, 16, "\xE2\x80\x93");
    else
        quantity_text(q, q->value[seat], text);
}

char *quantity_limit_text(const quantity *q, double value, char text[16]) {
    double tens = pow(10.0, q->decimals), shown = value * q->shown_per_si;
    bool is_whole = fabs(round(shown * tens) / tens - shown) < 1e-6;
    return gradin_format_fixed(text, 16, shown, q->decimals + (is_whole ? 0 : 1));
}

void quantity_heading(const quantity *q, char *text, size_t size) {
    snprintf(text, size, "%s%s%s", q->title, q->unit ? ", " : "", q->unit ? q->unit : "");
}

const char *quantity_class_name(gradin_rating rating) {
    static const char *const name[GRADIN_N_RATING] = {"clear", "good", "fair", "poor"};
    return name[rating];
}

double quantity_class_quality(gradin_rating rating) {
    static const double quality[GRADIN_N_RATING] = {1.0, 0.7, 0.38, 0.05};
    return quality[rating];
}
