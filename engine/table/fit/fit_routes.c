/* The routes of the rough checks: as text, as JSON, as a table. */
#include "base/shared/plain.h"
#include "table/fit/fit.h"

#include <stdio.h>

static void put_m(table_text *out, const gradin_fit *fit, double length_m) {
    table_put_length(out, length_m, length_unit_of(fit->model->units));
}

static void put_party(table_text *out, const gradin_route *route) {
    table_print(out, "%s", route->first_seat);
    if (route->last_seat != route->first_seat) table_print(out, " to %s", route->last_seat);
}

/* "; the venue states no KEY" or "; at most 45.00 m". */
static void put_rule(table_text *out, const gradin_fit *fit, const char *bound, double rule_m,
                     const char *key) {
    if (!(rule_m > 0.0)) {
        table_print(out, "; the venue states no %s\n", key);
        return;
    }
    table_print(out, "; %s ", bound);
    put_m(out, fit, rule_m);
    table_put(out, "\n");
}

static void put_way(table_text *out, const gradin_fit *fit, const gradin_route *route) {
    put_party(out, route);
    if (route->state == GRADIN_WAY_NONE) {
        table_put(out, route->is_wheelchair ? ": no such way out\n" : ": no way out\n");
        return;
    }
    table_put(out, ": ");
    put_m(out, fit, route->length_m);
    table_print(out, " to %s, ", route->exit);
    put_m(out, fit, route->width_m);
    table_put(out, " wide\n");
}

/* What does not meet a rule. To have a way out at all is one, whatever is stated. */
static void put_unmet(table_text *out, const gradin_fit *fit, bool are_wheelchairs) {
    const gradin_routes *r = fit->routes;
    for (int i = 0; i < r->n_route; i++) {
        const gradin_route *route = &r->route[i];
        bool is_unmet = route->is_long || route->is_narrow || route->state == GRADIN_WAY_NONE;
        if (route->is_wheelchair != are_wheelchairs || !is_unmet) continue;
        table_put(out, "  not met, ");
        put_way(out, fit, route);
    }
}

static void put_extremes(table_text *out, const gradin_fit *fit, int longest, int narrowest,
                         bool are_wheelchairs) {
    const gradin_local_rules *rules = &fit->model->machinery->rules;
    const gradin_route *route = fit->routes->route;
    if (longest < 0) return;
    table_put(out, "  longest ");
    put_m(out, fit, route[longest].length_m);
    table_print(out, ", from %s to %s", route[longest].from_seat, route[longest].exit);
    put_rule(out, fit, "at most", rules->travel_m, "travel_max");
    table_put(out, "  narrowest ");
    put_m(out, fit, route[narrowest].width_m);
    table_put(out, ", from ");
    put_party(out, &route[narrowest]);
    if (are_wheelchairs)
        put_rule(out, fit, "at least", rules->wheelchair_way_m, "wheelchair_way_min");
    else
        put_rule(out, fit, "at least", rules->way_width_m, "way_width_min");
}

static int count_over_focus(const gradin_routes *r) {
    int n = 0;
    for (int i = 0; i < r->n_route; i++) n += r->route[i].is_over_focus;
    return n;
}

static void put_dead_ends(table_text *out, const gradin_fit *fit) {
    const gradin_routes *r = fit->routes;
    if (r->n_aisle == 0) return;
    table_print(out, "Ends of aisles at which no way leads on: %d, in %d aisle%s", r->n_dead_end,
                r->n_aisle, r->n_aisle == 1 ? "" : "s");
    put_rule(out, fit, "at most", fit->model->machinery->rules.dead_end_m, "dead_end_max");
    for (int i = 0; i < r->n_dead_end; i++) {
        const gradin_dead_end *end = &r->dead_end[i];
        table_print(out, "  %s%s: ", end->is_long ? "not met, " : "", end->aisle);
        if (!end->is_nowhere) put_m(out, fit, end->length_m);
        table_print(out, "%s at %s\n", end->is_nowhere ? "leads nowhere, ends" : ", ends", end->at);
    }
}

/* How steep a floor they go over, where the venue has one that slopes. */
static const char *slope_text(const gradin_fit *fit, char text[64]) {
    double most = fit->routes->wheelchair_slope;
    text[0] = '\0';
    if (fit->model->n_floor > 0)
        plain_print(text, 64, ", on floors no steeper than 1:%.1f", 1.0 / most);
    return text;
}

void table_put_routes(table_text *out, const gradin_fit *fit) {
    const gradin_routes *r = fit->routes;
    char text[64];
    if (!r || fit->n_exit == 0) return;
    table_print(out, "Routes past seats and all else: %d of %d rows have none\n", r->n_row_without,
                r->n_row);
    put_extremes(out, fit, r->longest, r->narrowest, false);
    put_unmet(out, fit, false);
    if (r->n_wheelchair > 0)
        table_print(out, "Routes without steps%s: %d of %d places for wheelchairs have none\n",
                    slope_text(fit, text), r->n_wheelchair_without, r->n_wheelchair);
    put_extremes(out, fit, r->longest_wheelchair, r->narrowest_wheelchair, true);
    put_unmet(out, fit, true);
    int n_over = count_over_focus(r);
    if (n_over > 0)
        table_print(out, "  %d of all these routes cross%s what is looked at\n", n_over,
                    n_over == 1 ? "es" : "");
    put_dead_ends(out, fit);
}

static const char *const state_name[] = {"out", "none", "not looked at"};

static void json_route(table_json *json, json_t *array, const gradin_route *route) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "first_seat", route->first_seat);
    table_json_text(json, object, "last_seat", route->last_seat);
    table_json_integer(json, object, "places", route->n_place);
    table_json_boolean(json, object, "wheelchair", route->is_wheelchair);
    table_json_text(json, object, "way", state_name[route->state]);
    if (route->state != GRADIN_WAY_OUT) return;
    table_json_text(json, object, "from_seat", route->from_seat);
    table_json_text(json, object, "exit", route->exit);
    table_json_number(json, object, "length_m", TABLE_METRE, route->length_m);
    table_json_number(json, object, "in_row_m", TABLE_METRE, route->in_row_m);
    table_json_number(json, object, "width_m", TABLE_METRE, route->width_m);
    table_json_number(json, object, "narrowest_x_m", TABLE_METRE, route->narrowest_m.x);
    table_json_number(json, object, "narrowest_y_m", TABLE_METRE, route->narrowest_m.y);
    table_json_boolean(json, object, "over_focus", route->is_over_focus);
    table_json_boolean(json, object, "too_long", route->is_long);
    table_json_boolean(json, object, "too_narrow", route->is_narrow);
}

static void json_dead_end(table_json *json, json_t *array, const gradin_dead_end *end) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "aisle", end->aisle);
    table_json_text(json, object, "ends_at", end->at);
    table_json_number(json, object, "x_m", TABLE_METRE, end->end_m.x);
    table_json_number(json, object, "y_m", TABLE_METRE, end->end_m.y);
    table_json_number(json, object, "length_m", TABLE_METRE, end->length_m);
    table_json_boolean(json, object, "leads_nowhere", end->is_nowhere);
    table_json_boolean(json, object, "too_long", end->is_long);
}

void table_json_routes(table_json *json, const gradin_fit *fit) {
    const gradin_routes *r = fit->routes;
    if (!r) return;
    json_t *routes = table_json_array(json, json->root, "routes");
    for (int i = 0; i < r->n_route; i++) json_route(json, routes, &r->route[i]);
    json_t *ends = table_json_array(json, json->root, "dead_ends");
    for (int i = 0; i < r->n_dead_end; i++) json_dead_end(json, ends, &r->dead_end[i]);
}
