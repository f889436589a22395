/* The hours between each two layouts as JSON. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/shared/report.h"

static void put_pair(table_json *json, json_t *array, const gradin_changeover *c) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "from", c->from->layout_name);
    table_json_text(json, object, "to", c->to->layout_name);
    table_json_integer(json, object, "moves", c->n_move);
    table_json_integer(json, object, "total_s", c->total_s);
    table_json_integer(json, object, "lower_bound_s", c->lower_bound_s);
    table_json_boolean(json, object, "proven_least", c->work_s == c->lower_bound_s);
}

gradin_status gradin_matrix_json(gradin_arena *arena, const gradin_changeover *changeover, int n,
                                 char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, changeover, text, size) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n < 1) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a matrix of no layouts");
    for (int i = 0; i < n * n; i++)
        if (changeover_complete(&changeover[i], error) != GRADIN_OK) return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-changeover-matrix-1", NULL);
    table_json_text(&json, json.root, "venue", changeover[0].from->venue_name);
    json_t *pairs = table_json_array(&json, json.root, "pairs");
    for (int i = 0; i < n * n; i++)
        if (i / n != i % n) put_pair(&json, pairs, &changeover[i]);
    table_json_cautions(&json, table_move_caution, 0, TABLE_N_MOVE_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
