/* The plan as a drawing exchange file in ASCII, release AC1009 of the published format, which
 * readers of all later ones take: lines of a group code and its value by turns. Metres, x east,
 * y north; an outline's elevation and thickness are the heights between which it stands. Each kind
 * of thing has a layer; a seat is an insert of a block of its size with its figures as attributes.
 * Group codes: the format's reference as its maker publishes it, from memory; an independent reader
 * holds the result in the tests. */
#include "base/shared/plain.h"
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/assess/short.h"
#include "table/export/things.h"
#include "table/shared/text.h"

#include <stdio.h>
#include <string.h>

enum { DECIMALS = 4, NAME_CHARS = 64 };

static void put_integer(table_text *out, int code, int value) {
    table_print(out, "%d\r\n%d\r\n", code, value);
}

static void put_real(table_text *out, int code, double value) {
    char number[64];
    gradin_format_fixed(number, sizeof number, isfinite(value) ? value : 0.0, DECIMALS);
    table_print(out, "%d\r\n%s\r\n", code, number);
}

static void put_word(table_text *out, int code, const char *word) {
    table_print(out, "%d\r\n%s\r\n", code, word);
}

/* The code point at *at, which moves on; a byte that begins none stands for itself. */
static unsigned code_point(const unsigned char **at) {
    unsigned first = *(*at)++;
    int more = first >= 0xF0 ? 3 : first >= 0xE0 ? 2 : first >= 0xC0 ? 1 : 0;
    unsigned value = more > 0 ? first & (0x3FU >> more) : first;
    for (; more > 0 && (**at & 0xC0) == 0x80; more--) value = value << 6 | (*(*at)++ & 0x3FU);
    return value;
}

/* Text of a user on one line of ASCII: the rest as \U+XXXX, as readers of the format know it. */
static void put_text(table_text *out, int code, const char *text) {
    table_print(out, "%d\r\n", code);
    for (const unsigned char *at = (const unsigned char *)text; *at;) {
        unsigned point = code_point(&at);
        if (point > 0xFFFF)
            table_put(out, "?");
        else if (point > 0x7E)
            table_print(out, "\\U+%04X", point);
        else
            table_print(out, "%c", point < 0x20 ? ' ' : (int)point);
    }
    table_put(out, "\r\n");
}

/* Names of layers and tags in capitals. */
static void put_capitals(table_text *out, int code, const char *name) {
    char capitals[NAME_CHARS] = "";
    for (size_t i = 0; name[i] && i + 1 < sizeof capitals; i++) capitals[i] = plain_upper(name[i]);
    put_word(out, code, capitals);
}

/* Seats, rows and names of places that lie over others have layers of their own: SEATS-2, ... */
static const char *layer_of(plan_layer layer, int sheet, char name[NAME_CHARS]) {
    if (sheet > 0)
        snprintf(name, NAME_CHARS, "%s-%d", plan_layer_name(layer), sheet + 1);
    else
        snprintf(name, NAME_CHARS, "%s", plan_layer_name(layer));
    for (char *c = name; *c; c++) *c = plain_upper(*c);
    return name;
}

static void put_entity(table_text *out, const char *type, const char *layer) {
    put_word(out, 0, type);
    put_word(out, 8, layer);
}

static void put_point(table_text *out, int code, gradin_vec2 at_m, double z_m) {
    put_real(out, code, at_m.x);
    put_real(out, code + 10, at_m.y);
    put_real(out, code + 20, z_m);
}

static void put_line(table_text *out, const char *layer, const gradin_vec2 *point_m, int n,
                     bool is_closed, double bottom_m, double top_m) {
    put_entity(out, "POLYLINE", layer);
    put_integer(out, 66, 1);
    put_point(out, 10, (gradin_vec2){0.0, 0.0}, bottom_m);
    if (top_m > bottom_m) put_real(out, 39, top_m - bottom_m);
    put_integer(out, 70, is_closed ? 1 : 0);
    for (int i = 0; i < n; i++) {
        put_entity(out, "VERTEX", layer);
        put_point(out, 10, point_m[i], bottom_m);
    }
    put_entity(out, "SEQEND", layer);
}

static void put_label(table_text *out, const char *layer, gradin_vec2 at_m, double z_m,
                      double height_m, double turn_deg, const char *text) {
    put_entity(out, "TEXT", layer);
    put_point(out, 10, at_m, z_m);
    put_real(out, 40, height_m);
    put_text(out, 1, text);
    put_real(out, 50, turn_deg);
    put_integer(out, 72, 1); /* centred on the second point */
    put_point(out, 11, at_m, z_m);
}

/* An outline whose corners stand at heights of their own: a polyline in three dimensions. */
static void put_sloping(table_text *out, const char *layer, const plan_thing *t) {
    put_entity(out, "POLYLINE", layer);
    put_integer(out, 66, 1);
    put_point(out, 10, (gradin_vec2){0.0, 0.0}, 0.0);
    put_integer(out, 70, 8 | (t->is_closed ? 1 : 0));
    for (int i = 0; i < t->n_point; i++) {
        put_entity(out, "VERTEX", layer);
        put_point(out, 10, t->point_m[i], t->z_m[i]);
        put_integer(out, 70, 32);
    }
    put_entity(out, "SEQEND", layer);
}

static void put_layer(table_text *out, plan_layer layer, int sheet) {
    static const int ink[N_PLAN_LAYER] = {
        [LAYER_ROOM] = 7,      [LAYER_FLOORS] = 9,    [LAYER_LIFTS] = 8,      [LAYER_TOWERS] = 5,
        [LAYER_PLATFORMS] = 9, [LAYER_STRUCTURE] = 8, [LAYER_SET] = 6,        [LAYER_ARCH] = 6,
        [LAYER_RAILS] = 1,     [LAYER_AISLES] = 9,    [LAYER_VOMITORIES] = 9, [LAYER_GLAZING] = 4,
        [LAYER_DOORS] = 3,     [LAYER_FOCUS] = 2,     [LAYER_ROWS] = 9,       [LAYER_SEATS] = 7,
        [LAYER_NAMES] = 7};
    char name[NAME_CHARS];
    put_word(out, 0, "LAYER");
    put_word(out, 2, layer_of(layer, sheet, name));
    put_integer(out, 70, 0);
    put_integer(out, 62, ink[layer]); /* the index colours of the format */
    put_word(out, 6, "CONTINUOUS");
}

static void put_layers(table_text *out, int n_sheet) {
    int n_more = n_sheet > 1 ? n_sheet - 1 : 0;
    put_word(out, 0, "TABLE");
    put_word(out, 2, "LAYER");
    put_integer(out, 70, N_PLAN_LAYER + n_more * (N_PLAN_LAYER - LAYER_ROWS));
    for (int k = 0; k < N_PLAN_LAYER; k++) put_layer(out, (plan_layer)k, 0);
    for (int sheet = 1; sheet < n_sheet; sheet++)
        for (int k = LAYER_ROWS; k < N_PLAN_LAYER; k++) put_layer(out, (plan_layer)k, sheet);
    put_word(out, 0, "ENDTAB");
}

static void put_tables(table_text *out, int n_sheet) {
    put_word(out, 0, "SECTION");
    put_word(out, 2, "TABLES");
    put_word(out, 0, "TABLE");
    put_word(out, 2, "LTYPE");
    put_integer(out, 70, 1);
    put_word(out, 0, "LTYPE");
    put_word(out, 2, "CONTINUOUS");
    put_integer(out, 70, 0);
    put_word(out, 3, "Solid line");
    put_integer(out, 72, 65);
    put_integer(out, 73, 0);
    put_real(out, 40, 0.0);
    put_word(out, 0, "ENDTAB");
    put_layers(out, n_sheet);
    put_word(out, 0, "ENDSEC");
}

typedef struct extents {
    gradin_vec3 low_m, high_m;
} extents;

static void take_in(extents *e, double x_m, double y_m, double z_m) {
    e->low_m = (gradin_vec3){fmin(e->low_m.x, x_m), fmin(e->low_m.y, y_m), fmin(e->low_m.z, z_m)};
    e->high_m =
        (gradin_vec3){fmax(e->high_m.x, x_m), fmax(e->high_m.y, y_m), fmax(e->high_m.z, z_m)};
}

/* Of all things and seats, the room with its whole height. */
static extents extents_of(const gradin_model *m, const plan_things *list) {
    extents e = {{INFINITY, INFINITY, INFINITY}, {-INFINITY, -INFINITY, -INFINITY}};
    for (int i = 0; i < list->n; i++) {
        const plan_thing *t = &list->thing[i];
        double low_m = isfinite(t->bottom_m) ? t->bottom_m : 0.0;
        for (int k = 0; k < t->n_point; k++) {
            take_in(&e, t->point_m[k].x, t->point_m[k].y, low_m);
            take_in(&e, t->point_m[k].x, t->point_m[k].y, fmax(t->top_m, low_m));
        }
    }
    for (int i = 0; i < m->seats.n_seat; i++)
        take_in(&e, m->seats.floor_m[i].x, m->seats.floor_m[i].y, m->seats.floor_m[i].z);
    return e;
}

static void put_head(table_text *out, const gradin_model *m, const plan_things *list) {
    extents e = extents_of(m, list);
    put_word(out, 999, "gradin " GRADIN_VERSION ": plan in metres, x east, y north");
    put_word(out, 0, "SECTION");
    put_word(out, 2, "HEADER");
    put_word(out, 9, "$ACADVER");
    put_word(out, 1, "AC1009");
    put_word(out, 9, "$INSUNITS");
    put_integer(out, 70, 6); /* metres */
    put_word(out, 9, "$EXTMIN");
    put_point(out, 10, (gradin_vec2){e.low_m.x, e.low_m.y}, e.low_m.z);
    put_word(out, 9, "$EXTMAX");
    put_point(out, 10, (gradin_vec2){e.high_m.x, e.high_m.y}, e.high_m.z);
    put_word(out, 0, "ENDSEC");
}

static const char of_insert[] = "0"; /* what is drawn on it lies on the layer of the insert */

static const char *block_of(gradin_seat_kind kind) {
    return kind == GRADIN_SEAT_WHEELCHAIR  ? "WHEELCHAIR"
           : kind == GRADIN_SEAT_COMPANION ? "COMPANION"
                                           : "SEAT";
}

/* A place one wide and one deep that faces up, drawn over 0.8 of its depth; a chair has a back, a
 * companion's a bar besides. */
static void put_block(table_text *out, gradin_seat_kind kind) {
    static const gradin_vec2 outline[] = {{-0.5, -0.4}, {0.5, -0.4}, {0.5, 0.4}, {-0.5, 0.4}},
                             back[] = {{-0.5, -0.3}, {0.5, -0.3}},
                             bar[] = {{-0.5, 0.3}, {0.5, 0.3}};
    put_word(out, 0, "BLOCK");
    put_word(out, 8, of_insert);
    put_word(out, 2, block_of(kind));
    put_integer(out, 70, 2); /* attributes follow its inserts */
    put_point(out, 10, (gradin_vec2){0.0, 0.0}, 0.0);
    put_word(out, 3, block_of(kind));
    put_line(out, of_insert, outline, 4, true, 0.0, 0.0);
    if (kind != GRADIN_SEAT_WHEELCHAIR) put_line(out, of_insert, back, 2, false, 0.0, 0.0);
    if (kind == GRADIN_SEAT_COMPANION) put_line(out, of_insert, bar, 2, false, 0.0, 0.0);
    put_entity(out, "ENDBLK", of_insert);
}

static void put_blocks(table_text *out) {
    put_word(out, 0, "SECTION");
    put_word(out, 2, "BLOCKS");
    for (int kind = GRADIN_SEAT_STANDARD; kind <= GRADIN_SEAT_COMPANION; kind++)
        put_block(out, (gradin_seat_kind)kind);
    put_word(out, 0, "ENDSEC");
}

/* The number alone is seen; all other figures are there to be asked for. */
static void put_attribute(table_text *out, const char *layer, gradin_vec2 at_m, double z_m,
                          double height_m, const char *tag, const char *value) {
    bool is_number = strcmp(tag, "number") == 0;
    put_entity(out, "ATTRIB", layer);
    put_point(out, 10, at_m, z_m);
    put_real(out, 40, height_m);
    put_text(out, 1, value);
    put_capitals(out, 2, tag);
    put_integer(out, 70, is_number ? 0 : 1);
    put_integer(out, 72, 1);
    put_point(out, 11, at_m, z_m);
    put_integer(out, 74, 2);
}

static void put_seat(table_text *out, const gradin_assessment *a, const bool *is_used, int i) {
    const gradin_seats *s = &a->model->seats;
    gradin_vec2 at_m = {s->floor_m[i].x, s->floor_m[i].y};
    char text[SHORT_CHARS], name[NAME_CHARS];
    const char *layer = layer_of(LAYER_SEATS, s->sheet[i], name);
    put_entity(out, "INSERT", layer);
    put_integer(out, 66, 1);
    put_word(out, 2, block_of(s->kind[i]));
    put_point(out, 10, at_m, s->floor_m[i].z);
    put_real(out, 41, s->width_m[i]);
    put_real(out, 42, s->depth_m[i]);
    put_real(out, 43, 1.0);
    put_real(out, 50, gradin_wrap_360_deg(-s->facing_deg[i])); /* against the clock */
    for (int k = 0; k < SHORT_COLUMNS; k++) {
        if (!is_used[k]) continue;
        const char *value = short_text(a, k, i, text);
        put_attribute(out, layer, at_m, s->floor_m[i].z, 0.25 * fmin(s->width_m[i], s->depth_m[i]),
                      short_name(a, k), value ? value : "none");
    }
    put_entity(out, "SEQEND", layer);
}

/* A line through each row's seats, with its label before the first. */
static void put_rows(table_text *out, const gradin_model *m, gradin_vec2 *scratch) {
    const gradin_seats *s = &m->seats;
    for (int i = 0, end; i < s->n_seat; i = end) {
        char label[24], name[NAME_CHARS];
        const char *layer = layer_of(LAYER_ROWS, s->sheet[i], name);
        end = plan_row_end(s, i);
        for (int k = i; k < end; k++)
            scratch[k - i] = (gradin_vec2){s->floor_m[k].x, s->floor_m[k].y};
        double z_m = s->floor_m[i].z;
        if (end - i > 1) put_line(out, layer, scratch, end - i, false, z_m, z_m);
        gradin_vec2 left = gradin_bearing_unit(s->facing_deg[i] - 90.0), at_m = scratch[0];
        double out_m = 0.9 * s->width_m[i];
        if (end - i > 1 &&
            (scratch[1].x - at_m.x) * left.x + (scratch[1].y - at_m.y) * left.y > 0.0)
            out_m = -out_m; /* counted from the right */
        put_label(out, layer, (gradin_vec2){at_m.x + out_m * left.x, at_m.y + out_m * left.y}, z_m,
                  0.2, 0.0, plan_row_label(s, i, label));
    }
}

/* Behind the middle of the last row, along it, never upside down. */
static void name_block(table_text *out, const gradin_model *m, int first, int end) {
    const gradin_seats *s = &m->seats;
    char name[NAME_CHARS];
    gradin_vec3 sum = {0.0, 0.0, 0.0};
    gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[(first + end) / 2]);
    double back_m = s->depth_m[first];
    double turn_deg = gradin_wrap_360_deg(-s->facing_deg[(first + end) / 2]);
    for (int i = first; i < end; i++) sum = gradin_add(sum, s->floor_m[i]);
    sum = gradin_scale(sum, 1.0 / (end - first));
    put_label(out, layer_of(LAYER_NAMES, s->sheet[first], name),
              (gradin_vec2){sum.x - back_m * ahead.x, sum.y - back_m * ahead.y}, sum.z, 0.3,
              turn_deg > 90.0 && turn_deg <= 270.0 ? turn_deg - 180.0 : turn_deg,
              m->block_name[s->block[first]]);
}

static void name_blocks(table_text *out, const gradin_model *m) {
    const gradin_seats *s = &m->seats;
    for (int i = 0, end; i < s->n_seat; i = end) {
        end = plan_row_end(s, i);
        if (end == s->n_seat || s->block[end] != s->block[i]) name_block(out, m, i, end);
    }
}

static bool has_label(plan_layer layer) {
    return layer == LAYER_FOCUS || layer == LAYER_SET || layer == LAYER_LIFTS ||
           layer == LAYER_VOMITORIES || layer == LAYER_AISLES || layer == LAYER_FLOORS;
}

/* A lift's name lies near its corner, clear of what stands in its middle. */
static void name_thing(table_text *out, const plan_thing *t, const char *layer, double z_m) {
    gradin_vec2 at_m = {0.0, 0.0};
    for (int i = 0; i < t->n_point; i++)
        at_m = (gradin_vec2){at_m.x + t->point_m[i].x / t->n_point,
                             at_m.y + t->point_m[i].y / t->n_point};
    if (t->layer == LAYER_LIFTS)
        at_m = (gradin_vec2){at_m.x + 0.7 * (t->point_m[0].x - at_m.x),
                             at_m.y + 0.8 * (t->point_m[0].y - at_m.y)};
    put_label(out, layer, at_m, z_m, t->layer == LAYER_FOCUS ? 0.3 : 0.15, 0.0, t->name);
}

static void put_thing(table_text *out, const plan_thing *t) {
    char name[NAME_CHARS];
    const char *layer = layer_of(t->layer, 0, name);
    double low_m = isfinite(t->bottom_m) ? t->bottom_m : 0.0;
    double high_m = isfinite(t->top_m) && t->layer != LAYER_ROOM ? t->top_m : low_m;
    if (t->z_m)
        put_sloping(out, layer, t);
    else if (t->n_point > 1)
        put_line(out, layer, t->point_m, t->n_point, t->is_closed, low_m, high_m);
    else {
        put_entity(out, "POINT", layer);
        put_point(out, 10, t->point_m[0], low_m);
    }
    if (has_label(t->layer)) name_thing(out, t, layer, low_m);
}

static void put_all(table_text *out, const gradin_assessment *a, const plan_things *list,
                    gradin_vec2 *scratch) {
    bool is_used[SHORT_COLUMNS];
    for (int k = 0; k < SHORT_COLUMNS; k++) is_used[k] = short_is_used(a, k);
    put_head(out, a->model, list);
    put_tables(out, a->model->seats.n_sheet);
    put_blocks(out);
    put_word(out, 0, "SECTION");
    put_word(out, 2, "ENTITIES");
    for (int i = 0; i < list->n; i++) put_thing(out, &list->thing[i]);
    put_rows(out, a->model, scratch);
    name_blocks(out, a->model);
    for (int i = 0; i < a->model->seats.n_seat; i++) put_seat(out, a, is_used, i);
    put_word(out, 0, "ENDSEC");
    put_word(out, 0, "EOF");
}

gradin_status gradin_hall_dxf(gradin_arena *arena, const gradin_assessment *assessment, char **text,
                              size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    plan_things list = {.arena = arena};
    gradin_vec2 *scratch =
        gradin_arena_alloc(arena, (size_t)assessment->model->seats.n_seat + 1, sizeof *scratch);
    plan_things_list(&list, assessment->model);
    if (scratch && !list.failed) put_all(&out, assessment, &list, scratch);
    if (!scratch || list.failed || out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the plan");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
