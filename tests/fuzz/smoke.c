/* A short run of the fuzz target on changed copies of good files, the same on every machine. A
 * crash leaves its input in /tmp/gradin-fuzz-*.
 *
 * usage: smoke COUNT HALL_DIR MORE_DIR; COUNT changes of each YAML file, a quarter of it else */
#include "fuzz/kinds.h"
#include "fuzz/mutate.h"
#include "fuzz/target.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { CAPACITY = 1 << 16, MAX_CHANGES = 3 };

typedef struct tally {
    int n_good, n_refused, n_failed;
} tally;

static void run_one(const fuzz_kind *kind, const char *seed, size_t seed_size, uint64_t *state,
                    tally *t) {
    static char text[CAPACITY];
    const char *complaint = NULL;
    size_t size = seed_size;
    memcpy(text, seed, size);
    int n_change = 1 + (int)(*state % MAX_CHANGES);
    for (int k = 0; k < n_change; k++) mutate(text, &size, CAPACITY, state);
    gradin_status status = target_run(kind, text, size, &complaint);
    if (complaint) {
        printf("FAILED: %s on\n%.*s\n", complaint, (int)size, text);
        t->n_failed++;
    } else if (status == GRADIN_OK)
        t->n_good++;
    else
        t->n_refused++;
}

static bool run_file(gradin_arena *arena, const fuzz_kind *kind, const char *path, int count,
                     tally *t) {
    char *seed = NULL;
    const char *complaint;
    size_t size = 0;
    tally here = {0};
    uint64_t state = 88172645463325252u;
    if (gradin_read_file(arena, path, CAPACITY / 2, &seed, &size, NULL) != GRADIN_OK) return false;
    if (target_run(kind, seed, size, &complaint) != GRADIN_OK) return false;
    for (int i = 0; i < count; i++) run_one(kind, seed, size, &state, &here);
    printf("%s: %d still good, %d refused, %d failed\n", strrchr(path, '/') + 1, here.n_good,
           here.n_refused, here.n_failed);
    t->n_good += here.n_good;
    t->n_refused += here.n_refused;
    t->n_failed += here.n_failed;
    target_run(kind, seed, size, &complaint);     /* the next ones have it as their neighbour */
    return here.n_good > 0 && here.n_refused > 0; /* else the changes are too mild or too wild */
}

/* A kind's good files, each where it lies. */
static bool run_kind(gradin_arena *arena, const fuzz_kind *kind, char *const dir[2], int count,
                     tally *t) {
    char *seeds = gradin_arena_copy_text(arena, kind->seed), *rest;
    bool ok = seeds != NULL;
    for (char *name = ok ? strtok_r(seeds, " ", &rest) : NULL; name && ok;
         name = strtok_r(NULL, " ", &rest)) {
        const char *path = gradin_arena_print(arena, "%s/%s", dir[0], name);
        if (path && access(path, R_OK) != 0)
            path = gradin_arena_print(arena, "%s/%s", dir[1], name);
        ok = path && run_file(arena, kind, path, count, t);
        if (!ok) printf("%s: FAILED\n", name);
    }
    return ok;
}

int main(int n_argument, char **argument) {
    tally t = {0};
    if (n_argument != 4 || !target_open(argument[2], argument[3])) return 2;
    gradin_arena *arena = gradin_arena_create();
    for (int k = 0; arena && k < N_FUZZ_KIND; k++) {
        int count = atoi(argument[1]) / (strcmp(fuzz_kinds[k].name, "yaml") == 0 ? 1 : 4);
        if (!run_kind(arena, &fuzz_kinds[k], argument + 2, count, &t)) t.n_failed++;
    }
    gradin_arena_destroy(arena);
    target_close();
    printf("%d files answered, %d not\n", t.n_good + t.n_refused, t.n_failed);
    return t.n_good > 0 && t.n_failed == 0 ? 0 : 1;
}
