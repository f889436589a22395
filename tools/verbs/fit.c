/* gradin fit LAYOUT: open edges, rows, exits, against the venue's own stated rules. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/table.h"

typedef struct fit_options {
    bool is_json, is_quiet;
} fit_options;

static gradin_status check(const char *file, const fit_options *o, gradin_arena *arena,
                           gradin_fit *fit, char **text, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    size_t size;
    if (!model) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status == GRADIN_OK) status = gradin_fit_check(arena, model, fit, error);
    if (status != GRADIN_OK) return status;
    return o->is_json ? gradin_fit_json(arena, fit, text, &size, error)
                      : gradin_fit_text(arena, fit, text, error);
}

static int fit_one(const char *file, const fit_options *o, gradin_arena *arena,
                   gradin_error *error) {
    gradin_fit fit;
    char *text;
    gradin_status status = check(file, o, arena, &fit, &text, error);
    if (status != GRADIN_OK) return report(status, error);
    for (int i = 0; i < fit.model->n_note && !o->is_quiet; i++) say("note: %s", fit.model->note[i]);
    int result = o->is_quiet && !o->is_json ? EXIT_DONE : print_out(text);
    return result == EXIT_DONE && !fit.is_met ? EXIT_LIMIT : result;
}

static int fit(const void *options, const operands *given, gradin_arena *arena,
               gradin_error *error) {
    return fit_one(given->text[0], options, arena, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};
static const option_form options[] = {JSON_OPTION(fit_options, is_json),
                                      QUIET_OPTION(fit_options, is_quiet)};
static const example_form examples[] = {{"gradin fit thrust.yaml", "the rough checks of a layout"}};

const verb_form fit_verb = {
    .name = "fit",
    .summary = "check edges, rows, exits and loads by the venue's rules",
    .description =
        "Lists every edge that opens at a height without a rail, rows too long for their aisles or "
        "too close to each other, places for wheelchairs and companions, exits and vomitories that "
        "are not free, the clear exit width, and loads over what the "
        "venue states that a lift, a tower, a panel or the floor may bear. All is held against the "
        "venue's own local_rules. Edges are listed and never judged.\n\n"
        "A rough check approves nothing: the local code and a licensed professional decide.",
    .limit = "a row, a place for a wheelchair, an exit width, a vomitory or a load does not meet "
             "what the venue states",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(fit_options),
    .run = fit};
