/* Runs text cases (grammar: case.h). Arguments are .case files. Exit status 0 when every case
 * passes, 1 when one fails or there is none, 2 when a file is malformed. */
#include "case_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct tally {
    int n_passed, n_failed;
    int n_source, n_source_passed; /* of the source being counted */
    int source_line;
    char source[CASE_TEXT_CHARS], status[CASE_WORD_CHARS];
} tally;

static void close_source(tally *t, const char *path) {
    if (t->n_source > 0)
        printf("%s:%d: %d of %d pass [%s] %s\n", path, t->source_line, t->n_source_passed,
               t->n_source, t->status, t->source);
    t->n_source = t->n_source_passed = 0;
}

static void open_source(tally *t, const case_line *line, const char *path) {
    close_source(t, path);
    t->source_line = line->source_line;
    snprintf(t->source, sizeof t->source, "%s", line->source);
    snprintf(t->status, sizeof t->status, "%s", line->status);
}

static void run_line(tally *t, const case_line *line, const char *path) {
    bool is_same = t->n_source > 0 && t->source_line == line->source_line &&
                   strcmp(t->status, line->status) == 0;
    if (!is_same) open_source(t, line, path);
    double got = line->operation->run(line->in);
    bool passed = fabs(got - line->expected) <= line->tolerance; /* false for NAN */
    t->n_source++;
    t->n_source_passed += passed;
    t->n_passed += passed;
    t->n_failed += !passed;
    if (passed) return;
    printf("%s:%d: FAILED %s\n    got %.10g%s, expected %.10g%s, tolerance %g%s\n    [%s] %s\n",
           path, line->number, line->text, got / line->unit_si, line->unit,
           line->expected / line->unit_si, line->unit, line->tolerance / line->unit_si, line->unit,
           line->status, line->source);
}

/* False when the file is malformed. */
static bool run_file(tally *t, const char *path) {
    case_reader *reader = case_open(path);
    case_line line;
    int state = reader ? 1 : -1;
    while (state == 1)
        if ((state = case_next(reader, &line)) == 1) run_line(t, &line, path);
    close_source(t, path);
    case_close(reader);
    return state == 0;
}

int main(int n_argument, char **argument) {
    tally t = {0};
    bool well_formed = true;
    for (int i = 1; i < n_argument; i++) well_formed = run_file(&t, argument[i]) && well_formed;
    if (t.n_passed + t.n_failed == 0) printf("no case at all\n");
    printf("%d passed, %d failed\n", t.n_passed, t.n_failed);
    if (!well_formed) return 2;
    return t.n_failed > 0 || t.n_passed == 0;
}
