/* gradin rails LAYOUT --out DIR: how high rails could be, and what overhangs cut off. */
#include "command.h"
#include "gradin/files.h"

typedef struct rails_options {
    const char *out_dir;
    int units;
    bool is_json, is_quiet;
} rails_options;

typedef struct rails_output {
    char *rails, *overhangs, *text, *json;
    size_t rails_size, overhangs_size, json_size;
} rails_output;

static gradin_status compute(const char *file, gradin_csv_units units, gradin_arena *arena,
                             rails_output *out, gradin_error *error) {
    gradin_model model;
    gradin_rail_limits limits;
    gradin_overhangs over;
    gradin_status s = gradin_model_read(arena, file, &model, error);
    if (s == GRADIN_OK) s = gradin_rail_limits_compute(arena, &model, &limits, error);
    if (s == GRADIN_OK) s = gradin_overhangs_compute(arena, &model, &over, error);
    if (s == GRADIN_OK)
        s = gradin_rails_csv(arena, &model, &limits, units, &out->rails, &out->rails_size, error);
    if (s == GRADIN_OK)
        s = gradin_overhangs_csv(arena, &model, &over, units, &out->overhangs, &out->overhangs_size,
                                 error);
    if (s == GRADIN_OK) s = gradin_rails_text(arena, &model, &limits, &over, &out->text, error);
    if (s == GRADIN_OK)
        s = gradin_rails_json(arena, &model, &limits, &over, &out->json, &out->json_size, error);
    return s;
}

static int write_all(const char *dir, gradin_arena *arena, const rails_output *out,
                     gradin_error *error) {
    int result = open_results(dir);
    if (result != EXIT_DONE) return result;
    const result_file file[] = {{"rails.csv", out->rails, out->rails_size},
                                {"overhangs.csv", out->overhangs, out->overhangs_size}};
    return report(write_results(dir, file, 2, arena, error), error);
}

static int rails(const void *options, const operands *given, gradin_arena *arena,
                 gradin_error *error) {
    const rails_options *o = options;
    rails_output out = {0};
    gradin_status status = compute(given->text[0], (gradin_csv_units)o->units, arena, &out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = write_all(o->out_dir, arena, &out, error);
    if (result != EXIT_DONE) return result;
    if (o->is_json) return print_out(out.json);
    if (o->is_quiet) return EXIT_DONE;
    const char *line = gradin_arena_print(arena, "%s\nwritten to %s: rails.csv, overhangs.csv\n",
                                          out.text, o->out_dir);
    return line ? print_out(line) : EXIT_MACHINE;
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(rails_options, out_dir),
     .is_required = true,
     .meaning = "folder for rails.csv and overhangs.csv, made when it is not there"},
    UNITS_OPTION(rails_options, units),
    JSON_OPTION(rails_options, is_json),
    QUIET_OPTION(rails_options, is_quiet)};

static const example_form examples[] = {
    {"gradin rails end_stage.yaml --out rails", "rails and overhangs of a layout"}};

const verb_form rails_verb = {
    .name = "rails",
    .summary = "find how high rails could be, and what overhangs hide",
    .description =
        "Gives for each seat the rails that hide something from it, what each hides, what would be "
        "seen as well if that rail alone were away, and its highest top that hides nothing with "
        "everything else as it is. No height below the venue's own minimum is ever given. For each "
        "row it gives how many seats lose the top of "
        "the arch's opening or of a set piece under a deck overhead.\n\n"
        "These are figures of geometry and no advice: a lower rail is no sightline fix without "
        "the authority's approval.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(rails_options),
    .run = rails};
