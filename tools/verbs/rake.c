/* gradin rake LAYOUT --block NAME --c LENGTH --out DIR: the risers a block needs for a wanted C. */
#include "command.h"
#include "gradin/files.h"

#include <string.h>

typedef struct rake_options {
    const char *block, *out_dir;
    double c, step;          /* in the layout's unit; step 0: STEP_M */
    int form, units, format; /* gradin_rake_form, gradin_csv_units, gradin_picture */
    bool is_json, is_quiet;
} rake_options;

static const double STEP_M = 0.01;

typedef struct rake_output {
    char *csv, *text, *json;
    unsigned char *section;
    size_t csv_size, json_size, section_size;
} rake_output;

/* The lines of the layout that set the rake: entries of its lifts, or base and risers of the block.
 */
static gradin_status write_lines(gradin_arena *arena, const gradin_rake *rake, char **lines,
                                 gradin_error *error) {
    const char *units = rake->model->units;
    const gradin_write_options options = {.is_rounded = true, .decimals = units[0] == 'f' ? 4 : 3};
    const gradin_lift_setting *set;
    int n_set;
    gradin_status status = gradin_rake_settings(arena, rake, &set, &n_set, error);
    if (status != GRADIN_OK) return status;
    if (n_set > 0)
        return gradin_lift_settings_write(arena, set, n_set, units, &options, lines, error);
    double rise_m[GRADIN_MAX_RAKE_ROW] = {0.0};
    for (int k = 1; k < rake->n_row; k++) rise_m[k] = rake->row[k].riser_m;
    return gradin_block_rises_write(arena, rake->row[0].floor_m, rise_m, rake->n_row, units,
                                    &options, lines, error);
}

static gradin_status compute(const rake_options *o, const char *file, gradin_arena *arena,
                             gradin_model *model, gradin_rake *rake, rake_output *out,
                             gradin_error *error) {
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status != GRADIN_OK) return status;
    double unit_m = strcmp(model->units, "ft") == 0 ? GRADIN_FOOT_M : 1.0;
    gradin_rake_options wanted = {.block = o->block,
                                  .c_m = o->c * unit_m,
                                  .step_m = o->step > 0.0 ? o->step * unit_m : STEP_M,
                                  .form = (gradin_rake_form)o->form};
    status = gradin_rake_compute(arena, model, &wanted, rake, error);
    if (status == GRADIN_OK)
        status = gradin_rake_csv(arena, rake, (gradin_csv_units)o->units, &out->csv, &out->csv_size,
                                 error);
    char *lines = NULL;
    if (status == GRADIN_OK) status = write_lines(arena, rake, &lines, error);
    if (status == GRADIN_OK) status = gradin_rake_text(arena, rake, lines, &out->text, error);
    if (status == GRADIN_OK)
        status = gradin_rake_json(arena, rake, &out->json, &out->json_size, error);
    if (status == GRADIN_OK)
        status = gradin_rake_picture(arena, rake, (gradin_picture)o->format, &out->section,
                                     &out->section_size, error);
    return status;
}

static int write_all(const rake_options *o, gradin_arena *arena, const rake_output *out,
                     gradin_error *error) {
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    const result_file file[] = {
        {"rake.csv", out->csv, out->csv_size},
        {picture_file(arena, "rake", o->format), out->section, out->section_size}};
    return report(write_results(o->out_dir, file, 2, arena, error), error);
}

static int print_all(const rake_options *o, gradin_arena *arena, const rake_output *out) {
    if (o->is_json) return print_out(out->json);
    if (o->is_quiet) return EXIT_DONE;
    const char *line = gradin_arena_print(arena, "\nwritten to %s: rake.csv, rake.%s\n", o->out_dir,
                                          format_words[o->format]);
    int result = print_out(out->text);
    if (result != EXIT_DONE || !line) return line ? result : EXIT_MACHINE;
    return print_out(line);
}

static int rake_one(const rake_options *o, const char *file, gradin_arena *arena,
                    gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    gradin_rake *found = gradin_arena_alloc(arena, 1, sizeof *found);
    rake_output out = {0};
    if (!model || !found) return report(GRADIN_NO_MEMORY, error);
    gradin_status status = compute(o, file, arena, model, found, &out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = write_all(o, arena, &out, error);
    if (result == EXIT_DONE) result = print_all(o, arena, &out);
    return result == EXIT_DONE && !found->is_reached ? EXIT_LIMIT : result;
}

static int rake(const void *options, const operands *given, gradin_arena *arena,
                gradin_error *error) {
    return rake_one(options, given->text[0], arena, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const char *const forms[] = {
    [GRADIN_RAKE_CONSTANT_C] = "constant-c", [GRADIN_RAKE_CONSTANT_RISER] = "constant-riser", NULL};

static const option_form options[] = {
    {.name = "--block",
     .value = "NAME",
     AS_TEXT(rake_options, block),
     .is_required = true,
     .meaning = "block of seats to rake"},
    {.name = "--c",
     .value = "LENGTH",
     AS_NUMBER(rake_options, c),
     .unit = "m or ft",
     .most = 1,
     .is_above_least = true,
     .is_required = true,
     .meaning = "wanted C of every seat over whoever is in front, in the layout's own unit, as "
                "c_value in a file of wishes"},
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(rake_options, out_dir),
     .is_required = true,
     .meaning = "folder for rake.csv and a drawing of the section, made when it is not there"},
    {.name = "--form",
     .value = "FORM",
     AS_CHOICE(rake_options, form),
     .choice = forms,
     .preset = GRADIN_RAKE_CONSTANT_C,
     .is_preset_shown = true,
     .meaning = "the same C in every row, or one riser for all rows"},
    {.name = "--step",
     .value = "LENGTH",
     AS_NUMBER(rake_options, step),
     .unit = "m or ft",
     .least = 0.001,
     .most = 0.5,
     .absent = "10 mm",
     .meaning = "heights are whole steps of this, in the layout's own unit"},
    UNITS_OPTION(rake_options, units),
    FORMAT_OPTION(rake_options, format),
    JSON_OPTION(rake_options, is_json),
    QUIET_OPTION(rake_options, is_quiet)};

static const example_form examples[] = {
    {"gradin rake thrust.yaml --block South --c 0.09 --out rake",
     "90 mm over the person in front for every seat of the block South"}};

const verb_form rake_verb = {
    .name = "rake",
    .summary = "find the risers that give a block a wanted C-value",
    .description =
        "Finds how high each row of a block must stand for every seat to have the wanted C over "
        "whoever is in front of it, as assess finds them, and so for the section through the "
        "middle: as the lifts under it can be set, within their travel, in whole steps, the treads "
        "of one section rising evenly. The first row stays where it is, unless its seats look over "
        "people of other blocks. A block on platforms gets its risers; the rows of a tower are "
        "fixed. The seat that governs is named.\n\n"
        "When no setting reaches the wanted C, the best one is given with what stands in the way.",
    .limit = "no setting reaches the wanted C at every seat",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(rake_options),
    .run = rake};
