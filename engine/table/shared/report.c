/* Head and end of a study's JSON. */
#include "table/shared/report.h"

table_json table_json_begin(const char *format, const gradin_model *model) {
    table_json json = {.root = json_object()};
    table_json_text(&json, json.root, "format", format);
    table_json_text(&json, json.root, "version", GRADIN_VERSION);
    if (!model) return json;
    table_json_text(&json, json.root, "venue", model->venue_name);
    table_json_text(&json, json.root, "layout", model->layout_name);
    table_json_text(&json, json.root, "input_digest", model->digest);
    return json;
}

void table_json_cautions(table_json *json, const char *const *caution, int from, int to) {
    json_t *array = table_json_array(json, json->root, "cautions");
    for (int i = from; i < to; i++) table_json_append_text(json, array, caution[i]);
}

gradin_status table_json_end(gradin_arena *arena, table_json *json, char **text, size_t *size,
                             gradin_error *error) {
    *text = json->failed ? NULL : table_json_dump(arena, json->root, size);
    json_decref(json->root);
    return *text ? GRADIN_OK
                 : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the JSON");
}
