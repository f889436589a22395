/* Work of several parts that know nothing of each other, in threads. Each has an arena and an error
 * object of its own, and what comes out is taken up by number: no result depends on the threads. */
#include "base/arena.h"
#include "base/use.h"

typedef struct part {
    gradin_arena *arena;
    gradin_status status;
    gradin_error error;
} part;

/* The parts before the first that failed, and that one. */
static int n_wanted(const part *list, int n) {
    for (int i = 0; i < n; i++)
        if (list[i].status != GRADIN_OK) return i + 1;
    return n;
}

static void take_diagnostics(gradin_error *error, const gradin_error *own) {
    if (!error) return;
    error->n_dropped += own->n_dropped;
    for (int i = 0; i < own->n_diagnostic; i++) {
        if (error->n_diagnostic == GRADIN_MAX_DIAGNOSTIC)
            error->n_dropped++;
        else
            error->diagnostic[error->n_diagnostic++] = own->diagnostic[i];
    }
}

static void run(part *p, int i, gradin_part_work work, void *user) {
    p->arena = gradin_arena_create();
    p->status = p->arena ? work(user, i, p->arena, &p->error)
                         : gradin_error_add(&p->error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

gradin_status gradin_for_each(gradin_arena *arena, int n, gradin_part_work work, void *user,
                              gradin_error *error) {
    if (NEEDS(error, arena) != GRADIN_OK) return GRADIN_BAD_USE;
    if (!work) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "no work to do in parts");
    if (n < 1) return GRADIN_OK;
    gradin_arena *brief = gradin_arena_create();
    part *list = brief ? gradin_arena_alloc(brief, (size_t)n, sizeof *list) : NULL;
    gradin_status status = GRADIN_OK;
    if (!list) {
        gradin_arena_destroy(brief);
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    }
#pragma omp parallel for schedule(dynamic, 1)
    for (int i = 0; i < n; i++) run(&list[i], i, work, user);
    for (int i = 0, end = n_wanted(list, n); i < end; i++) {
        status = list[i].status;
        take_diagnostics(error, &list[i].error);
    }
    for (int i = 0; i < n; i++) arena_adopt(arena, list[i].arena);
    gradin_arena_destroy(brief);
    return status;
}
