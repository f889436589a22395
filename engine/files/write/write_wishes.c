/* What a show says of a layout that is not there yet, as a file of wishes to draft one from.
 *
 * The stage is as large as makes the floor that is looked at the show's acting area, a metre in
 * from its edges, in the form's usual proportions (common practice, no source). */
#include "base/use.h"
#include "files/schema/write.h"
#include "files/write/write.h"
#include "gradin/files.h"

static const double inset_m = 1.0;

typedef struct stage_of {
    const char *word;
    double across; /* width over depth */
    double height_m;
    double above_m; /* what is looked at, over the stage */
} stage_of;

static const stage_of stage[] = {[GRADIN_FORM_END_STAGE] = {"end_stage", 1.4, 0.9, 0.0},
                                 [GRADIN_FORM_THRUST] = {"thrust", 0.8, 0.9, 0.0},
                                 [GRADIN_FORM_ROUND] = {"round", 1.0, 0.0, 0.9},
                                 [GRADIN_FORM_TRAVERSE] = {"traverse", 3.0, 0.0, 0.9},
                                 [GRADIN_FORM_FLAT_FLOOR] = {"flat_floor", 1.3, 0.9, 0.9}};

/* Up to whole decimetres, so that the area is never less. */
static double up(double length_m) {
    return ceil(10.0 * length_m - 1e-9) / 10.0;
}

static void put_number(schema_text *out, const char *key, double value) {
    char text[32];
    schema_put(out, "%s: %s", key, gradin_format_fixed(text, sizeof text, value, 1));
}

static void put_stage(schema_text *out, const gradin_show *show, const stage_of *s) {
    double width_m = up(sqrt(show->stage_m2 * s->across) + 2.0 * inset_m);
    double depth_m = up(show->stage_m2 / (width_m - 2.0 * inset_m) + 2.0 * inset_m);
    put_number(out, "stage: {width", width_m);
    put_number(out, ", depth", depth_m);
    put_number(out, ", height", s->height_m);
    if (s->above_m > 0.0) put_number(out, ", focus_above", s->above_m);
    schema_put(out, "}\n");
}

static void put_file(schema_text *out, const char *key, const char *name) {
    if (!name) return;
    schema_put(out, "%s: ", key);
    schema_put_text(out, name);
    schema_put(out, "\n");
}

gradin_status gradin_show_wishes_write(gradin_arena *arena, const gradin_show *show,
                                       const gradin_show_wishes *as, const char *wishes_path,
                                       char **text, gradin_error *error) {
    if (NEEDS(error, arena, show, as, wishes_path, text) != GRADIN_OK ||
        NEEDS(error, show->name, as->venue_path) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (as->form >= sizeof stage / sizeof *stage)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "nothing is drafted of this form");
    if (!(show->stage_m2 > 0.0))
        return gradin_error_add(error, GRADIN_BAD_INPUT, show->at,
                                "states no must.stage_area: a draft needs to know how large the "
                                "acting area is");
    const char *venue, *brief = NULL;
    gradin_status status =
        written_path(arena, as->venue_path, as->venue_path, wishes_path, &venue, error);
    if (status == GRADIN_OK && show->brief_path)
        status =
            written_path(arena, show->brief_path, show->brief_path, wishes_path, &brief, error);
    if (status != GRADIN_OK) return status;
    const char *name = gradin_arena_print(arena, "Draft, %s", gradin_form_name(as->form));
    if (!name) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    schema_text out = {.arena = arena, .unit_m = 1.0, .unit_name = "m", .decimals = -1};
    schema_put(&out, "# What a show wishes of a layout; gradin draft makes one of it.\n"
                     "format: gradin-wishes-1\nunits: m\n");
    put_file(&out, "venue", venue);
    put_file(&out, "brief", brief);
    put_file(&out, "name", name);
    schema_put(&out, "form: %s\n", stage[as->form].word);
    put_stage(&out, show, &stage[as->form]);
    if (as->n_seat > 0) schema_put(&out, "seats: %d\n", as->n_seat);
    if (as->n_wheelchair >= 0) schema_put(&out, "wheelchairs: %d\n", as->n_wheelchair);
    schema_put(&out, "towers: yes\nvomitories: yes\n");
    if (show->shades >= 0) schema_put(&out, "shades: %d\n", show->shades);
    *text = out.bytes;
    return out.has_failed ? gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory")
                          : GRADIN_OK;
}
