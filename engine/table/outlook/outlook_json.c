/* An outlook as JSON. */
#include "base/use.h"
#include "gradin/studies/outlook_write.h"
#include "sightline/outlook/complete.h"
#include "table/outlook/outlook.h"
#include "table/shared/report.h"

static void put_percent(table_json *json, json_t *parent, const char *key, double share) {
    table_json_number(json, parent, key, TABLE_PERCENT, 100.0 * share);
}

static void put_area(table_json *json, json_t *array, const gradin_outlook *o, int point,
                     int area) {
    json_t *object = table_json_append_object(json, array);
    int at = point * o->n_area + area;
    table_json_text(json, object, "name", o->model->focus[area].name);
    put_percent(json, object, "seen_pct", o->area[at]);
    put_percent(json, object, "standing_pct", o->standing[at]);
}

static void put_point(table_json *json, json_t *array, const gradin_outlook *o, int point) {
    const gradin_outside_point *p = &o->outside->point[point];
    const int *n_seen = &o->n_seen[point * GRADIN_N_SEEN];
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "name", p->name);
    table_json_number(json, object, "x_m", TABLE_METRE, p->eye_m.x);
    table_json_number(json, object, "y_m", TABLE_METRE, p->eye_m.y);
    table_json_number(json, object, "z_m", TABLE_METRE, p->eye_m.z);
    table_json_number(json, object, "from_wall_m", TABLE_METRE, o->away_m[point]);
    table_json_integer(json, object, "seats_seen", n_seen[GRADIN_SEEN_HEAD]);
    table_json_integer(json, object, "seats_partly", n_seen[GRADIN_SEEN_PARTLY]);
    table_json_integer(json, object, "seats_hidden", n_seen[GRADIN_SEEN_HIDDEN]);
    json_t *areas = table_json_array(json, object, "focus");
    for (int a = 0; a < o->n_area; a++) put_area(json, areas, o, point, a);
}

static void put_seen(table_json *json, json_t *array, const gradin_outlook *o, int seat,
                     int point) {
    size_t at = (size_t)point * (size_t)o->n_seat + (size_t)seat;
    if (o->seen[at] == GRADIN_SEEN_HIDDEN) return;
    json_t *object = table_json_append_object(json, array);
    gradin_vec3 way_m = gradin_sub(o->outside->point[point].eye_m, o->model->seats.eye_m[seat]);
    table_json_text(json, object, "point", o->outside->point[point].name);
    table_json_text(json, object, "seen", gradin_seen_name(o->seen[at]));
    put_percent(json, object, "head_pct", o->head[at]);
    put_percent(json, object, "head_and_shoulders_pct", o->outline[at]);
    table_json_number(json, object, "turned_away_deg", TABLE_DEGREE, o->turn_deg[at]);
    table_json_number(json, object, "distance_m", TABLE_METRE, gradin_norm(way_m));
}

static void put_seat(table_json *json, json_t *array, const gradin_outlook *o, int seat) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "seat", o->model->seats.id[seat]);
    put_percent(json, object, "open_glass_pct", o->open_glass[seat]);
    put_percent(json, object, "glass_ahead_pct", o->glass_ahead[seat]);
    json_t *seen = table_json_array(json, object, "seen_from");
    for (int p = 0; p < o->n_point; p++) put_seen(json, seen, o, seat, p);
}

gradin_status gradin_outlook_json(gradin_arena *arena, const gradin_outlook *outlook, char **text,
                                  size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        outlook_complete(outlook, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_outlook *o = outlook;
    table_json json = table_json_begin("gradin-outlook-1", o->model);
    table_json_text(&json, json.root, "points_digest", o->outside->digest);
    table_json_text(&json, json.root, "shades", o->are_shades_up ? "all up" : "as set");
    table_json_number(&json, json.root, "glass_m2", TABLE_AREA, o->glass_m2);
    table_json_number(&json, json.root, "open_m2", TABLE_AREA, o->open_m2);
    put_percent(&json, json.root, "median_open_glass_pct", o->median);
    put_percent(&json, json.root, "most_open_glass_pct", o->most);
    table_json_text(&json, json.root, "most_open_glass_seat",
                    o->most_seat < 0 ? NULL : o->model->seats.id[o->most_seat]);
    json_t *points = table_json_array(&json, json.root, "points");
    for (int p = 0; p < o->n_point; p++) put_point(&json, points, o, p);
    json_t *seats = table_json_array(&json, json.root, "seats");
    for (int i = 0; i < o->n_seat; i++) put_seat(&json, seats, o, i);
    json_t *notes = table_json_array(&json, json.root, "notes");
    for (int k = 0; k < OUTLOOK_N_NOTE; k++) table_json_append_text(&json, notes, outlook_note[k]);
    if (o->n_leaning > 0) table_json_append_text(&json, notes, outlook_leaning_note);
    return table_json_end(arena, &json, text, size, error);
}
