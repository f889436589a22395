/* A short run of the fuzz target on changed copies of good files, the same on every machine. A
 * crash leaves its input in /tmp/gradin-fuzz-*.
 *
 * usage: smoke COUNT HALL_DIR */
#include "fuzz/mutate.h"
#include "fuzz/target.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CAPACITY = 1 << 16, MAX_CHANGES = 3 };

static const char *const seed_file[] = {"venue.yaml", "layout.yaml", "pass.yaml", "brief.yaml",
                                        "wishes.yaml"};
enum { N_SEED = sizeof seed_file / sizeof seed_file[0] };

typedef struct tally {
    int n_good, n_refused, n_failed;
} tally;

static void run_one(const char *seed, size_t seed_size, uint64_t *state, tally *t) {
    static char text[CAPACITY];
    const char *complaint = NULL;
    size_t size = seed_size;
    memcpy(text, seed, size);
    int n_change = 1 + (int)(*state % MAX_CHANGES);
    for (int k = 0; k < n_change; k++) mutate(text, &size, CAPACITY, state);
    gradin_status status = target_run(text, size, &complaint);
    if (complaint) {
        printf("FAILED: %s on\n%.*s\n", complaint, (int)size, text);
        t->n_failed++;
    } else if (status == GRADIN_OK)
        t->n_good++;
    else
        t->n_refused++;
}

static bool run_file(gradin_arena *arena, const char *hall_dir, const char *name, int count,
                     tally *t) {
    char *seed = NULL;
    const char *complaint;
    size_t size = 0;
    const char *path = gradin_arena_print(arena, "%s/%s", hall_dir, name);
    tally here = {0};
    uint64_t state = 88172645463325252u;
    if (gradin_read_file(arena, path, CAPACITY / 2, &seed, &size, NULL) != GRADIN_OK) return false;
    if (target_run(seed, size, &complaint) != GRADIN_OK) return false;
    for (int i = 0; i < count; i++) run_one(seed, size, &state, &here);
    printf("%s: %d still good, %d refused, %d failed\n", name, here.n_good, here.n_refused,
           here.n_failed);
    t->n_good += here.n_good;
    t->n_refused += here.n_refused;
    t->n_failed += here.n_failed;
    return here.n_good > 0 && here.n_refused > 0; /* else the changes are too mild or too wild */
}

int main(int n_argument, char **argument) {
    tally t = {0};
    if (n_argument != 3 || !target_open(argument[2])) return 2;
    gradin_arena *arena = gradin_arena_create();
    for (int k = 0; arena && k < N_SEED; k++)
        if (!run_file(arena, argument[2], seed_file[k], atoi(argument[1]), &t)) t.n_failed++;
    gradin_arena_destroy(arena);
    target_close();
    printf("%d files answered, %d not\n", t.n_good + t.n_refused, t.n_failed);
    return t.n_good > 0 && t.n_failed == 0 ? 0 : 1;
}
