/* Single entries of a layout as text, for somebody who edits one. */
#include "base/use.h"
#include "files/write/state.h"
#include "files/write/write.h"

gradin_status gradin_lift_settings_write(gradin_arena *arena, const gradin_lift_setting *setting,
                                         int n_setting, const char *units,
                                         const gradin_write_options *options, char **text,
                                         gradin_error *error) {
    complaints c = {.arena = arena, .error = error};
    stated_terrace terrace;
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        (n_setting > 0 && NEEDS(error, setting) != GRADIN_OK))
        return GRADIN_BAD_USE;
    schema_text out = writer_open(arena, units, options);
    schema_put(&out, "%s", "");
    for (int i = 0; i < n_setting; i++) {
        if (NEEDS(error, setting[i].from, setting[i].to) != GRADIN_OK) return GRADIN_BAD_USE;
        stated_lift s = state_lift(&setting[i], &terrace);
        SCHEMA_WRITE_ITEM(&out, &lift_table, &s, 4);
    }
    return writer_close(&c, &out, text);
}

gradin_status gradin_block_rises_write(gradin_arena *arena, double base_m, const double *rise_m,
                                       int n_row, const char *units,
                                       const gradin_write_options *options, char **text,
                                       gradin_error *error) {
    complaints c = {.arena = arena, .error = error};
    const schema_key length = {.key = "riser", .unit = UNIT_LENGTH};
    if (NEEDS(error, arena, rise_m, text) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n_row < 1) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a block of no rows");
    schema_text out = writer_open(arena, units, options);
    schema_put(&out, "    base: ");
    schema_put_number(&out, &length, base_m);
    schema_put(&out, "\n    riser: [");
    for (int i = 0; i < n_row; i++) {
        if (i > 0) schema_put(&out, ", ");
        schema_put_number(&out, &length, rise_m[i]);
    }
    schema_put(&out, "]\n");
    return writer_close(&c, &out, text);
}

gradin_status gradin_rail_write(gradin_arena *arena, const gradin_rail_entry *rail,
                                const char *units, const gradin_write_options *options, char **text,
                                gradin_error *error) {
    complaints c = {.arena = arena, .error = error};
    if (NEEDS(error, arena, rail, text) != GRADIN_OK) return GRADIN_BAD_USE;
    schema_text out = writer_open(arena, units, options);
    SCHEMA_WRITE_ITEM(&out, &rail_table, rail, 2);
    return writer_close(&c, &out, text);
}
