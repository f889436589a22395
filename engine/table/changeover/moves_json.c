/* A changeover as JSON, keys in a fixed order. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/shared/date.h"
#include "table/shared/json.h"

static void put_layout(table_json *json, const char *key, const gradin_model *m) {
    json_t *object = table_json_object(json, json->root, key);
    table_json_text(json, object, "layout", m->layout_name);
    table_json_text(json, object, "digest", m->digest);
    table_json_integer(json, object, "seats", m->seats.n_seat);
}

static void put_totals(table_json *json, const gradin_changeover *c) {
    json_t *root = json->root;
    table_json_integer(json, root, "total_s", c->total_s);
    table_json_integer(json, root, "work_s", c->work_s);
    table_json_integer(json, root, "lower_bound_s", c->lower_bound_s);
    table_json_boolean(json, root, "proven_least", c->work_s == c->lower_bound_s);
    table_json_integer(json, root, "longest_chain_s", c->longest_chain_s);
    table_json_integer(json, root, "crew", c->crew);
    table_json_integer(json, root, "crew_peak", c->crew_peak);
    table_json_integer(json, root, "gangs", c->n_gang);
    table_json_integer(json, root, "gang_size", c->gang_size);
    table_json_number(json, root, "person_hours", TABLE_SECOND, c->person_hours);
    table_json_number(json, root, "power_kw", TABLE_PERCENT, c->power_kw);
    table_json_number(json, root, "power_peak_kw", TABLE_PERCENT, c->power_peak_kw);
    table_json_integer(json, root, "store_trip_s", c->trip_s);
    table_json_integer(json, root, "seats_struck", c->n_struck);
    table_json_integer(json, root, "seats_set", c->n_set);
    table_json_integer(json, root, "seats_kept", c->n_kept);
    table_json_integer(json, root, "scenery_out", c->n_piece_out);
    table_json_integer(json, root, "scenery_in", c->n_piece_in);
    table_json_integer(json, root, "scenery_kept", c->n_piece_kept);
    table_json_integer(json, root, "stands_out", c->n_stand_out);
    table_json_integer(json, root, "stands_in", c->n_stand_in);
    if (c->gap_s <= 0) return;
    table_json_integer(json, root, "gap_s", c->gap_s);
    table_json_boolean(json, root, "fits_gap", c->total_s <= c->gap_s);
    table_json_integer(json, root, "margin_s", c->margin_s);
    table_json_boolean(json, root, "keeps_margin", c->total_s <= c->gap_s - c->margin_s);
    table_json_boolean(json, root, "keeps_gap", c->keeps_gap);
}

/* A time of day with its date; null where the start is not known. */
static void put_time(table_json *json, json_t *object, const char *key, const gradin_changeover *c,
                     int at_s) {
    char text[TABLE_DATE_CHARS];
    if (c->has_start)
        table_json_text(json, object, key, table_stamp(text, c->start_s + at_s));
    else
        table_json_null(json, object, key);
}

static void put_stops(table_json *json, const gradin_changeover *c) {
    json_t *stops = table_json_array(json, json->root, "stops");
    for (int i = 0; i < c->n_stop; i++) {
        json_t *object = table_json_append_object(json, stops);
        table_json_text(json, object, "name", c->stop[i].name);
        table_json_integer(json, object, "from_s", c->stop[i].from_s);
        table_json_integer(json, object, "to_s", c->stop[i].to_s);
        table_json_boolean(json, object, "break", c->stop[i].is_rest);
        table_json_boolean(json, object, "paid", c->stop[i].is_paid);
    }
}

static void put_late(table_json *json, const gradin_changeover *c) {
    const gradin_late *late = &c->late;
    if (late->n_draw == 0) {
        table_json_null(json, json->root, "contingency");
        return;
    }
    json_t *object = table_json_object(json, json->root, "contingency");
    table_json_integer(json, object, "draws", late->n_draw);
    table_json_number(json, object, "mean_s", TABLE_PERCENT, late->mean_s);
    table_json_number(json, object, "deviation_s", TABLE_PERCENT, late->deviation_s);
    table_json_integer(json, object, "within_50_s", late->within_50_s);
    table_json_integer(json, object, "within_80_s", late->within_80_s);
    table_json_integer(json, object, "within_95_s", late->within_95_s);
    table_json_number(json, object, "as_planned_pct", TABLE_PERCENT, 100.0 * late->as_planned);
    if (c->gap_s <= 0) return;
    table_json_number(json, object, "in_gap_pct", TABLE_PERCENT, 100.0 * late->in_gap);
    table_json_number(json, object, "in_margin_pct", TABLE_PERCENT, 100.0 * late->in_margin);
}

static void put_cost(table_json *json, const gradin_cost *cost) {
    if (!cost->is_known) {
        table_json_null(json, json->root, "cost");
        return;
    }
    json_t *object = table_json_object(json, json->root, "cost");
    table_json_number(json, object, "sum", TABLE_PERCENT, cost->sum);
    table_json_text(json, object, "currency", cost->currency);
    table_json_integer(json, object, "people", cost->people);
    table_json_number(json, object, "day_hours", TABLE_SECOND, cost->day_hours);
    table_json_number(json, object, "night_hours", TABLE_SECOND, cost->night_hours);
    table_json_number(json, object, "overtime_hours", TABLE_SECOND, cost->overtime_hours);
}

static void put_again(table_json *json, const gradin_changeover *c) {
    if (c->from_move == 0) {
        table_json_null(json, json->root, "again");
        return;
    }
    json_t *object = table_json_object(json, json->root, "again");
    table_json_integer(json, object, "from_move", c->from_move);
    table_json_integer(json, object, "at_s", c->at_s);
}

static void put_trip(table_json *json, json_t *object, const char *key, int trip) {
    if (trip < 0)
        table_json_null(json, object, key);
    else
        table_json_integer(json, object, key, trip + 1);
}

static void put_links(table_json *json, const gradin_changeover *c) {
    json_t *links = table_json_array(json, json->root, "links");
    for (int i = 0; i < c->n_link; i++) {
        json_t *object = table_json_append_object(json, links);
        table_json_integer(json, object, "first", c->link[i].first + 1);
        put_trip(json, object, "first_trip", c->link[i].first_trip);
        table_json_integer(json, object, "then", c->link[i].then + 1);
        put_trip(json, object, "then_trip", c->link[i].then_trip);
    }
}

static void put_move(table_json *json, json_t *array, const gradin_changeover *c,
                     const gradin_move *m) {
    json_t *object = table_json_append_object(json, array);
    table_json_integer(json, object, "start_s", m->start_s);
    table_json_integer(json, object, "end_s", m->end_s);
    put_time(json, object, "start", c, m->start_s);
    put_time(json, object, "end", c, m->end_s);
    table_json_text(json, object, "state", table_move_state(m->state));
    table_json_integer(json, object, "duration_s", m->duration_s);
    table_json_text(json, object, "kind", table_move_kind(m->kind));
    table_json_text(json, object, "lane", m->lane);
    table_json_text(json, object, "name", m->name);
    table_json_text(json, object, "task", m->task);
    table_json_text(json, object, "block", m->block);
    if (m->block)
        table_json_integer(json, object, "seats", m->n_seat);
    else
        table_json_null(json, object, "seats");
    table_json_integer(json, object, "crew", m->crew);
    table_json_text(json, object, "gang", m->gang);
    table_json_text(json, object, "people", m->people);
    table_json_number(json, object, "power_kw", TABLE_PERCENT, m->power_kw);
    table_json_boolean(json, object, "people_near", m->are_people_near);
    table_json_boolean(json, object, "critical", m->is_critical);
    table_json_boolean(json, object, "near_critical", m->is_near);
    table_json_integer(json, object, "float_s", m->float_s);
    table_json_text(json, object, "starts", table_move_cause(m->cause));
    if (m->waits_for >= 0)
        table_json_integer(json, object, "waits_for", m->waits_for + 1);
    else
        table_json_null(json, object, "waits_for");
    table_json_text(json, object, "rule", m->rule);
    json_t *trips = table_json_array(json, object, "store_trips_s");
    for (int i = 0; i < m->n_trip; i++) table_json_append_integer(json, trips, m->trip_start_s[i]);
    json_t *people = table_json_array(json, object, "store_people");
    for (int i = 0; i < m->n_trip && m->trip_people; i++)
        table_json_append_text(json, people, m->trip_people[i]);
}

gradin_status gradin_changeover_json(gradin_arena *arena, const gradin_changeover *changeover,
                                     char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        changeover_complete(changeover, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = {.root = json_object()};
    table_json_text(&json, json.root, "format", "gradin-changeover-1");
    table_json_text(&json, json.root, "version", GRADIN_VERSION);
    table_json_text(&json, json.root, "venue", changeover->from->venue_name);
    put_layout(&json, "from", changeover->from);
    put_layout(&json, "to", changeover->to);
    put_time(&json, json.root, "start", changeover, 0);
    put_time(&json, json.root, "end", changeover, changeover->total_s);
    put_totals(&json, changeover);
    put_again(&json, changeover);
    put_stops(&json, changeover);
    put_late(&json, changeover);
    put_cost(&json, &changeover->cost);
    put_links(&json, changeover);
    json_t *moves = table_json_array(&json, json.root, "moves");
    for (int i = 0; i < changeover->n_move; i++)
        put_move(&json, moves, changeover, &changeover->move[i]);
    json_t *cautions = table_json_array(&json, json.root, "cautions");
    for (int k = 0; k < TABLE_N_MOVE_CAUTION; k++)
        table_json_append_text(&json, cautions, table_move_caution[k]);
    *text = json.failed ? NULL : table_json_dump(arena, json.root, size);
    json_decref(json.root);
    if (!*text)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the move list");
    return GRADIN_OK;
}
