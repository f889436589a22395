/* A show's choice among layouts that are files, as choose and report take it. */
#include "choose_files.h"
#include "gradin/files.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Layouts and the partners' in one go, so that their venue is read once. */
static gradin_status read_models(gradin_arena *arena, const char *const *layout, int n_layout,
                                 chosen *c, gradin_error *error) {
    int n = n_layout + c->show.n_partner;
    const char **path = gradin_arena_alloc(arena, (size_t)n, sizeof *path);
    c->model = gradin_arena_alloc(arena, (size_t)n, sizeof *c->model);
    if (!path || !c->model) return out_of_memory(error);
    for (int i = 0; i < n; i++)
        path[i] = i < n_layout ? layout[i] : c->show.partner[i - n_layout].layout_path;
    c->partner = c->model + n_layout;
    gradin_status status = gradin_models_read(arena, path, n, c->model, error);
    for (int i = 0; i < n_layout && status == GRADIN_OK && c->show.brief_path; i++)
        status = gradin_brief_read(arena, c->show.brief_path, &c->model[i], error);
    return status;
}

gradin_status choose_files(gradin_arena *arena, const char *const *layout, int n,
                           const gradin_choose_options *how, chosen *c, gradin_error *error) {
    gradin_status status = read_models(arena, layout, n, c, error);
    bool has_traffic = c->show.traffic_path != NULL;
    if (status == GRADIN_OK && has_traffic)
        status = gradin_traffic_read(arena, c->show.traffic_path, false, &c->traffic, NULL, error);
    if (status != GRADIN_OK) return status;
    return gradin_choose(arena, &c->show, c->model, n, c->partner, has_traffic ? &c->traffic : NULL,
                         how, &c->choice, error);
}

void say_show_notes(const chosen *c) {
    for (int i = 0; i < c->show.n_note; i++) say("note: %s", c->show.note[i]);
}
