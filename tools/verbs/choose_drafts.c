/* Layouts drafted from what a show asks, in the folder of the results: for each form that it allows
 * a file of wishes and the layout that was made of it, both to be edited. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/studies/choose.h"
#include "gradin/studies/draft.h"

#include <string.h>
#include <unistd.h>

enum { MOST_WISHES_BYTES = 1 << 20 };

typedef struct drafting {
    gradin_arena *arena;
    const gradin_show *show;
    const gradin_venue *hall;
    const char *venue, *dir;
    gradin_error *error;
} drafting;

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* "wishes_in_the_round.yaml" */
static const char *file_of(const drafting *d, const char *before, gradin_form form) {
    char *name = gradin_arena_print(d->arena, "%s%s.yaml", before, gradin_form_name(form));
    for (char *c = name; c && *c; c++)
        if (*c == ' ') *c = '_';
    return name;
}

static const char *name_of(const drafting *d, const char *before, gradin_form form) {
    const char *name = file_of(d, before, form);
    return name ? gradin_arena_print(d->arena, "%s/%s", d->dir, name) : NULL;
}

static gradin_status write_text(const char *path, const char *text, gradin_error *error) {
    return gradin_write_file(path, text, strlen(text), error);
}

/* As the draft counts them: by the venue's own table, or the published one where it states none. */
static int places_by_table(const gradin_venue *hall, int n_seat) {
    int by_own = gradin_wheelchairs_needed(&hall->rules, n_seat);
    return by_own >= 0 ? by_own : gradin_wheelchair_places(n_seat);
}

/* A tenth more seats than must be sold, for some will see poorly and be held back; places for
 * wheelchairs by the count table, or the show's where it needs more. */
static gradin_show_wishes wishes_for(const drafting *d, gradin_form form) {
    int n_seat = (int)ceil(1.1 * d->show->seats - 1e-9), n_place = d->show->wheelchairs;
    return (gradin_show_wishes){form, d->venue, n_seat,
                                n_place > places_by_table(d->hall, n_seat) ? n_place : -1};
}

/* The wishes of an earlier run; no bytes when there are none. */
static gradin_status keep_old(gradin_arena *arena, const char *path, gradin_bytes *old,
                              gradin_error *error) {
    char *bytes;
    if (access(path, F_OK) != 0) return GRADIN_OK;
    gradin_status status =
        gradin_read_bytes(arena, path, MOST_WISHES_BYTES, &bytes, &old->size, error);
    if (status == GRADIN_OK) old->at = bytes;
    return status;
}

/* Nothing was made of the new wishes: the folder is as it was. */
static gradin_status put_back(const char *path, const gradin_bytes *old, gradin_status status) {
    if (old->at)
        return gradin_write_file(path, old->at, old->size, NULL) == GRADIN_OK ? status
                                                                              : GRADIN_IO_FAILED;
    unlink(path);
    return status;
}

static gradin_status make_from(const drafting *d, gradin_form form, const char *wished,
                               const char *path) {
    gradin_draft draft;
    char *text;
    const gradin_show_wishes as = wishes_for(d, form);
    gradin_wishes *wishes = gradin_arena_alloc(d->arena, 1, sizeof *wishes);
    if (!wishes) return out_of_memory(d->error);
    gradin_status status =
        gradin_show_wishes_write(d->arena, d->show, &as, wished, &text, d->error);
    if (status == GRADIN_OK) status = write_text(wished, text, d->error);
    if (status == GRADIN_OK) status = gradin_wishes_read(d->arena, wished, wishes, d->error);
    if (status == GRADIN_OK) status = gradin_draft_make(d->arena, wishes, &draft, d->error);
    if (status == GRADIN_OK)
        status = gradin_draft_write(d->arena, wishes, draft.layout, path, &text, d->error);
    return status == GRADIN_OK ? write_text(path, text, d->error) : status;
}

static gradin_status make(const drafting *d, gradin_form form, const char *path) {
    gradin_bytes old = {0};
    gradin_arena *kept = gradin_arena_create(); /* what is read into the other one is an input */
    const char *wished = name_of(d, "wishes_", form);
    gradin_status status =
        wished && kept ? keep_old(kept, wished, &old, d->error) : out_of_memory(d->error);
    if (status == GRADIN_OK) {
        status = make_from(d, form, wished, path);
        if (status != GRADIN_OK) status = put_back(wished, &old, status);
    }
    gradin_arena_destroy(kept);
    return status;
}

static bool is_form_asked(const gradin_show *show, gradin_form form) {
    return form != GRADIN_FORM_CUSTOM && !show->is_form_excluded[form];
}

/* A form that this hall cannot have is told, and the others go on. */
static gradin_status try_form(drafting *d, gradin_form form, const char **layout, int *n) {
    char line[2 * GRADIN_TEXT_CHARS];
    gradin_error mine = {0}, *outer = d->error;
    const char *path = name_of(d, "", form);
    if (!path) return out_of_memory(outer);
    d->error = &mine;
    gradin_status status = make(d, form, path);
    d->error = outer;
    if (status == GRADIN_OK) layout[(*n)++] = path;
    if (status != GRADIN_BAD_INPUT || mine.n_diagnostic == 0) {
        if (status != GRADIN_OK && outer) *outer = mine;
        return status;
    }
    gradin_diagnostic_format(&mine.diagnostic[0], line, sizeof line);
    say("note: %s is not drafted: %s", gradin_form_name(form), line);
    return GRADIN_OK;
}

/* What somebody edited is not drafted over. */
static gradin_status check_old(const drafting *d) {
    static const char *const before[] = {"", "wishes_"};
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < 2 * GRADIN_N_FORM && status == GRADIN_OK; i++) {
        if (!is_form_asked(d->show, (gradin_form)(i / 2))) continue;
        const char *name = file_of(d, before[i % 2], (gradin_form)(i / 2));
        status = name ? allow_overwriting(name, d->error) : out_of_memory(d->error);
    }
    return status;
}

gradin_status draft_for_show(gradin_arena *arena, const gradin_show *show, const char *venue,
                             const char *dir, const char **layout, int *n, gradin_error *error) {
    gradin_venue hall;
    drafting d = {arena, show, &hall, venue, dir, error};
    *n = 0;
    if (!(show->stage_m2 > 0.0))
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = show->file},
                                "states no must.stage_area: a draft needs to know how large the "
                                "acting area is");
    gradin_status status = check_old(&d);
    if (status == GRADIN_OK) status = gradin_venue_read(arena, venue, &hall, error);
    for (int form = 0; form < GRADIN_N_FORM && status == GRADIN_OK; form++)
        if (is_form_asked(show, (gradin_form)form))
            status = try_form(&d, (gradin_form)form, layout, n);
    if (status == GRADIN_OK && *n == 0)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = show->file},
                                "no layout can be drafted of any form that the show allows");
    return status == GRADIN_OK ? record_so_far(arena, error) : status;
}
