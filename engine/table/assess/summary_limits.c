/* The limits in force: what each class asks of each figure, whether the brief states it or it is a
 * default, and which figures the rating counts. */
#include "table/assess/summary_limits.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

typedef struct limit_row {
    const char *label, *unit, *key;
    gradin_reason reason;
    table_quantity quantity;
    double scale;
    bool is_least;
    const double *limit;
} limit_row;

enum { N_ROW = 9 };

static void list_rows(const gradin_limits *l, limit_row row[N_ROW]) {
    const limit_row all[N_ROW] = {{"focus seen", "%", "visible_min_pct", GRADIN_REASON_VISIBLE,
                                   TABLE_PERCENT, 100.0, true, l->visible_min},
                                  {"clear view", "%", "clear_view_min_pct",
                                   GRADIN_REASON_CLEAR_VIEW, TABLE_PERCENT, 100.0, true,
                                   l->clear_view_min},
                                  {"C", "mm", "c_value_min_mm", GRADIN_REASON_C_VALUE,
                                   TABLE_MILLIMETRE, 1000.0, true, l->c_value_min_m},
                                  {"head gap", "deg", "head_gap_min_deg", GRADIN_REASON_C_VALUE,
                                   TABLE_DEGREE, 1.0, true, l->head_gap_min_deg},
                                  {"over two rows", "mm", "two_row_c_min_mm", GRADIN_REASON_C_VALUE,
                                   TABLE_MILLIMETRE, 1000.0, true, l->two_row_c_min_m},
                                  {"distance", "m", "distance_max_m", GRADIN_REASON_DISTANCE,
                                   TABLE_METRE, 1.0, false, l->distance_max_m},
                                  {"off axis", "deg", "off_axis_max_deg", GRADIN_REASON_OFF_AXIS,
                                   TABLE_DEGREE, 1.0, false, l->off_axis_max_deg},
                                  {"look down", "deg", "down_max_deg", GRADIN_REASON_DOWN,
                                   TABLE_DEGREE, 1.0, false, l->down_max_deg},
                                  {"head turn", "deg", "head_turn_max_deg", GRADIN_REASON_TURN,
                                   TABLE_DEGREE, 1.0, false, l->turn_max_deg}};
    memcpy(row, all, sizeof all);
}

/* Why a figure has no part in the rating; NULL when it has. */
static const char *why_left_out(const gradin_assessment *a, gradin_reason reason) {
    if (a->model->limits.is_left_out[reason])
        return reason == GRADIN_REASON_C_VALUE ? "C-value (a class of its own)"
                                               : gradin_reason_name(reason);
    if (reason == GRADIN_REASON_OFF_AXIS && isnan(a->model->axis_deg))
        return "off-axis angle (no axis_deg)";
    if (reason == GRADIN_REASON_CLEAR_VIEW && !a->has_crowd) return "clear view (none drawn)";
    return NULL;
}

/* At most two decimals, none that are nought. */
static void put_short(table_text *out, double value) {
    char text[32];
    if (isnan(value)) {
        table_put(out, "none");
        return;
    }
    gradin_format_fixed(text, sizeof text, value, 2);
    char *end = text + strlen(text);
    while (end > text && strchr(text, '.') && (end[-1] == '0' || end[-1] == '.')) {
        bool was_point = end[-1] == '.';
        *--end = '\0';
        if (was_point) break;
    }
    table_put(out, text);
}

static bool is_stated(const gradin_limits *limits, const limit_row *row) {
    return row->limit == limits->head_gap_min_deg ? limits->is_gap_stated
                                                  : limits->is_stated[row->reason];
}

/* A length in the units that people read it in. */
static void show_in(const char *units, limit_row *row) {
    bool is_small = row->quantity == TABLE_MILLIMETRE;
    if (!is_small && row->quantity != TABLE_METRE) return;
    length_unit unit = is_small ? small_unit_of(units) : length_unit_of(units);
    row->unit = unit.name;
    row->scale = unit.per_m;
}

static void put_row(table_text *out, const gradin_limits *limits, const limit_row *row) {
    table_print(out, "%s %s ", row->label, row->is_least ? "at least" : "at most");
    for (int i = 0; i < 3; i++) {
        if (i > 0) table_put(out, "/");
        put_short(out, row->scale * row->limit[i]);
    }
    table_print(out, " %s%s", row->unit, is_stated(limits, row) ? "" : " default");
}

static void put_rows(table_text *out, const gradin_assessment *a, bool of_c) {
    limit_row row[N_ROW];
    const char *between = "";
    list_rows(&a->model->limits, row);
    for (int i = 0; i < N_ROW; i++) {
        bool is_c = row[i].reason == GRADIN_REASON_C_VALUE;
        if (is_c != of_c || (!is_c && why_left_out(a, row[i].reason))) continue;
        table_put(out, between);
        show_in(a->model->units, &row[i]);
        put_row(out, &a->model->limits, &row[i]);
        between = "; ";
    }
}

/* Feet that nobody is asked to see are said to be so. */
static const char *put_raised(table_text *out, const gradin_model *m, const char *between) {
    for (int k = 0; k < m->n_focus; k++) {
        if (!m->focus[k].is_raised) continue;
        table_print(out, "%swhat lies under ", between);
        table_put_fitted(out, m->focus[k].name, 24, false);
        table_put(out, " (");
        table_put_length(out, m->focus[k].over_floor_m, length_unit_of(m->units));
        table_put(out, " over the floor)");
        between = ", ";
    }
    return between;
}

static void put_left_out(table_text *out, const gradin_assessment *a) {
    const char *between = "Not in the rating: ";
    for (int i = GRADIN_REASON_NONE + 1; i < GRADIN_N_REASON; i++) {
        const char *why = why_left_out(a, (gradin_reason)i);
        if (!why) continue;
        table_print(out, "%s%s", between, why);
        between = ", ";
    }
    between = put_raised(out, a->model, between);
    if (strcmp(between, ", ") == 0) table_put(out, "\n");
}

void table_summary_limits_text(table_text *out, const gradin_assessment *a) {
    const char *brief = a->model->limits.brief;
    table_put(out, "Limits of clear/good/fair, ");
    table_put(out, brief ? "brief " : "no brief stated");
    if (brief) table_put_fitted(out, brief, 24, false);
    table_put(out, ": ");
    put_rows(out, a, false);
    table_put(out, "\n");
    put_left_out(out, a);
}

void table_summary_c_text(table_text *out, const gradin_assessment *a) {
    const int *n = a->sight.n_c_class;
    const gradin_model *m = a->model;
    if (!assessment_has_c(a)) {
        table_put(out, "C: not measured; no focus area is a floor, and the layout states no "
                       "c_line\n");
        return;
    }
    table_print(out, "C: clear %d, good %d, fair %d, poor %d, nobody in front %d; to ",
                n[GRADIN_RATING_CLEAR], n[GRADIN_RATING_GOOD], n[GRADIN_RATING_FAIR],
                n[GRADIN_RATING_POOR], n[GRADIN_N_RATING]);
    if (m->c_line)
        table_put_fitted(out, m->c_line->name, 24, false);
    else
        table_put(out, "the edge of the lowest floor");
    table_put(out, "; ");
    put_rows(out, a, true);
    table_put(out, "\n");
}

void table_summary_limits_json(table_json *json, json_t *parent, const gradin_assessment *a) {
    const gradin_limits *limits = &a->model->limits;
    limit_row row[N_ROW];
    list_rows(limits, row);
    json_t *object = table_json_object(json, parent, "limits");
    for (int i = 0; i < N_ROW; i++)
        table_json_numbers(json, object, row[i].key, row[i].quantity, row[i].limit, 3,
                           row[i].scale);
    table_json_text(json, object, "brief", limits->brief);
    json_t *defaults = table_json_array(json, object, "defaults");
    json_t *counted = table_json_array(json, object, "rate_by");
    for (int i = GRADIN_REASON_NONE + 1; i < GRADIN_N_REASON; i++) {
        const char *name = gradin_reason_name((gradin_reason)i);
        if (!limits->is_stated[i]) table_json_append_text(json, defaults, name);
        if (!why_left_out(a, (gradin_reason)i)) table_json_append_text(json, counted, name);
    }
}

void table_summary_c_json(table_json *json, const gradin_assessment *a) {
    json_t *object = table_json_object(json, json->root, "c_class");
    for (int k = 0; k < GRADIN_N_RATING; k++)
        table_json_integer(json, object, gradin_rating_name((gradin_rating)k),
                           a->sight.n_c_class[k]);
    table_json_integer(json, object, "nobody_in_front", a->sight.n_c_class[GRADIN_N_RATING]);
    table_json_text(json, object, "c_line", a->model->c_line ? a->model->c_line->name : NULL);
}
