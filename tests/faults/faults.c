/* Everything from reading to writing with the n-th allocation or the n-th write failing, n = 1, 2,
 * ...: each run ends with a clean status and leaves no half file, and a run after it gives the same
 * bytes as before. A plain program that never forks, so that a sanitizer's reports count. Two kinds
 * of allocation fail: those of the arena, all the way, and malloc() itself while the libraries that
 * read YAML and build JSON are at work.
 *
 * usage: faults LAYOUT BRIEF */
#include "base/faults.h"
#include "faults/heap.h"
#include "gradin/gradin.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LAST = 1000000 };

typedef enum phase { READ, COMPUTE, TABLES, N_PHASE } phase;

typedef struct job {
    const char *layout, *brief;
    char dir[64];
    long heap_fail[N_PHASE]; /* the n-th malloc() of the phase fails; 0 none */
    gradin_error error;
} job;

static int n_passed, n_failed;

static void expect(bool holds, const char *what, long n, const job *j) {
    n_passed += holds;
    n_failed += !holds;
    if (holds) return;
    printf("%s %ld: FAILED", what, n);
    if (j->error.n_diagnostic > 0) printf(" (%s)", j->error.diagnostic[0].text);
    printf("\n");
}

static gradin_status read_all(job *j, gradin_arena *arena, gradin_model *model) {
    gradin_status status = gradin_model_read(arena, j->layout, model, &j->error);
    if (status == GRADIN_OK) status = gradin_brief_read(arena, j->brief, model, &j->error);
    return status;
}

static gradin_status in_arena(job *j, gradin_arena *arena) {
    gradin_model model;
    gradin_assessment assessment;
    gradin_assess_options few = {.sight = {.n_sample = 16}};
    char *text = NULL;
    heap_fail_at(j->heap_fail[READ]);
    gradin_status status = read_all(j, arena, &model);
    heap_fail_at(0);
    if (status == GRADIN_OK) status = gradin_assess(arena, &model, &few, &assessment, &j->error);
    if (status == GRADIN_OK) status = gradin_summary_text(arena, &assessment, &text, &j->error);
    heap_fail_at(j->heap_fail[TABLES]);
    if (status == GRADIN_OK)
        status = gradin_tables_write(&assessment, GRADIN_CSV_SI, j->dir, &j->error);
    heap_fail_at(0);
    return status;
}

static gradin_status run(job *j) {
    gradin_error_clear(&j->error);
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(&j->error, GRADIN_NO_MEMORY, NULL, "no arena");
    gradin_status status = in_arena(j, arena);
    gradin_arena_destroy(arena);
    return status;
}

static int count_files(const char *dir) {
    DIR *folder = opendir(dir);
    int n = 0;
    if (!folder) return -1;
    for (struct dirent *entry; (entry = readdir(folder));) n += entry->d_name[0] != '.';
    closedir(folder);
    return n;
}

static void remove_file(const char *dir, const char *name) {
    char path[128];
    snprintf(path, sizeof path, "%s/%s", dir, name);
    unlink(path);
}

static void empty(const char *dir) {
    remove_file(dir, "seats.csv");
    remove_file(dir, "seats_short.csv");
    remove_file(dir, "summary.json");
}

/* Bytes of a file, NULL when it is not there; the caller frees. */
static char *slurp(const char *dir, const char *name) {
    char path[128];
    snprintf(path, sizeof path, "%s/%s", dir, name);
    FILE *in = fopen(path, "rb");
    if (!in) return NULL;
    fseek(in, 0, SEEK_END);
    long size = ftell(in);
    rewind(in);
    char *bytes = calloc((size_t)size + 1, 1);
    if (bytes && fread(bytes, 1, (size_t)size, in) != (size_t)size) bytes[0] = '\0';
    fclose(in);
    return bytes;
}

static bool same(const char *a, const char *b) {
    return a && b && strcmp(a, b) == 0;
}

typedef struct golden {
    char *csv, *few, *json;
} golden;

static golden take(const char *dir) {
    return (golden){slurp(dir, "seats.csv"), slurp(dir, "seats_short.csv"),
                    slurp(dir, "summary.json")};
}

static void release(golden g) {
    free(g.csv);
    free(g.few);
    free(g.json);
}

/* Every n at first, then sparser: the whole loop stays in seconds. */
static long next(long n) {
    return n + 1 + n / 60;
}

/* Lets arm(n) fail something until a run succeeds; all files are whole or absent before that. */
static void fail_each(job *j, const char *what, void (*arm)(job *, long), gradin_status wanted,
                      const golden *before) {
    long n = 1;
    for (; n < LAST; n = next(n)) {
        empty(j->dir);
        arm(j, n);
        gradin_status status = run(j);
        arm(j, 0);
        if (status == GRADIN_OK) break;
        expect(status == wanted, what, n, j);
        expect(j->error.n_diagnostic > 0, what, n, j);
        golden after = take(j->dir);
        int n_file = (after.csv != NULL) + (after.few != NULL) + (after.json != NULL);
        expect(count_files(j->dir) == n_file, what, n, j);
        expect(!after.csv || same(after.csv, before->csv), what, n, j);
        expect(!after.few || same(after.few, before->few), what, n, j);
        expect(!after.json || same(after.json, before->json), what, n, j);
        release(after);
    }
    golden after = take(j->dir);
    expect(n > 1 && n < LAST && same(after.csv, before->csv) && same(after.few, before->few) &&
               same(after.json, before->json),
           what, n, j);
    release(after);
    printf("%s: runs ended cleanly up to failure %ld\n", what, n - 1);
}

static void arm_arena(job *j, long n) {
    (void)j;
    gradin_alloc_fail_at(n);
}
static void arm_write(job *j, long n) {
    (void)j;
    gradin_write_fail_at(n);
}
static void arm_read_heap(job *j, long n) {
    j->heap_fail[READ] = n;
}
static void arm_tables_heap(job *j, long n) {
    j->heap_fail[TABLES] = n;
}

int main(int n_argument, char **argument) {
    static job j;
    if (n_argument != 3) return 2;
    j = (job){.layout = argument[1], .brief = argument[2], .dir = "/tmp/gradin-faults-XXXXXX"};
    if (!mkdtemp(j.dir)) return 3;
    bool works = run(&j) == GRADIN_OK && count_files(j.dir) == 3;
    expect(works, "a run without faults", 0, &j);
    if (!works) return 1;
    golden before = take(j.dir);
    fail_each(&j, "arena allocation", arm_arena, GRADIN_NO_MEMORY, &before);
    fail_each(&j, "write", arm_write, GRADIN_IO_FAILED, &before);
    if (heap_can_fail()) {
        fail_each(&j, "malloc while reading", arm_read_heap, GRADIN_NO_MEMORY, &before);
        fail_each(&j, "malloc while writing tables", arm_tables_heap, GRADIN_NO_MEMORY, &before);
    }
    release(before);
    empty(j.dir);
    expect(rmdir(j.dir) == 0, "the folder is empty at the end", 0, &j);
    printf("%d checks hold, %d do not\n", n_passed, n_failed);
    return n_passed > 0 && n_failed == 0 ? 0 : 1;
}
