/* gradin choose SHOW LAYOUT...: which layout a show is played in. */
#include "choose_files.h"
#include "gradin/files.h"
#include "gradin/studies/choose_write.h"
#include "progress.h"

#include <omp.h>
#include <stdio.h>

typedef struct choose_options {
    const char *out_dir, *cache;
    int n_sample, n_draw, n_node, n_thread; /* n_thread 0: all cores */
    bool is_drafting, is_without_crews, is_json, is_quiet;
} choose_options;

typedef struct job {
    const choose_options *o;
    const char *const *layout; /* [n] */
    const char *drafted[GRADIN_N_FORM], *venue;
    int n;
    chosen made;
} job;

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status compute(job *j, const char *path, gradin_arena *arena, gradin_error *error) {
    const choose_options *o = j->o;
    gradin_choose_options how = {.sight = {.n_sample = o->n_sample,
                                           .n_draw = o->n_draw,
                                           .progress = progress_count,
                                           .progress_user = progress_seats},
                                 .room_cache = o->cache,
                                 .finds_crew = !o->is_without_crews,
                                 .n_node = o->n_node};
    gradin_status status = gradin_show_read(arena, path, &j->made.show, error);
    if (status == GRADIN_OK && o->is_drafting)
        status =
            draft_for_show(arena, &j->made.show, j->venue, o->out_dir, j->drafted, &j->n, error);
    return status == GRADIN_OK ? choose_files(arena, j->layout, j->n, &how, &j->made, error)
                               : status;
}

static int write_files(const job *j, gradin_arena *arena, gradin_error *error) {
    result_file out[4] = {{.name = "choice.csv"},
                          {.name = "musts.csv"},
                          {.name = "held_back.csv"},
                          {.name = "choice.json"}};
    char *text[4];
    gradin_status status = gradin_choice_csv(arena, &j->made.choice, &text[0], &out[0].size, error);
    if (status == GRADIN_OK)
        status = gradin_choice_musts_csv(arena, &j->made.choice, &text[1], &out[1].size, error);
    if (status == GRADIN_OK)
        status = gradin_choice_held_csv(arena, &j->made.choice, &text[2], &out[2].size, error);
    if (status == GRADIN_OK)
        status = gradin_choice_json(arena, &j->made.choice, &text[3], &out[3].size, error);
    if (status != GRADIN_OK) return report(status, error);
    for (int k = 0; k < 4; k++) out[k].bytes = text[k];
    int result = j->o->is_drafting ? EXIT_DONE : open_results(j->o->out_dir);
    if (result != EXIT_DONE) return result;
    return report(write_results(j->o->out_dir, out, 4, arena, error), error);
}

static int print_choice(const job *j, gradin_arena *arena, gradin_error *error) {
    char *text;
    size_t size;
    if (j->o->is_quiet && !j->o->is_json) return EXIT_DONE;
    gradin_status status = j->o->is_json
                               ? gradin_choice_json(arena, &j->made.choice, &text, &size, error)
                               : gradin_choice_text(arena, &j->made.choice, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static void print_notes(const job *j) {
    say_show_notes(&j->made);
    for (int i = 0; i < j->n; i++) {
        const gradin_assessment *a = &j->made.choice.candidate[i].assessment;
        say_notes(&j->made.model[i], a->has_noise ? a->noise.cache_note : NULL);
    }
}

/* The folder is there before the drafts are. */
static int begin_drafts(job *j) {
    j->venue = j->layout[0];
    j->layout = j->drafted;
    if (j->o->out_dir) return open_results(j->o->out_dir);
    say("choose: --draft needs --out: the drafts are written there");
    return EXIT_INPUT;
}

/* What the user goes on with. */
static int tell_drafts(const job *j) {
    char line[1024];
    if (!j->o->is_drafting || j->o->is_quiet || j->o->is_json) return EXIT_DONE;
    snprintf(line, sizeof line,
             "\nThe drafts are in %s, each with the wishes it was made of: starts to edit, and to "
             "choose\nfrom again.\n",
             j->o->out_dir);
    return print_out(line);
}

static int choose(const void *options, const operands *given, gradin_arena *arena,
                  gradin_error *error) {
    job *j = gradin_arena_alloc(arena, 1, sizeof *j);
    if (!j) return report(out_of_memory(error), error);
    *j = (job){.o = options, .layout = given->text + 1, .n = given->n - 1};
    if (j->o->is_drafting) {
        int opened = begin_drafts(j);
        if (opened != EXIT_DONE) return opened;
    }
    if (j->o->n_thread > 0) omp_set_num_threads(j->o->n_thread);
    gradin_status status = compute(j, given->text[0], arena, error);
    if (status != GRADIN_OK) return report(status, error);
    print_notes(j);
    int result = j->o->out_dir ? write_files(j, arena, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_choice(j, arena, error);
    if (result == EXIT_DONE) result = tell_drafts(j);
    return result == EXIT_DONE && j->made.choice.n_meets == 0 ? EXIT_LIMIT : result;
}

static const usage_form usages[] = {
    {.need = "a show and one to twelve layouts are needed",
     .operand = {{"SHOW", OPERAND_YAML, 1, 1}, {"LAYOUT", OPERAND_YAML, 1, GRADIN_MAX_CANDIDATE}}},
    {.selector = "--draft",
     .need = "a show and a venue are needed",
     .operand = {{"SHOW", OPERAND_YAML, 1, 1}, {"VENUE", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(choose_options, out_dir),
     .meaning = "folder for choice.csv, musts.csv, held_back.csv and choice.json, made when it is "
                "not there"},
    {.name = "--draft",
     AS_FLAG(choose_options, is_drafting),
     .meaning =
         "where no layout is there yet: draft one of each form that the show allows, in this "
         "venue, into the folder of --out, and choose among them"},
    SAMPLES_OPTION(choose_options, n_sample, "; more of them leave fewer seats open"),
    {.name = "--draws",
     .value = "N",
     AS_INTEGER(choose_options, n_draw),
     .least = 1,
     .most = GRADIN_MAX_DRAW,
     .absent = "none",
     .meaning = "audiences to draw, the same for all layouts"},
    {.name = "--no-crews",
     AS_FLAG(choose_options, is_without_crews),
     .meaning = "do not look for the crew with which a changeover would fit"},
    NODES_OPTION(choose_options, n_node),
    THREADS_OPTION(choose_options, n_thread),
    CACHE_OPTION(choose_options, cache),
    JSON_OPTION(choose_options, is_json),
    QUIET_OPTION(choose_options, is_quiet)};

static const example_form examples[] = {
    {"gradin choose quiet_play.yaml thrust.yaml round.yaml", "which of two layouts for a show"},
    {"gradin choose quiet_play.yaml *.yaml --out chosen",
     "which of all, with tables of needs and of seats to hold back"},
    {"gradin choose quiet_play.yaml --draft hall.yaml --out drafts", "drafts for a show, ranked"}};

const verb_form choose_verb = {
    .name = "choose",
    .summary = "say which layout a show is played in, and why",
    .description =
        "Holds each layout against what the show must have: each figure stands beside its need, "
        "and is too near to tell where samples, levels or plans leave it open. Layouts that have "
        "all are ranked by the show's wishes and their weights. Errors are drawn for all layouts "
        "together, so that a difference which they make is called no difference. For each layout "
        "that lacks something it says the smallest change that would let it in.\n\n"
        "It approves nothing: rails, egress, loads and moving machinery are for the local code, "
        "and levels are predictions.",
    .limit = "no layout surely has all that the show must have",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(choose_options),
    .run = choose};
