/* What any input file is, and whether it is right. */
#include "base/use.h"
#include "files/programme.h"
#include "files/show.h"
#include "files/study.h"
#include "files/wishes.h"
#include "gradin/files.h"
#include "gradin/run.h"

#include <stdio.h>
#include <string.h>

typedef enum file_kind {
    FILE_VENUE,
    FILE_LAYOUT,
    FILE_OVERFLIGHT,
    FILE_BRIEF,
    FILE_TRAFFIC,
    FILE_WISHES,
    FILE_PROGRAMME,
    FILE_SHOW,
    FILE_STUDY,
    N_FILE_KIND
} file_kind;

static const char *const format_of[N_FILE_KIND] = {
    "gradin-venue-1",     "gradin-layout-1",  "gradin-overflight-1",
    "gradin-brief-1",     "gradin-traffic-1", "gradin-wishes-1",
    "gradin-programme-1", "gradin-show-1",    "gradin-study-1"};
static const char *const kind_of_file[N_FILE_KIND] = {
    "venue", "layout", "overflight", "brief", "traffic", "wishes", "programme", "show", "study"};

static int find_kind(reader *r, const node *root) {
    const node *format = root->kind == NODE_MAP ? map_get(root, "format") : NULL;
    if (!format || format->kind != NODE_TEXT) {
        complain_key(r, root, "format",
                     "is missing; gradin-venue-1, gradin-layout-1, gradin-overflight-1, "
                     "gradin-brief-1, gradin-traffic-1, gradin-wishes-1, gradin-programme-1, "
                     "gradin-show-1 or gradin-study-1");
        return -1;
    }
    for (int k = 0; k < N_FILE_KIND; k++)
        if (strcmp(format->text, format_of[k]) == 0) return k;
    complain_unknown(r, format, "format", format->text, format_of, N_FILE_KIND);
    return -1;
}

/* Notes stand beside the errors as what they are: diagnostics of the family GRADIN_OK. */
static void pass_notes(gradin_error *error, const char *const *note, int n) {
    for (int i = 0; i < n; i++) gradin_error_add(error, GRADIN_OK, NULL, "%s", note[i]);
}

/* What a study says of a model knows no file. */
static void name_file(gradin_error *error, int from, const char *path) {
    for (int i = from; i < error->n_diagnostic; i++) {
        char *file = error->diagnostic[i].file;
        if (file[0] == '\0') snprintf(file, GRADIN_FILE_CHARS, "%s", path);
    }
}

static gradin_status check_layout(gradin_arena *arena, const char *path, gradin_model_judge judge,
                                  gradin_error *error) {
    gradin_model model;
    gradin_error unwanted = {0};
    gradin_error *to = error ? error : &unwanted;
    gradin_status status = gradin_model_read(arena, path, &model, to);
    int n_before = to->n_diagnostic;
    if (status == GRADIN_OK && judge) status = judge(arena, &model, to);
    name_file(to, n_before, path);
    if (status == GRADIN_OK) pass_notes(error, model.note, model.n_note);
    return status;
}

static void check_kind(reader *r, gradin_arena *arena, int kind, const char *path,
                       gradin_model_judge judge) {
    gradin_limits limits;
    gradin_criterion criterion;
    gradin_pass pass;
    gradin_traffic traffic;
    gradin_wishes wishes;
    gradin_programme programme;
    gradin_show show;
    gradin_study study;
    gradin_venue v;
    gradin_status status = GRADIN_OK;
    switch (kind) {
    case FILE_VENUE:
        venue_read(r, path, &v);
        return;
    case FILE_OVERFLIGHT:
        pass_read(r, path, &pass);
        return;
    case FILE_BRIEF:
        brief_read_file(r, path, GRADIN_FORM_CUSTOM, &limits, &criterion);
        return;
    case FILE_WISHES:
        wishes_read(r, path, &wishes);
        return;
    case FILE_PROGRAMME:
        programme_read(r, path, &programme);
        return;
    case FILE_SHOW:
        show_read(r, path, &show);
        return;
    case FILE_STUDY:
        study_read(r, path, &study);
        return;
    case FILE_TRAFFIC:
        status = gradin_traffic_read(arena, path, false, &traffic, NULL, r->c.error);
        break;
    default:
        status = check_layout(arena, path, judge, r->c.error);
    }
    if (status == GRADIN_BAD_INPUT) r->c.n_error++;
    if (status != GRADIN_OK && status != GRADIN_BAD_INPUT) r->c.failed = status;
}

gradin_status gradin_file_check(const char *path, int dash_fd, const char **kind,
                                gradin_error *error) {
    return gradin_file_check_by(path, dash_fd, NULL, kind, error);
}

gradin_status gradin_file_check_by(const char *path, int dash_fd, gradin_model_judge judge,
                                   const char **kind, gradin_error *error) {
    if (NEEDS(error, path) != GRADIN_OK) return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_arena_read_dash(arena, dash_fd);
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0};
    const node *root = node_read(&r, path);
    int found = root ? find_kind(&r, root) : -1;
    if (kind) *kind = found >= 0 ? kind_of_file[found] : "file";
    if (found >= 0) check_kind(&r, arena, found, path, judge);
    pass_notes(error, r.c.note, r.c.n_note);
    gradin_status status = complaints_status(&r.c);
    gradin_arena_destroy(arena);
    return status;
}
