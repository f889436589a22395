/* What the page's script colours, lists and sorts: every seat's figures, column by column, and the
 * limits in force, as JSON. */
#include "table/report/html.h"
#include "table/shared/json.h"
#include "table/shared/names.h"

#include <math.h>
#include <stdlib.h>

typedef enum figure_unit { PLAIN, PERCENT, LENGTH, SMALL, DEGREE, DECIBEL, DBA } figure_unit;
enum { MAPPED = 1, DETAIL = 2, COLUMN = 4, NOISE = 8 };

/* A figure of each seat: a text or a number (NAN: none) of seat i. */
typedef struct figure {
    const char *key, *label;
    figure_unit unit;
    int use;
    bool is_least;       /* its limits are least values */
    const char *classes; /* the figure whose classes colour it; NULL: its own limits do */
    const char *(*text)(const gradin_assessment *a, int i);
    double (*number)(const gradin_assessment *a, int i);
} figure;

static const char *id_of(const gradin_assessment *a, int i) {
    return a->model->seats.id[i];
}
static const char *level_name_of(const gradin_assessment *a, int i) {
    return a->model->level_name[a->model->seats.level[i]];
}
static const char *kind_of(const gradin_assessment *a, int i) {
    return gradin_seat_kind_name(a->model->seats.kind[i]);
}
static const char *reason_of(const gradin_assessment *a, int i) {
    return gradin_reason_name(a->sight.reason[i]);
}
static double x_of(const gradin_assessment *a, int i) {
    return a->model->seats.floor_m[i].x;
}
static double y_of(const gradin_assessment *a, int i) {
    return a->model->seats.floor_m[i].y;
}
static double rating_of(const gradin_assessment *a, int i) {
    return a->sight.rating[i];
}
static double seen_of(const gradin_assessment *a, int i) {
    return 100.0 * a->sight.visible[i];
}
static double hidden_of(const gradin_assessment *a, int i, gradin_cause cause) {
    return 100.0 * a->sight.hidden[(size_t)i * GRADIN_N_CAUSE + (size_t)cause];
}
static double heads_of(const gradin_assessment *a, int i) {
    return hidden_of(a, i, GRADIN_CAUSE_HEAD);
}
static double rails_of(const gradin_assessment *a, int i) {
    return hidden_of(a, i, GRADIN_CAUSE_RAIL);
}
static double structure_of(const gradin_assessment *a, int i) {
    return hidden_of(a, i, GRADIN_CAUSE_STRUCTURE);
}
static double arch_of(const gradin_assessment *a, int i) {
    return hidden_of(a, i, GRADIN_CAUSE_ARCH);
}
static double c_of(const gradin_assessment *a, int i) {
    return a->sight.c_m[i];
}
static double c_class_of(const gradin_assessment *a, int i) {
    return a->sight.c_class[i] < GRADIN_N_RATING ? (double)a->sight.c_class[i] : NAN;
}
static double distance_of(const gradin_assessment *a, int i) {
    return a->sight.distance_m[i];
}
static double turn_of(const gradin_assessment *a, int i) {
    return a->sight.turn_deg[i];
}
static double down_of(const gradin_assessment *a, int i) {
    return a->sight.down_deg[i];
}
static double dba_of(const gradin_assessment *a, int i) {
    return a->has_noise ? a->noise.lamax_db[GRADIN_SHADES_AS_SET][i] : NAN;
}
static double doubt_of(const gradin_assessment *a, int i) {
    return a->has_noise ? a->noise.uncertainty_db[i] : NAN;
}
static double verdict_of(const gradin_assessment *a, int i) {
    if (!a->has_noise || a->noise.verdict[i] == GRADIN_VERDICT_NONE) return NAN;
    return a->noise.verdict[i] == GRADIN_VERDICT_WITHIN ? 0.0
           : a->noise.verdict[i] == GRADIN_VERDICT_OVER ? 2.0
                                                        : 1.0;
}

#define T(key, label, unit, use, text)                                                             \
    { key, label, unit, use, false, NULL, text, NULL }
#define N(key, label, unit, use, number)                                                           \
    { key, label, unit, use, false, NULL, NULL, number }
static const figure figures[] = {
    T("seat", "seat", PLAIN, 0, id_of),
    N("x", "x", PLAIN, 0, x_of),
    N("y", "y", PLAIN, 0, y_of),
    T("level", "level", PLAIN, DETAIL | COLUMN, level_name_of),
    T("kind", "kind", PLAIN, DETAIL | COLUMN, kind_of),
    {"rating", "rating", PLAIN, MAPPED | DETAIL | COLUMN, false, "rating", NULL, rating_of},
    T("reason", "set by", PLAIN, DETAIL | COLUMN, reason_of),
    {"seen", "focus seen", PERCENT, MAPPED | DETAIL | COLUMN, true, NULL, NULL, seen_of},
    N("heads", "hidden by heads", PERCENT, DETAIL, heads_of),
    N("rails", "hidden by rails", PERCENT, DETAIL, rails_of),
    N("structure", "hidden by structure", PERCENT, DETAIL, structure_of),
    N("arch", "hidden by the arch", PERCENT, DETAIL, arch_of),
    T("worst", "most hidden by", PLAIN, DETAIL | COLUMN, table_worst_occluder),
    N("distance", "distance", LENGTH, MAPPED | DETAIL | COLUMN, distance_of),
    N("turn", "head turn", DEGREE, MAPPED | DETAIL, turn_of),
    N("down", "look down", DEGREE, MAPPED | DETAIL, down_of),
    {"c", "C-value", SMALL, MAPPED | DETAIL | COLUMN, true, "c_class", NULL, c_of},
    N("c_class", "class of C by itself", PLAIN, DETAIL, c_class_of),
    {"dba", "level of the overflight", DBA, MAPPED | DETAIL | COLUMN | NOISE, false, "verdict",
     NULL, dba_of},
    N("doubt", "standard uncertainty of one event", DECIBEL, DETAIL | NOISE, doubt_of),
    N("verdict", "one event beside the limit", PLAIN, DETAIL | COLUMN | NOISE, verdict_of),
    T("element", "most sound comes by", PLAIN, DETAIL | NOISE, table_loudest_element),
};
#undef T
#undef N
enum { N_FIGURE = sizeof figures / sizeof figures[0] };

typedef struct scaled {
    const char *name;
    double scale;
    table_quantity quantity;
    int decimals;
} scaled;

static scaled scale_of(figure_unit unit, const gradin_model *m) {
    const length_unit length = length_unit_of(m->units), small = small_unit_of(m->units);
    switch (unit) {
    case PERCENT:
        return (scaled){"%", 1.0, TABLE_PERCENT, 1};
    case LENGTH:
        return (scaled){length.name, length.per_m, TABLE_METRE, 1};
    case SMALL:
        return (scaled){small.name, small.per_m, TABLE_METRE, small.decimals};
    case DEGREE:
        return (scaled){"deg", 1.0, TABLE_DEGREE, 0};
    case DECIBEL:
        return (scaled){"dB", 1.0, TABLE_DECIBEL, 1};
    case DBA:
        return (scaled){"dB(A)", 1.0, TABLE_DECIBEL, 1};
    default:
        return (scaled){"", 1.0, TABLE_METRE, 0};
    }
}

static bool is_used(const gradin_report *report, const figure *f, int use) {
    bool has_noise = false;
    for (int l = 0; l < report->n; l++) has_noise = has_noise || report->assessment[l]->has_noise;
    return (f->use & use) != 0 && (has_noise || (f->use & NOISE) == 0);
}

static void put_figures(table_json *json, const gradin_report *report, const char *key, int use) {
    json_t *list = table_json_array(json, json->root, key);
    for (int k = 0; k < N_FIGURE; k++) {
        const figure *f = &figures[k];
        if (!is_used(report, f, use)) continue;
        scaled by = scale_of(f->unit, report->assessment[0]->model);
        json_t *to = table_json_append_object(json, list);
        table_json_text(json, to, "key", f->key);
        table_json_text(json, to, "label", f->label);
        table_json_text(json, to, "unit", by.name);
        table_json_integer(json, to, "decimals", by.decimals);
        table_json_boolean(json, to, "least", f->is_least);
        table_json_text(json, to, "classes", f->classes);
    }
}

static void put_column(table_json *json, json_t *to, const figure *f, const gradin_assessment *a,
                       const gradin_model *first) {
    scaled by = scale_of(f->unit, first);
    json_t *list = table_json_array(json, to, f->key);
    for (int i = 0; i < a->sight.n_seat; i++) {
        const char *text = f->text ? f->text(a, i) : NULL;
        if (f->text)
            json->failed |=
                json_array_append_new(list, text ? json_string(text) : json_null()) != 0;
        else
            table_json_append_number(json, list, by.quantity, by.scale * f->number(a, i));
    }
}

static void put_limits(table_json *json, json_t *to, const gradin_assessment *a,
                       const gradin_model *first) {
    const gradin_limits *l = &a->model->limits;
    json_t *limits = table_json_object(json, to, "limits");
    table_json_numbers(json, limits, "seen", TABLE_PERCENT, l->visible_min, 3, 100.0);
    table_json_numbers(json, limits, "distance", TABLE_METRE, l->distance_max_m, 3,
                       scale_of(LENGTH, first).scale);
    table_json_numbers(json, limits, "turn", TABLE_DEGREE, l->turn_max_deg, 3, 1.0);
    table_json_numbers(json, limits, "down", TABLE_DEGREE, l->down_max_deg, 3, 1.0);
}

static void put_layouts(table_json *json, const gradin_report *report) {
    const gradin_model *first = report->assessment[0]->model;
    json_t *list = table_json_array(json, json->root, "layouts");
    for (int l = 0; l < report->n; l++) {
        const gradin_assessment *a = report->assessment[l];
        json_t *to = table_json_append_object(json, list);
        table_json_text(json, to, "name", a->model->layout_name);
        table_json_integer(json, to, "sheets", a->model->seats.n_sheet);
        put_limits(json, to, a, first);
        for (int k = 0; k < N_FIGURE; k++)
            if (figures[k].use == 0 || is_used(report, &figures[k], MAPPED | DETAIL | COLUMN))
                put_column(json, to, &figures[k], a, first);
    }
}

static void put_sorter(table_text *out, const char *key, const char *label, const char *unit) {
    table_print(out,
                "<th scope=\"col\" data-key=\"%s\"><button type=\"button\">%s%s%s</button></th>",
                key, label, unit[0] ? ", " : "", unit);
}

void html_put_heads(table_text *out, const gradin_report *report) {
    put_sorter(out, "order", "seat", "");
    for (int k = 0; k < N_FIGURE; k++)
        if (is_used(report, &figures[k], COLUMN))
            put_sorter(out, figures[k].key, figures[k].label,
                       scale_of(figures[k].unit, report->assessment[0]->model).name);
}

/* No tag may open or close inside a script's data. */
static void put_safe(table_text *out, const char *json) {
    for (; *json; json++) {
        char c[2] = {*json, '\0'};
        table_put(out, *json == '<' ? "\\u003c" : c);
    }
}

bool html_put_data(table_text *out, const gradin_report *report) {
    table_json json = {.root = json_object()};
    put_figures(&json, report, "figures", MAPPED);
    put_figures(&json, report, "details", DETAIL);
    put_figures(&json, report, "columns", COLUMN);
    put_layouts(&json, report);
    char *text = json.root && !json.failed
                     ? json_dumps(json.root, JSON_COMPACT | JSON_REAL_PRECISION(15))
                     : NULL;
    if (text) put_safe(out, text);
    free(text);
    json_decref(json.root);
    return text != NULL;
}
