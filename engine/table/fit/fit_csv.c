/* Routes and open edges as tables, RFC 4180. Every line carries the caution, for a line may travel
 * alone. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/fit/fit.h"

static const char caution[] =
    "a rough check approves nothing: the local code and a licensed professional decide";

static void put_cell(table_text *out, double length_m) {
    table_put(out, ",");
    table_put_number(out, TABLE_METRE, length_m);
}

static void put_name(table_text *out, const char *name) {
    table_put(out, ",");
    if (name) table_put_quoted(out, name);
}

static const char *verdict(const gradin_route *route, const gradin_local_rules *rules) {
    double least_m = route->is_wheelchair ? rules->wheelchair_way_m : rules->way_width_m;
    if (route->state == GRADIN_WAY_NOT_LOOKED) return "not looked at";
    if (route->state == GRADIN_WAY_NONE) return "not met: no way";
    if (route->is_long) return route->is_narrow ? "too long and too narrow" : "too long";
    if (route->is_narrow) return "too narrow";
    return least_m > 0.0 && rules->travel_m > 0.0 ? "met" : "not all stated";
}

static void put_route(table_text *out, const gradin_fit *fit, const gradin_route *r) {
    bool is_out = r->state == GRADIN_WAY_OUT;
    table_put(out, r->is_wheelchair ? "wheelchair" : "row");
    put_name(out, r->first_seat);
    put_name(out, r->last_seat);
    table_print(out, ",%d", r->n_place);
    put_name(out, is_out ? r->from_seat : NULL);
    put_name(out, is_out ? r->exit : NULL);
    put_cell(out, is_out ? r->length_m : NAN);
    put_cell(out, is_out ? r->in_row_m : NAN);
    put_cell(out, is_out ? r->width_m : NAN);
    put_cell(out, is_out ? r->narrowest_m.x : NAN);
    put_cell(out, is_out ? r->narrowest_m.y : NAN);
    table_print(out, ",%s,%s", is_out ? r->is_over_focus ? "yes" : "no" : "",
                verdict(r, &fit->model->machinery->rules));
    put_name(out, caution);
    table_put(out, "\r\n");
}

static gradin_status finish(table_text *out, char **text, size_t *size, gradin_error *error) {
    if (out->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a table");
    *text = out->bytes;
    *size = out->size;
    return GRADIN_OK;
}

gradin_status gradin_routes_csv(gradin_arena *arena, const gradin_fit *fit, gradin_csv_units units,
                                char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || fit_complete(fit, error) != GRADIN_OK ||
        NEEDS(error, fit->routes) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out,
                      "of,first_seat,last_seat,places,from_seat,exit,length_m,in_row_m,width_m,"
                      "narrowest_x_m,narrowest_y_m,over_focus,rules,caution\r\n");
    for (int i = 0; i < fit->routes->n_route; i++) put_route(&out, fit, &fit->routes->route[i]);
    return finish(&out, text, size, error);
}

static void put_edge(table_text *out, const gradin_open_edge *e) {
    table_print(out, "%s", gradin_edge_name(e->of));
    put_name(out, e->where);
    put_cell(out, e->from_m.x);
    put_cell(out, e->from_m.y);
    put_cell(out, e->to_m.x);
    put_cell(out, e->to_m.y);
    put_cell(out, e->length_m);
    put_cell(out, e->low_m);
    put_cell(out, e->high_m);
    put_cell(out, e->drop_m);
    table_print(out, ",%s", e->is_stage ? "yes" : "no");
    put_name(out, caution);
    table_put(out, "\r\n");
}

gradin_status gradin_edges_csv(gradin_arena *arena, const gradin_fit *fit, gradin_csv_units units,
                               char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || fit_complete(fit, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out,
                      "of,at,from_x_m,from_y_m,to_x_m,to_y_m,length_m,low_m,high_m,drop_m,stage,"
                      "caution\r\n");
    for (int i = 0; i < fit->n_edge; i++) put_edge(&out, &fit->edge[i]);
    return finish(&out, text, size, error);
}
