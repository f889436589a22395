/* Rows of a sweep as lines of a journal: figures bit by bit, so that a row read back is the row. */
#include "base/digest.h"
#include "base/use.h"
#include "gradin/journal.h"
#include "studies/sweep/sweep.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DIGEST_CHARS = 32 };

static const char format[] = "gradin-sweep-journal-1";

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* A key without a place in any file would be varied in vain, in every point. */
static gradin_status check_places(gradin_arena *arena, const gradin_study *study,
                                  gradin_study_reader read, gradin_error *error) {
    gradin_study_inputs in;
    gradin_error mine = {0};
    gradin_status status = read(arena, study, 0, &in, &mine);
    if (status == GRADIN_OK || (status == GRADIN_BAD_INPUT && !in.is_study_wrong)) return GRADIN_OK;
    if (error) *error = mine;
    return status;
}

/* The files as they are, and what else decides the figures. */
gradin_status gradin_sweep_digest(gradin_arena *arena, const gradin_study *study,
                                  const gradin_sweep_options *options, char digest[33],
                                  gradin_error *error) {
    gradin_study_inputs in;
    if (NEEDS(error, arena, study, options, digest) != GRADIN_OK) return GRADIN_BAD_USE;
    if (!options->read || gradin_study_points(study) < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a sweep needs a study with points, and a reader of them");
    gradin_status status = options->read(arena, study, -1, &in, error);
    if (status == GRADIN_OK) status = check_places(arena, study, options->read, error);
    if (status != GRADIN_OK) return status;
    int n_sample = options->n_sample > 0 ? options->n_sample : GRADIN_DEFAULT_SAMPLE;
    const char *part[] = {format,
                          GRADIN_VERSION,
                          study->digest,
                          in.model.digest,
                          in.has_partner ? in.partner.digest : "",
                          in.has_traffic ? in.traffic.digest : ""};
    digest[0] = '\0';
    for (size_t i = 0; i < sizeof part / sizeof *part; i++)
        gradin_digest_fold(digest, part[i], strlen(part[i]) + 1);
    gradin_digest_fold(digest, &n_sample, sizeof n_sample);
    if (study->chosen) gradin_digest_fold(digest, &options->keeps_checks, sizeof(bool));
    return GRADIN_OK;
}

/* Of a point that a search picked. */
static void digest_values(const gradin_study *s, int point, char digest[33]) {
    char value[GRADIN_VALUE_CHARS];
    digest[0] = '\0';
    for (int k = 0; k < s->n_varied && gradin_study_value(s, point, k, value); k++)
        gradin_digest_fold(digest, value, strlen(value) + 1);
}

bool gradin_sweep_is_of(const gradin_study *study, const gradin_sweep_row *row) {
    char digest[33];
    if (!study || !row || !row->asked || !study->chosen) return study && row;
    digest_values(study, row->point, digest);
    return memcmp(digest, row->asked, DIGEST_CHARS) == 0;
}

static uint64_t bits_of(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static double value_of(uint64_t bits) {
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

static void print_row(const gradin_study *s, const gradin_sweep_row *row, char *out, size_t size) {
    char digest[33];
    size_t at = (size_t)snprintf(out, size, "%d", row->point);
    if (s->chosen) {
        digest_values(s, row->point, digest);
        at += (size_t)snprintf(out + at, size - at, " @%s", digest);
    }
    if (row->refused) {
        snprintf(out + at, size - at, " refused %.1000s", row->refused);
        for (char *c = out; *c; c++)
            if (*c == '\n') *c = ' ';
        return;
    }
    at += (size_t)snprintf(out + at, size - at, " stands");
    for (int i = 0; i < s->n_figure; i++) {
        const gradin_known *k = &row->figure[i];
        at += (size_t)snprintf(out + at, size - at, " %016" PRIx64 " %016" PRIx64 " %016" PRIx64,
                               bits_of(k->value), bits_of(k->low), bits_of(k->high));
    }
}

static bool take_figures(const gradin_study *s, const char *at, gradin_known *figure) {
    for (int i = 0; i < s->n_figure; i++) {
        uint64_t bits[3];
        int used = 0;
        if (sscanf(at, " %16" SCNx64 " %16" SCNx64 " %16" SCNx64 "%n", &bits[0], &bits[1], &bits[2],
                   &used) != 3)
            return false;
        figure[i] = (gradin_known){value_of(bits[0]), value_of(bits[1]), value_of(bits[2])};
        at += used;
    }
    return *at == '\0';
}

/* A line that is no row of this study is one of damage; a point told twice keeps its first row. */
static gradin_status take_row(gradin_arena *arena, const gradin_study *s, const char *line,
                              gradin_sweep_row *row, int n_row) {
    char *rest;
    long point = strtol(line, &rest, 10);
    if (rest == line || point < 0 || point >= n_row || row[point].point >= 0) return GRADIN_OK;
    gradin_sweep_row made = {.point = (int)point};
    if (s->chosen) {
        if (strncmp(rest, " @", 2) != 0 || strlen(rest) < DIGEST_CHARS + 2) return GRADIN_OK;
        made.asked = rest + 2;
        rest += DIGEST_CHARS + 2;
    }
    if (strncmp(rest, " refused ", 9) == 0) {
        made.refused = rest + 9;
        row[point] = made;
        return GRADIN_OK;
    }
    gradin_known *figure = gradin_arena_alloc(arena, (size_t)s->n_figure, sizeof *figure);
    if (!figure) return GRADIN_NO_MEMORY;
    made.figure = figure;
    if (strncmp(rest, " stands", 7) == 0 && take_figures(s, rest + 7, figure)) row[point] = made;
    return GRADIN_OK;
}

static void print_head(char *out, size_t size, const char *digest) {
    snprintf(out, size, "%s %s", format, digest);
}

gradin_status gradin_sweep_journal_read(gradin_arena *arena, const char *path,
                                        const gradin_study *study, const char *digest,
                                        gradin_sweep_row *row, int n_row,
                                        gradin_journal_lines *lines, gradin_error *error) {
    char head[80];
    if (NEEDS(error, arena, path, study, digest, row, lines) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n_row < 1 || n_row != gradin_study_points(study) || strlen(digest) != DIGEST_CHARS)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a row for each point of the study, and its digest");
    gradin_status status = gradin_journal_read(arena, path, lines, error);
    if (status != GRADIN_OK || lines->n_line == 0) return status;
    print_head(head, sizeof head, digest);
    if (strcmp(lines->line[0], head) != 0)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = path},
                                "is of other files, another study, version or count of samples; "
                                "take another folder, or remove it");
    for (int i = 1; i < lines->n_line && status == GRADIN_OK; i++)
        status = take_row(arena, study, lines->line[i], row, n_row);
    return status == GRADIN_OK ? status : out_of_memory(error);
}

gradin_status gradin_sweep_journal_begin(gradin_arena *arena, const char *path, const char *digest,
                                         const gradin_journal_lines *lines, gradin_journal *journal,
                                         gradin_error *error) {
    char head[80];
    if (NEEDS(error, arena, path, digest, lines, journal) != GRADIN_OK) return GRADIN_BAD_USE;
    if (lines->n_line > 0) return gradin_journal_begin(arena, path, lines, journal, error);
    if (strlen(digest) != DIGEST_CHARS)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a journal needs its digest");
    print_head(head, sizeof head, digest);
    const char *const line[] = {head};
    return gradin_journal_begin(arena, path, &(gradin_journal_lines){line, 1, 0}, journal, error);
}

gradin_status gradin_sweep_journal_add(gradin_journal *journal, const gradin_study *study,
                                       const gradin_sweep_row *row, gradin_error *error) {
    char line[GRADIN_MAX_JOURNAL_LINE];
    if (NEEDS(error, journal, study, row) != GRADIN_OK) return GRADIN_BAD_USE;
    if (!row->refused && NEEDS(error, row->figure) != GRADIN_OK) return GRADIN_BAD_USE;
    print_row(study, row, line, sizeof line);
    return gradin_journal_add(journal, line, error);
}
