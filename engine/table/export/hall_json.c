/* The file that was written, and how many things of each kind the layout has, of which a kind of
 * file need not show all. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/export/things.h"
#include "table/shared/json.h"

#include <string.h>

static void put_layers(table_json *j, const gradin_model *m, const plan_things *list) {
    int n[N_PLAN_LAYER] = {0};
    for (int i = 0; i < list->n; i++) n[list->thing[i].layer]++;
    for (int i = 0, end; i < m->seats.n_seat; i = end, n[LAYER_ROWS]++)
        end = plan_row_end(&m->seats, i);
    n[LAYER_SEATS] = m->seats.n_seat;
    json_t *layers = table_json_object(j, j->root, "parts");
    for (int k = 0; k < LAYER_NAMES; k++)
        table_json_integer(j, layers, plan_layer_name((plan_layer)k), n[k]);
}

gradin_status gradin_hall_json(gradin_arena *arena, const gradin_assessment *assessment,
                               const char *file, char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, file, text, size) != GRADIN_OK ||
        assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_model *m = assessment->model;
    const char *dot = strrchr(file, '.');
    plan_things list = {.arena = arena};
    table_json j = {.root = json_object()};
    plan_things_list(&list, m);
    table_json_text(&j, j.root, "format", "gradin-export-1");
    table_json_text(&j, j.root, "version", GRADIN_VERSION);
    table_json_text(&j, j.root, "venue", m->venue_name);
    table_json_text(&j, j.root, "layout", m->layout_name);
    table_json_text(&j, j.root, "input_digest", m->digest);
    table_json_text(&j, j.root, "file", file);
    table_json_text(&j, j.root, "kind", dot ? dot + 1 : NULL);
    put_layers(&j, m, &list);
    *text = list.failed || j.failed ? NULL : table_json_dump(arena, j.root, size);
    json_decref(j.root);
    if (*text) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL,
                            "no memory for the list of parts, or a name is no UTF-8");
}
