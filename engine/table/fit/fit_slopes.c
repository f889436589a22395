/* The floor under places for wheelchairs, where the venue has one that slopes. */
#include "table/fit/fit.h"

static void put_slope(table_text *out, double slope) {
    table_print(out, "1:%.1f", 1.0 / slope); /* never of a level floor */
}

void table_put_slopes(table_text *out, const gradin_fit *fit) {
    double most = fit->model->machinery->rules.wheelchair_place_slope;
    if (fit->model->n_floor == 0 || fit->model->seats.n_wheelchair == 0) return;
    table_put(out, "Floor under places for wheelchairs: ");
    if (!fit->steepest_place) {
        table_put(out, "level under all\n");
        return;
    }
    table_put(out, "steepest ");
    put_slope(out, fit->steepest);
    table_print(out, ", at %s", fit->steepest_place);
    if (!(most > 0.0)) {
        table_put(out, "; the venue states no wheelchair_place_slope_max\n");
        return;
    }
    table_put(out, "; at most ");
    put_slope(out, most);
    table_print(out, ", %d %s steeper\n", fit->n_steep, fit->n_steep == 1 ? "is" : "are");
}

/* Null without places for wheelchairs, and where the venue states no rule to count by. */
void table_json_slopes(table_json *json, const gradin_fit *fit) {
    bool has_place = fit->model->seats.n_wheelchair > 0;
    bool has_rule = fit->model->machinery->rules.wheelchair_place_slope > 0.0;
    table_json_number(json, json->root, "steepest_wheelchair_place_pct", TABLE_PERCENT,
                      has_place ? 100.0 * fit->steepest : NAN);
    if (has_rule)
        table_json_integer(json, json->root, "steep_wheelchair_places", fit->n_steep);
    else
        table_json_null(json, json->root, "steep_wheelchair_places");
}
