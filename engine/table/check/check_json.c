/* What is wrong with each of some files, as JSON. */
#include "base/use.h"
#include "gradin/table.h"

#include "table/shared/report.h"

static void put_place(table_json *json, json_t *object, const char *key, int value) {
    if (value > 0)
        table_json_integer(json, object, key, value);
    else
        table_json_null(json, object, key);
}

static void put_diagnostic(table_json *json, json_t *array, const gradin_diagnostic *d) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "file", d->file[0] != '\0' ? d->file : NULL);
    put_place(json, object, "line", d->line);
    put_place(json, object, "column", d->column);
    table_json_text(json, object, "key", d->key[0] != '\0' ? d->key : NULL);
    table_json_text(json, object, "text", d->text);
}

static void put_file(table_json *json, json_t *array, const gradin_checked_file *file) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "file", file->path);
    table_json_text(json, object, "kind", file->status == GRADIN_OK ? file->kind : NULL);
    table_json_boolean(json, object, "ok", file->status == GRADIN_OK);
    json_t *errors = table_json_array(json, object, "errors");
    json_t *notes = table_json_array(json, object, "notes");
    for (int i = 0; i < file->error.n_diagnostic; i++) {
        const gradin_diagnostic *d = &file->error.diagnostic[i];
        if (d->family == GRADIN_OK)
            table_json_append_text(json, notes, d->text);
        else
            put_diagnostic(json, errors, d);
    }
    table_json_integer(json, object, "errors_left_out", file->error.n_dropped);
}

gradin_status gradin_check_json(gradin_arena *arena, const gradin_checked_file *file, int n_file,
                                char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        (n_file > 0 && NEEDS(error, file) != GRADIN_OK))
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-check-1", NULL);
    json_t *files = table_json_array(&json, json.root, "files");
    for (int i = 0; i < n_file; i++) put_file(&json, files, &file[i]);
    return table_json_end(arena, &json, text, size, error);
}
