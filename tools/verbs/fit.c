/* gradin fit LAYOUT [--out DIR]: open edges, rows, exits and routes, against the venue's own stated
 * rules. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/render.h"
#include "gradin/table.h"

typedef struct fit_options {
    const char *out_dir;
    int units, format; /* gradin_csv_units, gradin_picture */
    bool is_json, is_quiet;
} fit_options;

enum { N_OUTPUT = 4 };

static gradin_status check(const char *file, const fit_options *o, gradin_arena *arena,
                           gradin_fit *fit, char **text, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    size_t size;
    if (!model) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status == GRADIN_OK) status = gradin_fit_check(arena, model, fit, error);
    if (status == GRADIN_OK) status = gradin_fit_routes(arena, fit, error);
    if (status != GRADIN_OK) return status;
    return o->is_json ? gradin_fit_json(arena, fit, text, &size, error)
                      : gradin_fit_text(arena, fit, text, error);
}

static gradin_status make_outputs(const fit_options *o, gradin_arena *arena, const gradin_fit *fit,
                                  result_file out[N_OUTPUT], gradin_error *error) {
    gradin_csv_units units = (gradin_csv_units)o->units;
    char *routes, *edges, *json;
    unsigned char *plan;
    gradin_status status = gradin_routes_csv(arena, fit, units, &routes, &out[0].size, error);
    if (status == GRADIN_OK)
        status = gradin_edges_csv(arena, fit, units, &edges, &out[1].size, error);
    if (status == GRADIN_OK) status = gradin_fit_json(arena, fit, &json, &out[2].size, error);
    if (status == GRADIN_OK)
        status =
            gradin_fit_picture(arena, fit, (gradin_picture)o->format, &plan, &out[3].size, error);
    if (status != GRADIN_OK) return status;
    out[0].name = "routes.csv", out[0].bytes = routes;
    out[1].name = "edges.csv", out[1].bytes = edges;
    out[2].name = "fit.json", out[2].bytes = json;
    out[3].name = picture_file(arena, "fit", o->format), out[3].bytes = plan;
    return GRADIN_OK;
}

static int write_files(const fit_options *o, gradin_arena *arena, const gradin_fit *fit,
                       gradin_error *error) {
    result_file out[N_OUTPUT];
    gradin_status status = make_outputs(o, arena, fit, out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    return report(write_results(o->out_dir, out, N_OUTPUT, arena, error), error);
}

static int print_all(const fit_options *o, gradin_arena *arena, const char *text) {
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    int result = print_out(text);
    if (result != EXIT_DONE || o->is_json || !o->out_dir) return result;
    const char *line =
        gradin_arena_print(arena, "\nwritten to %s: fit.%s, routes.csv, edges.csv, fit.json\n",
                           o->out_dir, format_words[o->format]);
    return line ? print_out(line) : EXIT_MACHINE;
}

static int fit_one(const char *file, const fit_options *o, gradin_arena *arena,
                   gradin_error *error) {
    gradin_fit fit;
    char *text;
    gradin_status status = check(file, o, arena, &fit, &text, error);
    if (status != GRADIN_OK) return report(status, error);
    say_notes(fit.model, NULL);
    int result = o->out_dir ? write_files(o, arena, &fit, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_all(o, arena, text);
    return result == EXIT_DONE && !fit.is_met ? EXIT_LIMIT : result;
}

static int fit(const void *options, const operands *given, gradin_arena *arena,
               gradin_error *error) {
    return fit_one(given->text[0], options, arena, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};
static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(fit_options, out_dir),
     .meaning = "folder for a plan, the tables routes.csv and edges.csv, and fit.json, "
                "made when it is not there"},
    UNITS_OPTION(fit_options, units),
    FORMAT_OPTION(fit_options, format),
    JSON_OPTION(fit_options, is_json),
    QUIET_OPTION(fit_options, is_quiet)};
static const example_form examples[] = {
    {"gradin fit thrust.yaml", "the rough checks of a layout"},
    {"gradin fit thrust.yaml --out checks", "the same, with the plan of the routes and tables"}};

const verb_form fit_verb = {
    .name = "fit",
    .summary = "check edges, rows, ways out and loads by the venue's rules",
    .description =
        "Lists every edge that opens at a height without a rail, rows too long for their aisles or "
        "too close to each other, places for wheelchairs and companions, exits and vomitories that "
        "are not free, the clear exit width, the way from each row and each place for a wheelchair "
        "to an exit (its length and its narrowest clear width; without steps for wheelchairs), "
        "aisles that lead nowhere, and loads over what the "
        "venue states that a lift, a tower, a panel or the floor may bear. All is held against the "
        "venue's own local_rules; what no rule is stated for is told without a verdict, but a row "
        "or a "
        "place for a wheelchair with no way out at all is a failure. Edges are listed and never "
        "judged.\n\n"
        "A rough check approves nothing: the local code and a licensed professional decide.",
    .limit = "a row, a place for a wheelchair, an exit width, a route, a vomitory or a load does "
             "not meet what the venue states, or a row or place has no way out",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(fit_options),
    .run = fit};
