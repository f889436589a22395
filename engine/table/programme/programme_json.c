/* A programme as JSON (reference/programme-schema.json). */
#include "base/use.h"
#include "gradin/studies/programme_write.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/programme/programme.h"
#include "table/shared/report.h"

static void put_time(table_json *json, json_t *parent, const char *key, int64_t time_s) {
    char text[TABLE_DATE_CHARS];
    table_json_text(json, parent, key, table_time(text, time_s, 'T'));
}

static void put_changeover(table_json *json, json_t *parent, const gradin_programme_plan *plan,
                           const gradin_staging *s) {
    if (!table_is_changed(s) || s->no_way) {
        table_json_null(json, parent, "changeover");
        return;
    }
    json_t *object = table_json_object(json, parent, "changeover");
    table_json_text(json, object, "from_layout", table_staged_layout(plan, s->from_layout));
    put_time(json, object, "window_from", s->free_s);
    put_time(json, object, "window_to", s->due_s);
    put_time(json, object, "from", s->begin_s);
    put_time(json, object, "to", s->done_s);
    table_json_number(json, object, "person_hours", TABLE_AREA, s->person_hours);
    table_json_number(json, object, "night_hours", TABLE_AREA, s->night_hours);
    table_json_number(json, object, "cost", TABLE_AREA, s->cost);
    table_json_integer(json, object, "short_s", s->short_s);
}

static void put_show(table_json *json, json_t *array, const gradin_programme_plan *plan, int show,
                     gradin_arena *arena) {
    const gradin_booking *b = &plan->programme->booking[show];
    const gradin_staging *s = &plan->staging[show];
    table_text clash = {.arena = arena};
    json_t *object = table_json_append_object(json, array);
    table_put_clash(&clash, plan, show);
    json->failed |= clash.failed;
    table_json_text(json, object, "name", b->name);
    put_time(json, object, "starts", b->start_s);
    put_time(json, object, "ends", b->end_s);
    table_json_text(json, object, "layout", table_staged_layout(plan, s->layout));
    table_json_text(json, object, "clash", clash.bytes);
    put_changeover(json, object, plan, s);
}

static void put_helps(table_json *json, const gradin_programme_plan *plan) {
    const gradin_free_day *d = &plan->free_day;
    json_t *day = d->before >= 0 ? table_json_object(json, json->root, "free_day") : NULL;
    if (d->before < 0) {
        table_json_null(json, json->root, "free_day");
    } else {
        table_json_text(json, day, "before", plan->programme->booking[d->before].name);
        table_json_number(json, day, "saved_cost", TABLE_AREA, d->saved_cost);
        table_json_integer(json, day, "saved_clashes", d->saved_clashes);
        table_json_number(json, day, "saved_short_s", TABLE_COUNT, d->saved_short_s);
    }
    if (!plan->has_more_crew) {
        table_json_null(json, json->root, "one_person_more");
        return;
    }
    json_t *more = table_json_object(json, json->root, "one_person_more");
    table_json_number(json, more, "cost", TABLE_AREA, plan->more_crew_cost);
    table_json_integer(json, more, "clashes", plan->more_crew_clashes);
}

gradin_status gradin_programme_json(gradin_arena *arena, const gradin_programme_plan *plan,
                                    char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        programme_complete(plan, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-programme-plan-1", NULL);
    table_json_text(&json, json.root, "name", plan->programme->name);
    table_json_text(&json, json.root, "venue", plan->model[0].venue_name);
    table_json_text(&json, json.root, "digest", plan->programme->digest);
    table_json_integer(&json, json.root, "changeovers", plan->n_changeover);
    table_json_integer(&json, json.root, "clashes", plan->n_clash);
    table_json_number(&json, json.root, "person_hours", TABLE_AREA, plan->person_hours);
    table_json_number(&json, json.root, "night_hours", TABLE_AREA, plan->night_hours);
    table_json_number(&json, json.root, "cost", TABLE_AREA, plan->cost);
    put_helps(&json, plan);
    json_t *array = table_json_array(&json, json.root, "shows");
    for (int i = 0; i < plan->programme->n_booking; i++) put_show(&json, array, plan, i, arena);
    table_json_cautions(&json, table_move_caution, 0, TABLE_N_MOVE_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
