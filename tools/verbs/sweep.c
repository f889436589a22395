/* gradin sweep STUDY: every point of a study, kept on the disk as it is worked out. */
#include "gradin/studies/sweep.h"
#include "command.h"
#include "gradin/files.h"
#include "gradin/studies/seek.h"
#include "gradin/studies/sweep_plot.h"
#include "gradin/studies/sweep_write.h"
#include "progress.h"

#include <omp.h>
#include <stdio.h>
#include <string.h>

static const char journal_name[] = "journal.txt";

typedef struct sweep_options {
    const char *out_dir, *cache, *shard;
    int n_sample, n_thread, format; /* n_thread 0: all cores */
    bool is_join, is_seek, is_from_scratch, is_json, is_quiet;
} sweep_options;

typedef struct job {
    const sweep_options *o;
    gradin_study study;
    gradin_sweep_options how;
    char digest[33];
    int n_point, *order;   /* [n_point] */
    int part, n_part;      /* 1-based */
    gradin_sweep_row *row; /* [n_point] by point; point -1: not worked out */
    gradin_sought sought;  /* of a search */
    gradin_sweep *sweep;
    gradin_journal *journal;
    gradin_arena *arena;
    gradin_error *error;
} job;

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* "2/8"; all of it without. */
static bool parse_shard(job *j) {
    char end;
    j->part = j->n_part = 1;
    if (!j->o->shard) return true;
    if (sscanf(j->o->shard, "%4d/%4d%c", &j->part, &j->n_part, &end) == 2 && j->n_part >= 1 &&
        j->part >= 1 && j->part <= j->n_part)
        return true;
    say("sweep: --shard %s: a part and how many there are is needed, such as 2/8", j->o->shard);
    return false;
}

/* A search picks its points as it goes; all others are known. */
static gradin_status prepare_search(job *j) {
    gradin_study_inputs in;
    if (!j->o->is_seek) {
        if (gradin_study_points(&j->study) > 0) return GRADIN_OK;
        return gradin_error_add(j->error, GRADIN_BAD_INPUT, &(gradin_place){.file = j->study.file},
                                "has a range without a step: it can only be searched (--seek)");
    }
    if (j->study.search.n_most == 0)
        return gradin_error_add(j->error, GRADIN_BAD_INPUT, &(gradin_place){.file = j->study.file},
                                "states no search, such as search: {points: 200}");
    gradin_status status = gradin_study_point_read(j->arena, &j->study, -1, &in, j->error);
    return status == GRADIN_OK ? gradin_seek_begin(j->arena, &j->study, &in.model, j->error)
                               : status;
}

static gradin_status prepare(job *j, const char *path) {
    gradin_status status = gradin_study_read(j->arena, path, &j->study, j->error);
    if (status == GRADIN_OK) status = prepare_search(j);
    if (status != GRADIN_OK) return status;
    j->how = (gradin_sweep_options){.read = gradin_study_point_read,
                                    .n_sample = j->o->n_sample,
                                    .room_cache = j->o->cache,
                                    .is_from_scratch = j->o->is_from_scratch,
                                    .keeps_checks = j->o->is_seek};
    j->n_point = gradin_study_points(&j->study);
    j->row = gradin_arena_alloc(j->arena, (size_t)j->n_point, sizeof *j->row);
    if (!j->row) return out_of_memory(j->error);
    for (int i = 0; i < j->n_point; i++) j->row[i].point = -1;
    if (j->o->is_seek && j->study.picture_figure >= 0)
        say("note: a search draws its own picture: the points that it tries lie on no grid");
    status = gradin_sweep_order(j->arena, &j->study, &j->order, j->error);
    if (status != GRADIN_OK) return status;
    return gradin_sweep_digest(j->arena, &j->study, &j->how, j->digest, j->error);
}

static const char *journal_path(job *j, const char *dir) {
    return gradin_arena_print(j->arena, "%s/%s", dir, journal_name);
}

static gradin_status read_journal(job *j, const char *dir, gradin_journal_lines *lines) {
    const char *path = journal_path(j, dir);
    if (!path) return out_of_memory(j->error);
    gradin_status status = gradin_sweep_journal_read(j->arena, path, &j->study, j->digest, j->row,
                                                     j->n_point, lines, j->error);
    if (status == GRADIN_OK && lines->n_damaged > 0)
        say("note: %s: %d damaged lines are left out; their points are worked out again", path,
            lines->n_damaged);
    return status;
}

static gradin_status work_point(job *j, int point) {
    gradin_sweep_row *row = &j->row[point];
    if (row->point >= 0) return GRADIN_OK; /* the journal has it */
    gradin_status status = gradin_sweep_point(j->arena, j->sweep, point, row, j->error);
    return status == GRADIN_OK ? gradin_sweep_journal_add(j->journal, &j->study, row, j->error)
                               : status;
}

static gradin_status try_point(void *user, int point, gradin_error *error) {
    job *j = user;
    progress_count(progress_points, point, j->n_point);
    if (j->row[point].point >= 0 && !gradin_sweep_is_of(&j->study, &j->row[point]))
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = j->o->out_dir},
                                "the journal is of a search that went another way, by another "
                                "processor or library; take another folder, or remove it");
    return work_point(j, point);
}

static gradin_status work_search(job *j) {
    gradin_status status =
        gradin_seek(j->arena, &j->study, j->row, try_point, j, &j->sought, j->error);
    if (status != GRADIN_OK) return status;
    j->n_point = j->study.n_chosen;
    return gradin_sweep_point(j->arena, j->sweep, -1, &j->sought.as_written, j->error);
}

static gradin_status work_part(job *j) {
    long from = (long)j->n_point * (j->part - 1) / j->n_part;
    long to = (long)j->n_point * j->part / j->n_part;
    gradin_status status = GRADIN_OK;
    for (long k = from; k < to && status == GRADIN_OK; k++) {
        progress_count(progress_points, (int)(k - from), (int)(to - from));
        status = work_point(j, j->order[k]);
    }
    return status;
}

static gradin_status work(job *j) {
    gradin_journal journal = {.fd = -1};
    gradin_journal_lines lines;
    gradin_sweep sweep;
    gradin_status status = read_journal(j, j->o->out_dir, &lines);
    if (status == GRADIN_OK)
        status = gradin_sweep_journal_begin(j->arena, journal_path(j, j->o->out_dir), j->digest,
                                            &lines, &journal, j->error);
    if (status != GRADIN_OK) return status;
    status = gradin_sweep_begin(&j->study, &j->how, &sweep, j->error);
    j->sweep = &sweep;
    j->journal = &journal;
    if (status == GRADIN_OK) status = j->o->is_seek ? work_search(j) : work_part(j);
    gradin_sweep_end(&sweep);
    gradin_journal_end(&journal);
    return status;
}

/* False after a line on what is missing. */
static bool is_whole(const job *j) {
    int n = 0, first = -1;
    for (int i = j->n_point - 1; i >= 0; i--)
        if (j->row[i].point < 0) {
            first = i;
            n++;
        }
    if (n > 0)
        say("sweep: %d of %d points are missing, the first of them %d: run the shards that have "
            "them again",
            n, j->n_point, first);
    return n == 0;
}

static int write_files(job *j, const gradin_sweep_result *result) {
    result_file out[5] = {{.name = "points.csv"},
                          {.name = "effects.csv"},
                          {.name = "sweep.json"},
                          {.name = picture_file(j->arena, "response", j->o->format)},
                          {.name = picture_file(j->arena, "search", j->o->format)}};
    char *text[3];
    unsigned char *picture = NULL, *searched = NULL;
    gradin_status status = gradin_sweep_csv(j->arena, result, &text[0], &out[0].size, j->error);
    if (status == GRADIN_OK)
        status = gradin_sweep_effects_csv(j->arena, result, &text[1], &out[1].size, j->error);
    if (status == GRADIN_OK)
        status = gradin_sweep_json(j->arena, result, &text[2], &out[2].size, j->error);
    if (status == GRADIN_OK && gradin_sweep_plot_applies(result))
        status = gradin_sweep_plot_picture(j->arena, result, (gradin_picture)j->o->format, &picture,
                                           &out[3].size, j->error);
    if (status == GRADIN_OK && gradin_seek_plot_applies(result))
        status = gradin_seek_plot_picture(j->arena, result, (gradin_picture)j->o->format, &searched,
                                          &out[4].size, j->error);
    if (status != GRADIN_OK) return report(status, j->error);
    for (int k = 0; k < 3; k++) out[k].bytes = text[k];
    out[3].bytes = picture;
    out[4].bytes = searched;
    return report(write_results(j->o->out_dir, out, 5, j->arena, j->error), j->error);
}

static int print_result(job *j, const gradin_sweep_result *result) {
    char *text;
    size_t size;
    if (j->o->is_quiet && !j->o->is_json) return EXIT_DONE;
    gradin_status status = j->o->is_json
                               ? gradin_sweep_json(j->arena, result, &text, &size, j->error)
                               : gradin_sweep_text(j->arena, result, &text, j->error);
    return status == GRADIN_OK ? print_out(text) : report(status, j->error);
}

static int finish(job *j) {
    gradin_sweep_result result;
    gradin_status status =
        gradin_sweep_sum(j->arena, &j->study, j->row, j->n_point, &result, j->error);
    if (status != GRADIN_OK) return report(status, j->error);
    if (j->o->is_seek) result.sought = &j->sought;
    int ended = write_files(j, &result);
    if (ended == EXIT_DONE) ended = print_result(j, &result);
    bool is_kept = j->study.n_bound == 0 || result.best_sure >= 0;
    return ended == EXIT_DONE && !is_kept ? EXIT_LIMIT : ended;
}

static int join(job *j, const operands *given) {
    for (int i = 1; i < given->n; i++) {
        gradin_journal_lines lines;
        gradin_status status = read_journal(j, given->text[i], &lines);
        if (status != GRADIN_OK) return report(status, j->error);
        if (lines.n_line == 0) {
            say("sweep: %s has no %s", given->text[i], journal_name);
            return EXIT_INPUT;
        }
    }
    if (!is_whole(j)) return EXIT_INPUT;
    int result = open_results(j->o->out_dir);
    return result == EXIT_DONE ? finish(j) : result;
}

static int run_part(job *j) {
    int result = open_results_alone(j->o->out_dir);
    if (result != EXIT_DONE) return result;
    gradin_status status = work(j);
    if (status != GRADIN_OK) return report(status, j->error);
    if (j->n_part == 1) return finish(j);
    if (!j->o->is_quiet)
        say("part %d of %d is done; join all parts with --join", j->part, j->n_part);
    return EXIT_DONE;
}

static int sweep(const void *options, const operands *given, gradin_arena *arena,
                 gradin_error *error) {
    job *j = gradin_arena_alloc(arena, 1, sizeof *j);
    if (!j) return report(out_of_memory(error), error);
    *j = (job){.o = options, .arena = arena, .error = error};
    if (j->o->is_seek && j->o->shard) {
        say("sweep: --seek goes from point to point: it has no parts");
        return EXIT_INPUT;
    }
    if (!parse_shard(j)) return EXIT_INPUT;
    if (j->o->n_thread > 0) omp_set_num_threads(j->o->n_thread);
    gradin_status status = prepare(j, given->text[0]);
    if (status != GRADIN_OK) return report(status, error);
    return j->o->is_join ? join(j, given) : run_part(j);
}

static const usage_form usages[] = {
    {.need = "one study is needed", .operand = {{"STUDY", OPERAND_YAML, 1, 1}}},
    {.selector = "--join",
     .need = "a study and the folders of its parts are needed",
     .operand = {{"STUDY", OPERAND_YAML, 1, 1}, {"DIR", OPERAND_FILE, 1, 10000}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(sweep_options, out_dir),
     .is_required = true,
     .meaning = "folder for points.csv, effects.csv, sweep.json, a picture of the response or of "
                "the search, and the journal, made when it is not there; a run that was stopped "
                "goes on there"},
    {.name = "--shard",
     .value = "I/N",
     AS_TEXT(sweep_options, shard),
     .usages = 1U << 0,
     .absent = "all points",
     .meaning = "work out one part of N alone, such as 2/8, and write its journal"},
    {.name = "--seek",
     AS_FLAG(sweep_options, is_seek),
     .usages = 1U << 0,
     .meaning = "search for the best point in place of trying all, as the study's search states"},
    {.name = "--join",
     AS_FLAG(sweep_options, is_join),
     .meaning = "put the journals of all parts together"},
    SAMPLES_OPTION(sweep_options, n_sample, ""),
    {.name = "--from-scratch",
     AS_FLAG(sweep_options, is_from_scratch),
     .usages = 1U << 0,
     .meaning = "take nothing from one point to the next; the figures are the same, and take "
                "longer"},
    FORMAT_OPTION(sweep_options, format),
    THREADS_OPTION(sweep_options, n_thread),
    CACHE_OPTION(sweep_options, cache),
    JSON_OPTION(sweep_options, is_json),
    QUIET_OPTION(sweep_options, is_quiet)};

static const example_form examples[] = {
    {"gradin sweep glazing.yaml --out glazing", "every point of a study"},
    {"gradin sweep glazing.yaml --shard 2/8 --out part2", "the second part of eight"},
    {"gradin sweep glazing.yaml --join part1 part2 --out whole", "the parts put together"},
    {"gradin sweep towers.yaml --seek --out towers", "a search, where there are too many points"}};

const verb_form sweep_verb = {
    .name = "sweep",
    .summary = "try many values of a hall's keys, and find the best",
    .description =
        "Takes keys of the venue, the layout, its brief, its overflight and the traffic through "
        "lists of values, steps or a design of points, and works out the figures that the study "
        "asks for at each. A key's change works out again only what depends on it. A point that "
        "the machines refuse is a line with its reason.\n\n"
        "Each point is on the disk before the next is begun: a run that was stopped goes on where "
        "it was. Parts may run on several machines and are joined; the tables are the same.\n\n"
        "With --seek a search picks the points: of machine settings, say, that are too many to "
        "try. It keeps interlocks, the lowest rail of the venue's own rules, and the rough checks "
        "that the layout as written meets. It finds the best of the points it tried.\n\n"
        "It approves nothing: rails, egress, loads and moving machinery are for the local code, "
        "and levels are predictions.",
    .limit = "no point surely keeps what the study needs",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(sweep_options),
    .run = sweep};
