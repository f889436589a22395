/* The plan as GeoJSON (RFC 7946) in local metres. The RFC wants longitude and latitude; a hall's
 * plan has none. It lets parties that have agreed on it use another reference (section 4), and the
 * foreign member `local_coordinates` (section 6.1) says what this one is. Rings run against the
 * clock and are closed (section 3.1.6). */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/assess/short.h"
#include "table/export/things.h"
#include "table/shared/json.h"

static void put_position(table_json *j, json_t *line, gradin_vec2 at_m, double z_m) {
    json_t *position = json_array();
    if (!line || json_array_append_new(line, position) != 0) {
        j->failed = true;
        return;
    }
    table_json_append_number(j, position, TABLE_METRE, at_m.x);
    table_json_append_number(j, position, TABLE_METRE, at_m.y);
    if (isfinite(z_m)) table_json_append_number(j, position, TABLE_METRE, z_m);
}

static json_t *array_in(table_json *j, json_t *array) {
    json_t *child = json_array();
    if (array && json_array_append_new(array, child) == 0) return child;
    j->failed = true;
    return NULL;
}

/* A feature with its properties begun by kind and name; *geometry gets its own object. */
static json_t *feature(table_json *j, json_t *features, const char *type, const char *kind,
                       const char *name, json_t **geometry) {
    json_t *made = table_json_append_object(j, features);
    table_json_text(j, made, "type", "Feature");
    *geometry = table_json_object(j, made, "geometry");
    table_json_text(j, *geometry, "type", type);
    json_t *properties = table_json_object(j, made, "properties");
    table_json_text(j, properties, "kind", kind);
    table_json_text(j, properties, "name", name);
    return properties;
}

/* Twice the area, above zero when the corners run against the clock. */
static double turn_m2(const gradin_vec2 *p, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) {
        gradin_vec2 a = p[i], b = p[(i + 1) % n];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum;
}

static void put_ring(table_json *j, json_t *ring, const plan_thing *t) {
    int n = t->n_point;
    bool is_left = turn_m2(t->point_m, n) > 0.0;
    for (int i = 0; i <= n; i++) {
        int k = is_left ? i % n : (n - i) % n;
        put_position(j, ring, t->point_m[k], t->z_m ? t->z_m[k] : t->bottom_m);
    }
}

static void put_thing(table_json *j, json_t *features, const plan_thing *t) {
    json_t *geometry;
    const char *type = t->is_closed ? "Polygon" : t->n_point == 1 ? "Point" : "LineString";
    json_t *properties = feature(j, features, type, plan_layer_name(t->layer), t->name, &geometry);
    table_json_number(j, properties, "bottom_m", TABLE_METRE, t->bottom_m);
    table_json_number(j, properties, "top_m", TABLE_METRE, t->top_m);
    json_t *at = table_json_array(j, geometry, "coordinates");
    if (t->is_closed)
        put_ring(j, array_in(j, at), t);
    else if (t->n_point > 1)
        for (int i = 0; i < t->n_point; i++) put_position(j, at, t->point_m[i], t->bottom_m);
    else {
        table_json_append_number(j, at, TABLE_METRE, t->point_m[0].x);
        table_json_append_number(j, at, TABLE_METRE, t->point_m[0].y);
        table_json_append_number(j, at, TABLE_METRE, t->bottom_m);
    }
}

/* A block as lines through its rows of two seats and more. */
static void put_block(table_json *j, json_t *features, const gradin_model *m, int block) {
    const gradin_seats *s = &m->seats;
    int n = 0, n_row = 0, level = 0;
    json_t *geometry;
    json_t *properties =
        feature(j, features, "MultiLineString", "block", m->block_name[block], &geometry);
    json_t *lines = table_json_array(j, geometry, "coordinates");
    for (int i = 0, end; i < s->n_seat; i = end) {
        end = plan_row_end(s, i);
        if (s->block[i] != block) continue;
        level = s->level[i];
        n += end - i;
        n_row++;
        json_t *line = end - i > 1 ? array_in(j, lines) : NULL;
        for (int k = i; line && k < end; k++)
            put_position(j, line, (gradin_vec2){s->floor_m[k].x, s->floor_m[k].y}, s->floor_m[k].z);
    }
    table_json_text(j, properties, "level", n > 0 ? m->level_name[level] : NULL);
    table_json_integer(j, properties, "rows", n_row);
    table_json_integer(j, properties, "seats", n);
}

static void put_figures(table_json *j, json_t *properties, const gradin_assessment *a, int seat) {
    char text[SHORT_CHARS];
    table_quantity quantity;
    double value;
    for (int k = 0; k < SHORT_COLUMNS; k++)
        if (short_number(a, k, seat, &quantity, &value))
            table_json_number(j, properties, short_name(a, k), quantity, value);
        else
            table_json_text(j, properties, short_name(a, k), short_text(a, k, seat, text));
}

static void put_seat(table_json *j, json_t *features, const gradin_assessment *a, int seat) {
    const gradin_seats *s = &a->model->seats;
    json_t *geometry;
    json_t *properties = feature(j, features, "Point", "seat", s->id[seat], &geometry);
    json_t *at = table_json_array(j, geometry, "coordinates");
    table_json_append_number(j, at, TABLE_METRE, s->floor_m[seat].x);
    table_json_append_number(j, at, TABLE_METRE, s->floor_m[seat].y);
    table_json_append_number(j, at, TABLE_METRE, s->floor_m[seat].z);
    table_json_number(j, properties, "facing_deg", TABLE_DEGREE, s->facing_deg[seat]);
    json_t *figures = table_json_object(j, properties, "figures");
    put_figures(j, figures, a, seat);
}

static void put_head(table_json *j, const gradin_model *m) {
    table_json_text(j, j->root, "type", "FeatureCollection");
    table_json_text(j, j->root, "format", "gradin-plan-1");
    table_json_text(j, j->root, "version", GRADIN_VERSION);
    table_json_text(j, j->root, "venue", m->venue_name);
    table_json_text(j, j->root, "layout", m->layout_name);
    table_json_text(j, j->root, "input_digest", m->digest);
    json_t *local = table_json_object(j, j->root, "local_coordinates");
    table_json_text(j, local, "unit", "m");
    table_json_text(j, local, "axes", "x to the plan's east, y to its north, z up");
    table_json_text(j, local, "origin", "the plan origin that the venue's file states");
    table_json_text(j, local, "note",
                    "not longitude and latitude: RFC 7946 asks for WGS 84, and a hall's plan has "
                    "no place on it; section 4 allows this by agreement");
    json_t *levels = table_json_array(j, j->root, "levels");
    for (int i = 0; i < m->n_level; i++) table_json_append_text(j, levels, m->level_name[i]);
}

static void put_all(table_json *j, const gradin_assessment *a, const plan_things *list) {
    put_head(j, a->model);
    json_t *features = table_json_array(j, j->root, "features");
    for (int i = 0; i < list->n; i++) put_thing(j, features, &list->thing[i]);
    for (int i = 0; i < a->model->n_block; i++) put_block(j, features, a->model, i);
    for (int i = 0; i < a->model->seats.n_seat; i++) put_seat(j, features, a, i);
}

gradin_status gradin_hall_geojson(gradin_arena *arena, const gradin_assessment *assessment,
                                  char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    plan_things list = {.arena = arena};
    table_json j = {.root = json_object()};
    plan_things_list(&list, assessment->model);
    if (!list.failed) put_all(&j, assessment, &list);
    *text = list.failed || j.failed ? NULL : table_json_dump(arena, j.root, size);
    json_decref(j.root);
    if (*text) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL,
                            "no memory for the plan, or a name is no UTF-8");
}
