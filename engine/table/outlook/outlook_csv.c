/* An outlook as tables, RFC 4180: points with areas, seats, and who is seen from where. */
#include "base/use.h"
#include "gradin/studies/outlook_write.h"
#include "sightline/outlook/complete.h"
#include "table/shared/text.h"

static void put_percent(table_text *out, double share) {
    table_put(out, ",");
    table_put_number(out, TABLE_PERCENT, 100.0 * share);
}

static void put_metres(table_text *out, double length_m) {
    table_put(out, ",");
    table_put_number(out, TABLE_METRE, length_m);
}

static gradin_status finish(const table_text *out, char **text, size_t *size, gradin_error *error) {
    if (out->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the outlook's table");
    *text = out->bytes;
    *size = out->size;
    return GRADIN_OK;
}

static void put_point(table_text *out, const gradin_outlook *o, int point, int area) {
    const gradin_outside_point *p = &o->outside->point[point];
    int at = point * o->n_area + area;
    table_put_quoted(out, p->name);
    put_metres(out, p->eye_m.x);
    put_metres(out, p->eye_m.y);
    put_metres(out, p->eye_m.z);
    put_metres(out, o->away_m[point]);
    for (int seen = GRADIN_N_SEEN - 1; seen >= 0; seen--)
        table_print(out, ",%d", o->n_seen[point * GRADIN_N_SEEN + seen]);
    table_put(out, ",");
    table_put_quoted(out, o->model->focus[area].name);
    put_percent(out, o->area[at]);
    put_percent(out, o->standing[at]);
    table_put(out, "\r\n");
}

gradin_status gradin_outlook_points_csv(gradin_arena *arena, const gradin_outlook *outlook,
                                        gradin_csv_units units, char **text, size_t *size,
                                        gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        outlook_complete(outlook, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out,
                      "point,x_m,y_m,z_m,from_wall_m,seats_seen,seats_partly,seats_hidden,focus,"
                      "seen_pct,standing_pct\r\n");
    for (int p = 0; p < outlook->n_point; p++)
        for (int a = 0; a < outlook->n_area; a++) put_point(&out, outlook, p, a);
    return finish(&out, text, size, error);
}

gradin_status gradin_outlook_seats_csv(gradin_arena *arena, const gradin_outlook *outlook,
                                       char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        outlook_complete(outlook, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put_columns(&out, "seat,open_glass_pct,glass_ahead_pct,points_that_see_it\r\n");
    for (int i = 0; i < outlook->n_seat; i++) {
        table_put_quoted(&out, outlook->model->seats.id[i]);
        put_percent(&out, outlook->open_glass[i]);
        put_percent(&out, outlook->glass_ahead[i]);
        table_print(&out, ",%d\r\n", outlook->n_seen_from[i]);
    }
    return finish(&out, text, size, error);
}

static void put_seen(table_text *out, const gradin_outlook *o, int seat, int point) {
    size_t at = (size_t)point * (size_t)o->n_seat + (size_t)seat;
    if (o->seen[at] == GRADIN_SEEN_HIDDEN) return;
    table_put_quoted(out, o->model->seats.id[seat]);
    table_put(out, ",");
    table_put_quoted(out, o->outside->point[point].name);
    table_print(out, ",%s", gradin_seen_name(o->seen[at]));
    put_percent(out, o->head[at]);
    put_percent(out, o->outline[at]);
    table_put(out, ",");
    table_put_number(out, TABLE_DEGREE, o->turn_deg[at]);
    put_metres(
        out, gradin_norm(gradin_sub(o->outside->point[point].eye_m, o->model->seats.eye_m[seat])));
    table_put(out, "\r\n");
}

gradin_status gradin_outlook_seen_csv(gradin_arena *arena, const gradin_outlook *outlook,
                                      gradin_csv_units units, char **text, size_t *size,
                                      gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        outlook_complete(outlook, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out, "seat,point,seen,head_pct,head_and_shoulders_pct,turned_away_deg,"
                            "distance_m\r\n");
    for (int i = 0; i < outlook->n_seat; i++)
        for (int p = 0; p < outlook->n_point; p++) put_seen(&out, outlook, i, p);
    return finish(&out, text, size, error);
}
