/* The rough checks as text, a page wide, and as JSON. */
#include "table/fit/fit.h"
#include "base/lengths.h"
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

enum { N_CAUTION = 6 };

static const char *const caution[N_CAUTION] = {
    "Rough checks against the venue's own stated rules; they approve and replace nothing.",
    ("Edges of towers are the maker's and not looked at. A slab or a set piece counts where people "
     "could stand on it."),
    "Every edge of a raised lift and of a flown tower is an edge in every layout.",
    ("Heights and infill of guards, egress, loads: the local code, the authority and a licensed "
     "professional decide. A rail lower than the venue's stated minimum is never an answer."),
    ("Routes are lines over the plan of this layout, for a person who walks and sees: no crowd, no "
     "smoke, no doors that stick."),
    ("Loads only add up what is stated, spread evenly and at rest: a licensed engineer and the "
     "makers of the machines decide what a floor, a lift or a tower may bear."),
};

static void put_length(table_text *out, const gradin_fit *fit, double length_m, int columns) {
    char text[LENGTH_CHARS];
    length_number(text, length_m, length_unit_of(fit->model->units));
    table_print(out, "%*s", columns, text[0] ? text : "stair");
}

static void put_edge(table_text *out, const gradin_fit *fit, const gradin_open_edge *e) {
    table_put(out, "  ");
    table_put_fitted(out, e->where, 18, true);
    put_length(out, fit, e->from_m.x, 8);
    put_length(out, fit, e->from_m.y, 8);
    put_length(out, fit, e->to_m.x, 9);
    put_length(out, fit, e->to_m.y, 8);
    put_length(out, fit, e->low_m, 8);
    put_length(out, fit, e->high_m, 7);
    put_length(out, fit, e->drop_m, 7);
    table_put(out, "\n");
}

static void put_edge_list(table_text *out, const gradin_fit *fit, bool of_stage) {
    int n = of_stage ? fit->n_stage_edge : fit->n_edge - fit->n_stage_edge;
    if (n > 0)
        table_print(out, "  %-18s%8s%8s%9s%8s%8s%7s%7s  (%s)\n", "at", "from x", "y", "to x", "y",
                    "low", "high", "drop", fit->model->units);
    for (int i = 0; i < fit->n_edge; i++)
        if (fit->edge[i].is_stage == of_stage) put_edge(out, fit, &fit->edge[i]);
}

static void put_edges(table_text *out, const gradin_fit *fit) {
    double drop_m = fit->model->machinery->rules.guard_drop_m;
    if (isnan(drop_m)) {
        table_put(out, "\nOpen edges: the venue states no guard_drop\n");
        return;
    }
    table_put(out, "\nOpen edges, drop over ");
    put_length(out, fit, drop_m, 0);
    table_print(out, " %s and no rail beside them: %d\n", fit->model->units,
                fit->n_edge - fit->n_stage_edge);
    put_edge_list(out, fit, false);
    if (fit->n_stage_edge == 0) return;
    table_print(out, "Edges of the stage, where nobody rails off what is looked at: %d\n",
                fit->n_stage_edge);
    put_edge_list(out, fit, true);
}

static void put_rows(table_text *out, const gradin_fit *fit) {
    const gradin_local_rules *rules = &fit->model->machinery->rules;
    if (rules->row_one_aisle == 0 || rules->row_two_aisles == 0) {
        table_put(out,
                  "\nRows: the venue states no row_seats_one_aisle and row_seats_two_aisles\n");
        return;
    }
    table_print(out, "\nRows: %d of %d runs are longer than the rules allow", fit->n_long_row,
                fit->n_row);
    table_print(out, " (%d with an aisle at one end, %d at both)\n", rules->row_one_aisle,
                rules->row_two_aisles);
    for (int i = 0; i < fit->n_long_row; i++) {
        const gradin_row_run *run = &fit->long_row[i];
        table_print(out, "  %s to %s: %d seats, aisle at %d end%s, at most %d\n", run->first_seat,
                    run->last_seat, run->n_seat, run->n_aisle, run->n_aisle == 1 ? "" : "s",
                    run->most);
    }
    if (fit->n_box_row > 0)
        table_print(out, "  %d rows of boxes and other small blocks are not looked at\n",
                    fit->n_box_row);
}

static void put_tight_row(table_text *out, const gradin_fit *fit, const gradin_tight_row *row) {
    const gradin_local_rules *rules = &fit->model->machinery->rules;
    const char *unit = fit->model->units;
    table_put(out, "  ");
    table_put_fitted(out, row->block, 24, false);
    if (row->row_label) {
        table_put(out, " row ");
        table_put_fitted(out, row->row_label, 24, false);
        table_put(out, ": ");
    } else
        table_print(out, " row %d: ", row->row);
    if (row->is_depth) {
        put_length(out, fit, row->depth_m, 0);
        table_print(out, " %s from row to row, at least ", unit);
        put_length(out, fit, rules->row_depth_m, 0);
        table_print(out, " %s%s", unit, row->is_clearway ? "; " : "");
    }
    if (row->is_clearway) {
        put_length(out, fit, row->clearway_m, 0);
        table_print(out, " %s clear, at least ", unit);
        put_length(out, fit, rules->clearway_m, 0);
        table_print(out, " %s", unit);
    }
    table_put(out, "\n");
}

static void put_spacing(table_text *out, const gradin_fit *fit) {
    const gradin_local_rules *rules = &fit->model->machinery->rules;
    if (!(rules->row_depth_m > 0.0) && !(rules->clearway_m > 0.0)) {
        table_put(out, "Row spacing: the venue states no row_depth_min and no clearway_min\n");
        return;
    }
    table_print(out, "Row spacing: %d block%s too close, the closest row of each:%s\n",
                fit->n_tight_row, fit->n_tight_row == 1 ? " is" : "s are",
                fit->n_tight_row == 0 ? " none" : "");
    for (int i = 0; i < fit->n_tight_row; i++) put_tight_row(out, fit, &fit->tight_row[i]);
    if (fit->n_no_seat_depth > 0)
        table_print(out, "  clearway not looked at where a block states no seat_depth: %d\n",
                    fit->n_no_seat_depth);
}

static void put_wheelchairs(table_text *out, const gradin_fit *fit) {
    const gradin_seats *s = &fit->model->seats;
    table_print(out, "\nPlaces for wheelchairs: %d of %d places", s->n_wheelchair, s->n_seat);
    if (fit->wheelchairs_needed < 0)
        table_put(out, "; the venue states no table of wheelchairs\n");
    else
        table_print(out, "; the venue's table needs %d\n", fit->wheelchairs_needed);
    table_print(out, "Companion seats: %d", s->n_companion);
    if (fit->companions_needed < 0)
        table_put(out, "; the venue states no companions_per_wheelchair\n");
    else
        table_print(out, "; the venue's rule needs %d\n", fit->companions_needed);
}

/* Both sides of the arch; one that is cut off needs exits of its own. */
static void put_sides(table_text *out, const gradin_fit *fit) {
    const gradin_divide *divide = fit->model->divide;
    for (int k = 0; k < fit->n_side; k++) {
        const gradin_exit_side *side = &fit->side[k];
        table_print(out, "  %s of %s: %d free, ", side->name, divide->name, side->n_free);
        put_length(out, fit, side->exit_m, 0);
        table_print(out, " %s; %d places", fit->model->units, side->n_place);
        if (!isnan(side->needed_m)) {
            table_put(out, " need ");
            put_length(out, fit, side->needed_m, 0);
            table_print(out, " %s", fit->model->units);
        }
        table_put(out, "\n");
    }
    if (fit->n_side > 0 && fit->is_cut)
        table_print(out, "  %s is down: each side needs its own exits\n", divide->closing_name);
}

static void put_narrowed(table_text *out, const gradin_fit *fit) {
    for (int i = 0; i < fit->n_exit_narrowed; i++) {
        const gradin_blocked *door = &fit->narrowed[i];
        table_print(out, "  narrowed, %s: ", door->name);
        put_length(out, fit, door->clear_m, 0);
        table_put(out, " of ");
        put_length(out, fit, door->width_m, 0);
        table_print(out, " %s count, %s\n", fit->model->units, door->reason);
    }
}

static void put_ways(table_text *out, const gradin_fit *fit) {
    int n = fit->model->seats.n_seat - fit->n_on_deck;
    if (fit->n_exit == 0) {
        table_put(out, "Ways out: the venue states no exit\n");
        return;
    }
    table_print(out, "Ways out: %d of %d places have no way over the floor to a free exit",
                fit->n_cut_off, n);
    if (fit->n_cut_off > 0) table_print(out, ", the first %s", fit->first_cut_off);
    table_put(out, "\n");
    if (fit->n_on_deck > 0)
        table_print(out,
                    "  %d places on towers and decks are not looked at: their stairs are not "
                    "stated\n",
                    fit->n_on_deck);
}

static void put_exits(table_text *out, const gradin_fit *fit) {
    table_print(out, "\nExits: %d of %d doors%s are free, clear width ",
                fit->n_exit - fit->n_exit_blocked, fit->n_exit,
                fit->n_exit_vom > 0 ? " and ways under the floor" : "");
    put_length(out, fit, fit->exit_m, 0);
    if (isnan(fit->exit_needed_m)) {
        table_print(out, " %s; the venue states no exit_mm_person\n", fit->model->units);
    } else {
        table_print(out, " %s; %d places need ", fit->model->units, fit->model->seats.n_seat);
        put_length(out, fit, fit->exit_needed_m, 0);
        table_print(out, " %s\n", fit->model->units);
    }
    for (int i = 0; i < fit->n_exit_blocked; i++)
        table_print(out, "  not counted, %s: %s\n", fit->exit[i].name, fit->exit[i].reason);
    put_narrowed(out, fit);
    put_sides(out, fit);
    put_ways(out, fit);
    table_put_routes(out, fit);
    table_print(out, "Vomitories: %d of %d open ones are free\n", fit->n_vom - fit->n_vom_blocked,
                fit->n_vom);
    for (int i = 0; i < fit->n_vom_blocked; i++)
        table_print(out, "  %s is not free: %s\n", fit->vom[i].name, fit->vom[i].reason);
}

gradin_status gradin_fit_text(gradin_arena *arena, const gradin_fit *fit, char **text,
                              gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || fit_complete(fit, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "Rough checks of ");
    table_put_fitted(&out, fit->model->layout_name, 40, false);
    table_put(&out, ", ");
    table_put_fitted(&out, fit->model->venue_name, 40, false);
    table_put(&out, "\n");
    put_edges(&out, fit);
    put_rows(&out, fit);
    put_spacing(&out, fit);
    put_wheelchairs(&out, fit);
    table_put_slopes(&out, fit);
    put_exits(&out, fit);
    table_put_loads(&out, fit);
    table_put(&out, "\n");
    for (int i = 0; i < N_CAUTION; i++) table_print(&out, "%s\n", caution[i]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the checks");
    *text = out.bytes;
    return GRADIN_OK;
}

static void json_edge(table_json *json, json_t *array, const gradin_open_edge *e) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "at", e->where);
    table_json_number(json, object, "from_x_m", TABLE_METRE, e->from_m.x);
    table_json_number(json, object, "from_y_m", TABLE_METRE, e->from_m.y);
    table_json_number(json, object, "to_x_m", TABLE_METRE, e->to_m.x);
    table_json_number(json, object, "to_y_m", TABLE_METRE, e->to_m.y);
    table_json_number(json, object, "low_m", TABLE_METRE, e->low_m);
    table_json_number(json, object, "high_m", TABLE_METRE, e->high_m);
    table_json_number(json, object, "drop_m", TABLE_METRE, e->drop_m);
    table_json_text(json, object, "of", gradin_edge_name(e->of));
    table_json_number(json, object, "length_m", TABLE_METRE, e->length_m);
}

static void json_row(table_json *json, json_t *array, const gradin_row_run *run) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "first_seat", run->first_seat);
    table_json_text(json, object, "last_seat", run->last_seat);
    table_json_integer(json, object, "seats", run->n_seat);
    table_json_integer(json, object, "aisles", run->n_aisle);
    table_json_integer(json, object, "most", run->most);
}

static void json_count(table_json *json, const char *key, int value) {
    if (value < 0)
        table_json_null(json, json->root, key);
    else
        table_json_integer(json, json->root, key, value);
}

static void json_spacing(table_json *json, const gradin_fit *fit) {
    json_t *array = table_json_array(json, json->root, "tight_rows");
    for (int i = 0; i < fit->n_tight_row; i++) {
        const gradin_tight_row *row = &fit->tight_row[i];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "block", row->block);
        table_json_integer(json, object, "row", row->row);
        if (row->row_label) table_json_text(json, object, "row_label", row->row_label);
        table_json_number(json, object, "row_depth_m", TABLE_METRE, row->depth_m);
        table_json_number(json, object, "clearway_m", TABLE_METRE, row->clearway_m);
    }
    table_json_integer(json, json->root, "blocks_without_seat_depth", fit->n_no_seat_depth);
    table_json_integer(json, json->root, "wheelchairs", fit->model->seats.n_wheelchair);
    json_count(json, "wheelchairs_needed", fit->wheelchairs_needed);
    table_json_integer(json, json->root, "companions", fit->model->seats.n_companion);
    json_count(json, "companions_needed", fit->companions_needed);
    table_json_slopes(json, fit);
}

static void json_side(table_json *json, json_t *array, const gradin_exit_side *side) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "side", side->name);
    table_json_integer(json, object, "free_exits", side->n_free);
    table_json_integer(json, object, "places", side->n_place);
    table_json_number(json, object, "exit_width_m", TABLE_METRE, side->exit_m);
    table_json_number(json, object, "exit_width_needed_m", TABLE_METRE, side->needed_m);
}

static void json_blocked(table_json *json, const char *key, const gradin_blocked *item, int n) {
    json_t *array = table_json_array(json, json->root, key);
    for (int i = 0; i < n; i++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", item[i].name);
        table_json_text(json, object, "reason", item[i].reason);
    }
}

static void json_narrowed(table_json *json, const gradin_fit *fit) {
    json_t *array = table_json_array(json, json->root, "narrowed_exits");
    for (int i = 0; i < fit->n_exit_narrowed; i++) {
        const gradin_blocked *door = &fit->narrowed[i];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", door->name);
        table_json_text(json, object, "reason", door->reason);
        table_json_number(json, object, "clear_width_m", TABLE_METRE, door->clear_m);
        table_json_number(json, object, "width_m", TABLE_METRE, door->width_m);
    }
}

static void json_all(table_json *json, const gradin_fit *fit) {
    table_json_text(json, json->root, "format", "gradin-fit-1");
    table_json_text(json, json->root, "layout", fit->model->layout_name);
    table_json_text(json, json->root, "digest", fit->model->digest);
    table_json_boolean(json, json->root, "rules_met", fit->is_met);
    json_t *edges = table_json_array(json, json->root, "open_edges");
    json_t *stage = table_json_array(json, json->root, "stage_edges");
    for (int i = 0; i < fit->n_edge; i++)
        json_edge(json, fit->edge[i].is_stage ? stage : edges, &fit->edge[i]);
    table_json_integer(json, json->root, "rows", fit->n_row);
    json_t *rows = table_json_array(json, json->root, "long_rows");
    for (int i = 0; i < fit->n_long_row; i++) json_row(json, rows, &fit->long_row[i]);
    table_json_integer(json, json->root, "box_rows", fit->n_box_row);
    json_spacing(json, fit);
    table_json_number(json, json->root, "exit_width_m", TABLE_METRE, fit->exit_m);
    table_json_number(json, json->root, "exit_width_needed_m", TABLE_METRE, fit->exit_needed_m);
    json_t *sides = table_json_array(json, json->root, "arch_sides");
    for (int k = 0; k < fit->n_side; k++) json_side(json, sides, &fit->side[k]);
    table_json_boolean(json, json->root, "arch_closed", fit->is_cut);
    json_blocked(json, "blocked_exits", fit->exit, fit->n_exit_blocked);
    json_narrowed(json, fit);
    table_json_integer(json, json->root, "places_cut_off", fit->n_cut_off);
    table_json_text(json, json->root, "first_cut_off", fit->first_cut_off);
    table_json_integer(json, json->root, "places_on_decks", fit->n_on_deck);
    table_json_routes(json, fit);
    json_blocked(json, "blocked_vomitories", fit->vom, fit->n_vom_blocked);
    table_json_loads(json, fit);
    json_t *cautions = table_json_array(json, json->root, "cautions");
    for (int i = 0; i < N_CAUTION; i++) table_json_append_text(json, cautions, caution[i]);
}

gradin_status gradin_fit_json(gradin_arena *arena, const gradin_fit *fit, char **text, size_t *size,
                              gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || fit_complete(fit, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = {.root = json_object()};
    json_all(&json, fit);
    *text = json.failed ? NULL : table_json_dump(arena, json.root, size);
    json_decref(json.root);
    if (!*text) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the checks");
    return GRADIN_OK;
}
