/* A layout and a model from files, and a brief into a model. */
#include "base/use.h"
#include "files/layout/read.h"
#include "files/read_changed.h"
#include "gradin/files.h"

#include <string.h>

/* The venue and the layout stay in the arena: the model points into them. */
typedef struct sheet {
    gradin_venue venue;
    gradin_layout layout;
    char digest[33];
} sheet;

gradin_status gradin_layout_read(gradin_arena *arena, const char *layout_path, gradin_venue *venue,
                                 gradin_layout *layout, gradin_error *error) {
    if (NEEDS(error, arena, layout_path, venue, layout) != GRADIN_OK) return GRADIN_BAD_USE;
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0};
    const char *file = note_failure(&r.c, gradin_arena_copy_text(arena, layout_path));
    if (file) layout_read(&r, file, venue, layout);
    return complaints_status(&r.c);
}

/* What the files gave cause to note, then what the model did. */
static void join_notes(complaints *c, gradin_model *model) {
    for (int i = 0; i < model->n_note; i++) add_note(c, model->note[i]);
    model->note = c->note;
    model->n_note = c->n_note;
}

/* `text` stands for the file unless NULL; `venues` and `changes` may be NULL. */
static gradin_status read_model(gradin_arena *arena, const char *layout_path, const char *text,
                                shelf *venues, value_changes *changes, gradin_model *model,
                                gradin_error *error) {
    reader r = {.c = {.arena = arena, .error = error},
                .unit_m = 1.0,
                .given = text,
                .shelf = venues,
                .changes = changes};
    sheet *s = alloc(&r.c, 1, sizeof *s);
    const char *file = s ? note_failure(&r.c, gradin_arena_copy_text(arena, layout_path)) : NULL;
    memset(model, 0, sizeof *model);
    if (!file) return complaints_status(&r.c);
    r.given_path = text ? file : NULL;
    r.digest = s->digest;
    bool good = layout_read(&r, file, &s->venue, &s->layout);
    gradin_status status = good ? gradin_model_build(arena, &s->venue, &s->layout, model, error)
                                : complaints_status(&r.c);
    memcpy(model->digest, s->digest, sizeof s->digest);
    join_notes(&r.c, model);
    return status == GRADIN_OK ? complaints_status(&r.c) : status;
}

gradin_status gradin_model_read(gradin_arena *arena, const char *layout_path, gradin_model *model,
                                gradin_error *error) {
    return gradin_models_read(arena, &layout_path, 1, model, error);
}

gradin_status gradin_model_read_text(gradin_arena *arena, const char *layout_path, const char *text,
                                     gradin_model *model, gradin_error *error) {
    if (NEEDS(error, arena, layout_path, model) != GRADIN_OK) return GRADIN_BAD_USE;
    return read_model(arena, layout_path, text, NULL, NULL, model, error);
}

gradin_status gradin_models_read(gradin_arena *arena, const char *const *layout_path, int n,
                                 gradin_model *model, gradin_error *error) {
    shelf venues = {NULL}, *shared = n > 1 ? &venues : NULL;
    gradin_status status = GRADIN_OK;
    if (NEEDS(error, arena, layout_path, model) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n < 0) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "fewer than no layouts");
    for (int i = 0; i < n && status == GRADIN_OK; i++) {
        status = NEEDS(error, layout_path[i]);
        if (status == GRADIN_OK)
            status = read_model(arena, layout_path[i], NULL, shared, NULL, &model[i], error);
    }
    return status;
}

gradin_status model_read_changed(gradin_arena *arena, const char *layout_path,
                                 value_changes *changes, gradin_model *model, gradin_error *error) {
    return read_model(arena, layout_path, NULL, NULL, changes, model, error);
}

gradin_status brief_read_changed(gradin_arena *arena, const char *brief_path,
                                 value_changes *changes, gradin_model *model, gradin_error *error) {
    reader r = {.c = {.arena = arena, .error = error},
                .unit_m = 1.0,
                .digest = model->digest,
                .changes = changes};
    const char *file = note_failure(&r.c, gradin_arena_copy_text(arena, brief_path));
    if (!file) return complaints_status(&r.c);
    model->limits = gradin_limits_defaults(model->form);
    model->criterion = gradin_criterion_defaults();
    brief_read_file(&r, file, model->form, &model->limits, &model->criterion);
    return complaints_status(&r.c);
}

gradin_status gradin_brief_read(gradin_arena *arena, const char *brief_path, gradin_model *model,
                                gradin_error *error) {
    if (NEEDS(error, arena, brief_path, model) != GRADIN_OK) return GRADIN_BAD_USE;
    return brief_read_changed(arena, brief_path, NULL, model, error);
}
